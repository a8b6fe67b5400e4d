package main

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"math"
	"runtime"
	"slices"
	"strings"
	"sync"
	"time"

	"ionwright/ionize"
	"ionwright/mol/smiles"
	"ionwright/spectrum"
	"ionwright/spectrum/match"
)

// compared is one structure of the validation part: its computed spectrum and
// the measured ones, with the mean of each figure over the latter.
type compared struct {
	smiles, formula string
	mass            int
	classes         []string // functional groups
	computed        spectrum.Spectrum
	measured        []spectrum.Spectrum
	known           float64
	confidence      float64
	err             error
	a, b, c, d, e   float64
}

// baseline figures of the nearest-neighbours model (mean of the training
// spectra of the ten most similar structures), measured once on other
// held-back structures of the same data.
const nearestNeighbours = "nearest neighbours: A 0.744  B 0.729  C 0.465  D 0.634  E 18.9  F 0.83"

// spectraAccuracy prints the figures A to F of computed spectra on the
// validation part, by nominal mass, and the worst structures.
func spectraAccuracy(ctx context.Context, out io.Writer) error {
	all, err := validationStructures()
	if err != nil {
		return err
	}
	start := time.Now()
	if err := computeAll(ctx, all); err != nil {
		return err
	}
	elapsed := time.Since(start)
	var done []*compared
	refused := 0
	for _, s := range all {
		if s.err != nil {
			refused++
			fmt.Fprintf(out, "refused: %s: %v\n", s.smiles, s.err)
			continue
		}
		s.score()
		done = append(done, s)
	}
	fmt.Fprintf(out, "validation part: %d structures, %d refused, %.0f structures/s on %d cores\n\n",
		len(all), refused, float64(len(all))/elapsed.Seconds(), runtime.GOMAXPROCS(0))
	fmt.Fprintf(out, "%-26s %5s %7s %7s %7s %7s %7s\n", "nominal mass", "n", "A", "B", "C", "D", "E")
	for _, b := range bands() {
		var part []*compared
		for _, s := range done {
			if b.holds(s.mass) {
				part = append(part, s)
			}
		}
		printMeans(out, b.name, part)
	}
	printClasses(out, done)
	fmt.Fprintf(out, "baseline on other held-back structures: %s\n\n", nearestNeighbours)
	printIsomerChoice(out, done)
	printConfidence(out, done)
	printWorst(out, done)
	return nil
}

// printClasses prints the figures by class of compound, the worst first.
func printClasses(out io.Writer, done []*compared) {
	var classes [][]string
	for _, s := range done {
		classes = append(classes, s.classes)
	}
	type class struct {
		name string
		part []*compared
		a    float64
	}
	var all []class
	for _, name := range classNames(classes) {
		c := class{name: name}
		for _, s := range done {
			if slices.Contains(s.classes, name) {
				c.part = append(c.part, s)
				c.a += s.a
			}
		}
		c.a /= float64(len(c.part))
		all = append(all, c)
	}
	slices.SortStableFunc(all, func(x, y class) int { return cmp.Compare(x.a, y.a) })
	for _, c := range all {
		printMeans(out, c.name, c.part)
	}
}

func validationStructures() ([]*compared, error) {
	records, err := sharedRecords("train.jsonl.gz")
	if err != nil {
		return nil, err
	}
	var all []*compared
	known := map[string]*compared{}
	for _, r := range records {
		if r.Class() != 4 {
			continue
		}
		s := known[r.SMILES]
		if s == nil {
			s = &compared{smiles: r.SMILES, formula: r.Formula, mass: r.NominalMass}
			known[r.SMILES] = s
			all = append(all, s)
		}
		measured, err := measuredSpectrum(r)
		if err != nil {
			return nil, err
		}
		s.measured = append(s.measured, measured)
	}
	return all, nil
}

// computeAll computes the spectra on all cores.
func computeAll(ctx context.Context, all []*compared) error {
	next := make(chan *compared)
	var group sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		group.Go(func() {
			for s := range next {
				m, err := smiles.Parse(s.smiles)
				if err == nil {
					s.classes = classesOf(m)
					var p *ionize.Prediction
					if p, err = ionize.Predict(ctx, m, ionize.Settings{}); err == nil {
						s.computed, s.known, s.confidence = p.Spectrum(), p.Known, p.Confidence
					}
				}
				s.err = err
			}
		})
	}
	for _, s := range all {
		next <- s
	}
	close(next)
	group.Wait()
	return ctx.Err()
}

// score fills in the figures, each the mean over the measured spectra.
func (s *compared) score() {
	computed := match.View(s.computed)
	for _, m := range s.measured {
		measured := match.View(m)
		s.a += match.A(s.computed, m)
		s.b += match.B(s.computed, m)
		x, _ := computed.Base()
		y, _ := measured.Base()
		if x.MZ == y.MZ {
			s.c++
		}
		eight := computed.Strongest(8)
		five := measured.Strongest(5)
		for _, p := range five {
			if slices.ContainsFunc(eight, func(q spectrum.Peak) bool { return q.MZ == p.MZ }) {
				s.d += 1 / float64(len(five))
			}
		}
		s.e += math.Abs(computed.Relative(s.mass) - measured.Relative(s.mass))
	}
	n := float64(len(s.measured))
	s.a, s.b, s.c, s.d, s.e = s.a/n, s.b/n, s.c/n, s.d/n, s.e/n
}

