// Package net holds small feed-forward networks with many yes-or-no outputs
// that share their hidden layers, and fits them by stochastic gradient descent
// (Adam: D. P. Kingma and J. Ba, ICLR 2015). The inputs are sparse: a spectrum
// has few peaks.
//
// For most uses call Net.Scores; Net.Slopes tells which inputs moved an
// output. Fit makes a network from data. The package knows nothing of spectra.
package net

import "fmt"

// Input is one input that isn't zero.
type Input struct {
	At    int32
	Value float32
}

// Net is a network of two hidden layers with rectifiers and linear outputs
// (log-odds). It is immutable after Fit or Read and safe for concurrent use.
type Net struct {
	in, one, two, out int
	w1, b1            []float32 // in × one, by input
	w2, b2            []float32 // one × two, by unit of the first layer
	w3, b3            []float32 // two × out, by unit of the second layer
}

// Inputs returns the number of inputs.
func (n *Net) Inputs() int { return n.in }

// Outputs returns the number of outputs.
func (n *Net) Outputs() int { return n.out }

// First returns the network with its first n outputs only. It panics if there
// are fewer.
func (n *Net) First(outputs int) *Net {
	cut := *n
	cut.out = outputs
	cut.b3 = n.b3[:outputs:outputs]
	cut.w3 = make([]float32, 0, n.two*outputs)
	for k := range n.two {
		cut.w3 = append(cut.w3, n.w3[k*n.out:k*n.out+outputs]...)
	}
	return &cut
}

// activations are the layers of one row.
type activations struct{ one, two, out []float32 }

func (n *Net) room() activations {
	return activations{make([]float32, n.one), make([]float32, n.two), make([]float32, n.out)}
}

// check panics on an input out of range: a programmer's mistake.
func (n *Net) check(row []Input) {
	for _, x := range row {
		if x.At < 0 || int(x.At) >= n.in {
			panic(fmt.Sprintf("net: input %d of %d", x.At, n.in))
		}
	}
}

func (n *Net) forward(row []Input, a activations) {
	copy(a.one, n.b1)
	for _, x := range row {
		axpy(x.Value, n.w1[int(x.At)*n.one:(int(x.At)+1)*n.one], a.one)
	}
	rectify(a.one)
	copy(a.two, n.b2)
	for i, v := range a.one {
		if v > 0 {
			axpy(v, n.w2[i*n.two:(i+1)*n.two], a.two)
		}
	}
	rectify(a.two)
	copy(a.out, n.b3)
	for i, v := range a.two {
		if v > 0 {
			axpy(v, n.w3[i*n.out:(i+1)*n.out], a.out)
		}
	}
}

// Scores returns the outputs, log-odds, of a row. It panics on an input out of
// range.
func (n *Net) Scores(row []Input) []float32 {
	n.check(row)
	a := n.room()
	n.forward(row, a)
	return a.out
}

// Slopes returns for each input of the row how much the output would change
// with it, times its value: the part it plays in the score, to first order.
// It panics on an input or output out of range.
func (n *Net) Slopes(row []Input, output int) []float32 {
	n.check(row)
	a := n.room()
	n.forward(row, a)
	two := make([]float32, n.two)
	for i, v := range a.two {
		if v > 0 {
			two[i] = n.w3[i*n.out+output]
		}
	}
	one := make([]float32, n.one)
	for i, v := range a.one {
		if v > 0 {
			one[i] = dot(n.w2[i*n.two:(i+1)*n.two], two)
		}
	}
	slopes := make([]float32, len(row))
	for k, x := range row {
		slopes[k] = x.Value * dot(n.w1[int(x.At)*n.one:(int(x.At)+1)*n.one], one)
	}
	return slopes
}

// axpy adds a*x to y.
func axpy(a float32, x, y []float32) {
	y = y[:len(x)]
	quads := len(x) &^ 3
	if quads > 0 {
		axpyQuads(a, &x[0], &y[0], quads)
	}
	for i := quads; i < len(x); i++ {
		y[i] += float32(a * x[i])
	}
}

func dot(x, y []float32) float32 {
	y = y[:len(x)]
	quads := len(x) &^ 3
	total := float32(0)
	if quads > 0 {
		var sums [16]float32
		dotQuads(&x[0], &y[0], quads, &sums)
		for _, v := range sums {
			total += v
		}
	}
	for i := quads; i < len(x); i++ {
		total += float32(x[i] * y[i])
	}
	return total
}

func rectify(x []float32) {
	for i, v := range x {
		if v < 0 {
			x[i] = 0
		}
	}
}
