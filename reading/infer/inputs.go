package infer

import (
	"math"
	"math/rand/v2"

	"ionwright/reading/net"
)

// The network's inputs: square roots of intensities at each m/z and at each
// distance below the molecular ion, of the sums over pairs, and the sums
// scaled to about 1; and the roots of the ratios of intensities, which are the
// harder to learn from the intensities the fewer spectra there are.
const (
	netTopMZ    = 420
	netLosses   = 170
	netMZ       = 0
	netLoss     = netMZ + netTopMZ + 1
	netStep     = netLoss + netLosses + 4
	netSeries   = netStep + mostStep + 1
	netSum      = netSeries + seriesStep
	netMassBits = netSum + len(sumNames)
	netRatio    = netMassBits + 32
	netInputs   = netRatio + ratioCount
)

// mostRatioValue is the ratio from which all are alike to the network.
const mostRatioValue = 4

// sumScales bring the sums to about 1.
var sumScales = [len(sumNames)]float32{
	1. / 250, 1, 1. / 100, 1, 2, 1, 1, 1. / 150, 1. / 100, 1, 1, 1, 1. / 50, 1. / 25, 1. / 200, 1. / 200, 1. / 200,
	1. / 50, 1. / 50, 1. / 40, 1. / 200, 1. / 150, 1. / 150, 1. / 120, 1. / 3, 1, 1. / 30, 1. / 50,
}

// netRow returns the network's inputs for a view and the candidates for the
// molecular ion. With random numbers it varies the spectrum as another
// recording might: weak peaks lost, intensities off, a later start.
func netRow(v *View, ions []Ion, row []float32, random *rand.Rand) []net.Input {
	out := make([]net.Input, 0, 256)
	add := func(at int, value float32) {
		if value != 0 {
			out = append(out, net.Input{At: int32(at), Value: value})
		}
	}
	start, threshold := 0, float32(0)
	if random != nil {
		if random.IntN(5) == 0 {
			start = 20 + random.IntN(30)
		}
		if random.IntN(3) == 0 {
			threshold = 2 * random.Float32()
		}
	}
	for mz := max(v.Low, 1, start); mz <= min(v.Top, netTopMZ); mz++ {
		if r := v.at(mz); r > threshold {
			x := float32(math.Sqrt(float64(r))) / 10
			if random != nil {
				x *= 0.9 + 0.2*random.Float32()
			}
			add(netMZ+mz, x)
		}
	}
	var losses [netLosses + 4]float32
	sum := 0.0
	for _, ion := range ions[:min(len(ions), ionsInPlay)] {
		sum += ion.Probability
	}
	for _, ion := range ions[:min(len(ions), ionsInPlay)] {
		w := float32(ion.Probability / sum)
		for d := -3; d <= netLosses; d++ {
			if r := v.at(ion.MZ - d); r > threshold && ion.MZ-d >= start {
				losses[d+3] += w * float32(math.Sqrt(float64(r))) / 10
			}
		}
		add(netMassBits+ion.MZ%28, w)
	}
	for k, x := range losses {
		add(netLoss+k, x)
	}
	for d := 1; d <= mostStep; d++ {
		add(netStep+d, float32(math.Sqrt(float64(row[stepStart+d-1])))/20)
	}
	for k := range seriesStep {
		add(netSeries+k, 2*row[seriesStart+k])
	}
	for k, x := range row[ratioStart:] {
		if x > 0 {
			add(netRatio+k, float32(math.Sqrt(float64(min(x, mostRatioValue))))/2)
		}
	}
	for k, scale := range sumScales {
		add(netSum+k, max(-1, min(row[sumStart+k]*scale, 3)))
	}
	return out
}

// NetRow exposes the network's inputs to the fit.
func NetRow(v *View, ions []Ion, row []float32, random *rand.Rand) []net.Input {
	return netRow(v, ions, row, random)
}