func printMeans(out io.Writer, name string, part []*compared) {
	var sum compared
	for _, s := range part {
		sum.a += s.a
		sum.b += s.b
		sum.c += s.c
		sum.d += s.d
		sum.e += s.e
	}
	n := float64(max(len(part), 1))
	fmt.Fprintf(out, "%-26s %5d %7.3f %7.3f %7.3f %7.3f %7.1f\n", name, len(part), sum.a/n, sum.b/n, sum.c/n, sum.d/n, sum.e/n)
}

// printIsomerChoice prints figure F: among the structures of one formula in
// the set, is the true one's computed spectrum the nearest to the measured
// one?
func printIsomerChoice(out io.Writer, done []*compared) {
	rivals := map[string][]*compared{}
	for _, s := range done {
		rivals[s.formula] = append(rivals[s.formula], s)
	}
	n, first, reciprocal, chance := 0, 0.0, 0.0, 0.0
	for _, s := range done {
		group := rivals[s.formula]
		if len(group) < 2 {
			continue
		}
		n++
		chance += 1 / float64(len(group))
		for _, m := range s.measured {
			own, rank := match.A(s.computed, m), 1
			for _, other := range group {
				if other != s && match.A(other.computed, m) > own {
					rank++
				}
			}
			if rank == 1 {
				first += 1 / float64(len(s.measured))
			}
			reciprocal += 1 / float64(rank) / float64(len(s.measured))
		}
	}
	fmt.Fprintf(out, "isomer choice (F): %d structures with a rival, top-1 %.3f, mean reciprocal rank %.3f (chance %.3f)\n\n",
		n, first/float64(max(n, 1)), reciprocal/float64(max(n, 1)), chance/float64(max(n, 1)))
}

// printWorst lists the structures with the lowest A and what their strongest
// measured peaks lack.
func printWorst(out io.Writer, done []*compared) {
	slices.SortStableFunc(done, func(x, y *compared) int { return cmp.Compare(x.a, y.a) })
	fmt.Fprintln(out, "the 50 worst: A, nominal mass, structure, strongest measured peaks with the computed height (% of base); peaks that the other spectrum lacks")
	for _, s := range done[:min(50, len(done))] {
		measured, computed := match.View(s.measured[0]), match.View(s.computed)
		fmt.Fprintf(out, "  %.2f %4d %-50s", s.a, s.mass, s.smiles)
		for _, p := range measured.Strongest(4) {
			mz := spectrum.UnitMZ(p.MZ)
			fmt.Fprintf(out, "  %d: %.0f (%.0f)", mz, measured.Relative(mz), computed.Relative(mz))
		}
		fmt.Fprintln(out)
		fmt.Fprintf(out, "            missing: %s; too strong: %s; classes: %s\n", farther(measured, computed), farther(computed, measured), strings.Join(s.classes, ", "))
	}
}

// farther lists the peaks of 10 % and more that are less than a fifth as high
// in the other spectrum, the strongest first, four at most.
func farther(in, other spectrum.Spectrum) string {
	var text []string
	for _, p := range in.AtLeast(10).Strongest(len(in.Peaks)) {
		mz := spectrum.UnitMZ(p.MZ)
		if other.Relative(mz) < in.Relative(mz)/5 && len(text) < 4 {
			text = append(text, fmt.Sprintf("%d", mz))
		}
	}
	if len(text) == 0 {
		return "none"
	}
	return strings.Join(text, " ")
}

// printConfidence prints the line that confidence.go holds, fitted again, and
// the mean A of the structures by the confidence stated.
func printConfidence(out io.Writer, done []*compared) {
	// Least squares of A on 1, known and mass by the normal equations.
	var m [3][4]float64
	for _, s := range done {
		x := [3]float64{1, s.known, float64(s.mass)}
		for i := range x {
			for j := range x {
				m[i][j] += x[i] * x[j]
			}
			m[i][3] += x[i] * s.a
		}
	}
	for i := range m { // the matrix is positive definite: no pivoting
		for k := range m {
			if k == i {
				continue
			}
			f := m[k][i] / m[i][i]
			for j := i; j < 4; j++ {
				m[k][j] -= f * m[i][j]
			}
		}
	}
	fmt.Fprintf(out, "confidence: A is about %.3f %+.3f known %+.6f mass\n", m[0][3]/m[0][0], m[1][3]/m[1][1], m[2][3]/m[2][2])
	slices.SortStableFunc(done, func(x, y *compared) int { return cmp.Compare(x.confidence, y.confidence) })
	fmt.Fprintln(out, "stated  found  structures")
	for at := 0; at < len(done); {
		to := min(at+(len(done)+9)/10, len(done))
		stated, found := 0.0, 0.0
		for _, s := range done[at:to] {
			stated += s.confidence
			found += s.a
		}
		n := float64(to - at)
		fmt.Fprintf(out, "%6.3f %6.3f %6d\n", stated/n, found/n, to-at)
		at = to
	}
	fmt.Fprintln(out)
}
