package web

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"ionwright/draw/plot"
	"ionwright/ionize"
)

// bondRow is a bond of the list beside the structure.
type bondRow struct {
	Number  int
	Name    string
	Address string
	Chosen  bool
}

// chosenBond says which peaks the breaking of a bond gives.
type chosenBond struct {
	Name     string
	Sentence string
	Peaks    []bondPeak
}

type bondPeak struct {
	MZ      int
	Percent string
	Why     string
	Address string
}

// brokenBy are, for each bond of a molecule, the ions whose main route breaks
// it.
type brokenBy map[int][]int

// mostBondIons are looked at: the most abundant.
const mostBondIons = 40

// brokenBonds follows the routes to the main ions and notes the bonds that
// break on the way, or remembers them.
func (s *Server) brokenBonds(ctx context.Context, ask explained, p *ionize.Prediction) (brokenBy, error) {
	return s.broken.get(predictionKey{strings.TrimSpace(ask.Q), ask.EV}, func() (out brokenBy, err error) {
		err = s.heavy(ctx, func() error {
			out, err = brokenIn(ctx, p)
			return err
		})
		return out, err
	})
}

func brokenIn(ctx context.Context, p *ionize.Prediction) (brokenBy, error) {
	out := brokenBy{}
	for _, ion := range p.Ions[:min(len(p.Ions), mostBondIons+1)] {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if ion.ID == p.MolecularIon().ID {
			continue
		}
		moves, err := p.RouteMovements(ion.ID)
		if err != nil {
			return nil, fmt.Errorf("following the electrons to m/z %d: %w", ion.MZ, err)
		}
		for _, bond := range brokenOn(p, moves) {
			out[bond] = append(out[bond], ion.ID)
		}
	}
	return out, nil
}

// brokenOn lists the bonds of the molecule that a route breaks.
func brokenOn(p *ionize.Prediction, moves []ionize.Movement) []int {
	var out []int
	for _, move := range moves {
		for _, panel := range move.Panels {
			for _, b := range panel.Before.Bonds {
				from, to := panel.Before.Atoms[b.Begin], panel.Before.Atoms[b.End]
				if from.IsHydrogen || to.IsHydrogen || joined(panel.After, from.Atom, to.Atom) {
					continue
				}
				if bond, ok := p.Mol.BondBetween(from.Atom, to.Atom); ok && !slices.Contains(out, bond) {
					out = append(out, bond)
				}
			}
		}
	}
	return out
}

func joined(f ionize.Form, a, b int) bool {
	return slices.ContainsFunc(f.Bonds, func(bond ionize.FormBond) bool {
		x, y := f.Atoms[bond.Begin], f.Atoms[bond.End]
		return !x.IsHydrogen && !y.IsHydrogen && (x.Atom == a && y.Atom == b || x.Atom == b && y.Atom == a)
	})
}

// bondRows lists the bonds between atoms that are drawn.
func (f *explainedFigures) bondRows() []bondRow {
	var rows []bondRow
	for i := range f.prediction.Mol.NumBonds() {
		rows = append(rows, bondRow{Number: i + 1, Name: f.bondName(i), Address: f.ask.WithBond(i + 1), Chosen: i+1 == f.ask.Bond})
	}
	return rows
}

// bondName is such as "C2=O5", the atoms by their numbers in the structure.
func (f *explainedFigures) bondName(i int) string {
	m := f.prediction.Mol
	b := m.Bond(i)
	sign := map[int]string{1: "–", 2: "=", 3: "≡"}[int(m.KekuleOrder(i))]
	name := func(at int) string { return fmt.Sprintf("%s%d", m.Atom(at).Element.Symbol(), at+1) }
	return name(int(b.Begin)) + sign + name(int(b.End))
}

// chosenBond tells the peaks of the ions whose routes break the bond.
func (f *explainedFigures) chosenBond() *chosenBond {
	bond := f.ask.Bond - 1
	c := &chosenBond{Name: "The bond " + f.bondName(bond)}
	at := map[int]ionize.Ion{} // the most abundant ion of each m/z
	for _, id := range f.broken[bond] {
		ion := f.prediction.Ions[id]
		if old, ok := at[ion.MZ]; !ok || ion.Abundance > old.Abundance {
			at[ion.MZ] = ion
		}
	}
	for _, mz := range f.bondPeaks() {
		sentence := f.prediction.Sentence(at[mz])
		if _, route, ok := strings.Cut(sentence, ": "); ok {
			sentence = route // m/z and formula stand before it already
		}
		c.Peaks = append(c.Peaks, bondPeak{mz, plot.Percent(f.computed.Relative(mz)), sentence, f.ask.WithPeak(mz)})
	}
	switch n := len(c.Peaks); n {
	case 0:
		c.Sentence = "No peak of 1 % or more comes about by breaking this bond."
	case 1:
		c.Sentence = "One peak of 1 % or more comes about on a route that breaks this bond."
	default:
		c.Sentence = fmt.Sprintf("%d peaks of 1 %% or more come about on routes that break this bond.", n)
	}
	return c
}

// bondPeaks are the m/z that the chosen bond lights up, strongest first: of
// ions that carry a good part of their peak.
func (f *explainedFigures) bondPeaks() []int {
	const leastPercent, leastShare = 1, 0.2
	var out []int
	for _, id := range f.broken[f.ask.Bond-1] {
		ion := f.prediction.Ions[id]
		total := 0.0
		for _, other := range f.prediction.At(ion.MZ) {
			total += other.Abundance
		}
		if f.computed.Relative(ion.MZ) >= leastPercent && ion.Abundance >= leastShare*total && !slices.Contains(out, ion.MZ) {
			out = append(out, ion.MZ)
		}
	}
	slices.SortFunc(out, func(a, b int) int {
		if x, y := f.computed.Relative(a), f.computed.Relative(b); x != y {
			if x > y {
				return -1
			}
			return 1
		}
		return a - b
	})
	return out
}
