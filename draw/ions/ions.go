// Package ions puts what a prediction knows into the figure of a spectrum: the
// formulas of ions under their peaks, what is lost between two of them, and
// their structures beside the peaks.
//
// For most uses call [Formulas], [Loss] and [Structure] and give the results to
// plot.Spectrum.
package ions

import (
	"fmt"
	"slices"
	"strings"

	"ionwright/chem"
	"ionwright/draw"
	"ionwright/draw/plot"
	"ionwright/draw/structure"
	"ionwright/ionize"
	"ionwright/mol"
	"ionwright/spectrum"
)

// Formulas assigns to each m/z, rounded to a whole number, the formula of the
// most abundant ion there. An m/z without an ion is left out.
func Formulas(p *ionize.Prediction, mzs []float64) []plot.Assignment {
	var out []plot.Assignment
	for _, mz := range mzs {
		if all := p.At(spectrum.UnitMZ(mz)); len(all) > 0 {
			out = append(out, plot.Assignment{MZ: mz, Text: draw.Ion(all[0].Formula)})
		}
	}
	return out
}

// Loss is the bracket between two m/z. What is lost is the difference of the
// most abundant ions there, where the lower one holds nothing that the upper
// one lacks; else only the difference in m/z is shown.
func Loss(p *ionize.Prediction, from, to float64) plot.Loss {
	loss := plot.Loss{From: from, To: to}
	upper, lower := p.At(spectrum.UnitMZ(max(from, to))), p.At(spectrum.UnitMZ(min(from, to)))
	if len(upper) == 0 || len(lower) == 0 {
		return loss
	}
	if lost, ok := upper[0].Formula.Minus(lower[0].Formula); ok {
		loss.Text = draw.Neutral(lost)
	}
	return loss
}

// Structure draws the most abundant ion at an m/z, in the form that the last
// step of its route leaves it in, for a place beside its peak; in brackets where
// its charge or unpaired electron is spread over several atoms. The molecular
// ion is drawn as the molecule, since where its charge is depends on the step
// that follows. It fails where there is no ion, and where no arrows lead to
// it: its structure isn't known then.
func Structure(p *ionize.Prediction, mz float64, o structure.Options) (plot.Inset, error) {
	all := p.At(spectrum.UnitMZ(mz))
	if len(all) == 0 {
		return plot.Inset{}, fmt.Errorf("drawing the ion of m/z %s: none is computed there", plot.MZ(mz, 0))
	}
	ion := all[0]
	m := p.Mol
	if len(p.Route(ion.ID)) > 0 {
		var err error
		if m, o.Brackets, err = formOf(p, ion); err != nil {
			return plot.Inset{}, fmt.Errorf("drawing the ion of m/z %s: %w", plot.MZ(mz, 0), err)
		}
	}
	f, err := structure.Draw(m, o)
	if err != nil {
		return plot.Inset{}, fmt.Errorf("drawing the ion of m/z %s: %w", plot.MZ(mz, 0), err)
	}
	f.Description = strings.Replace(f.Description, "Skeletal formula", "skeletal formula", 1)
	return plot.Inset{MZ: mz, Figure: f}, nil
}

// formOf is an ion as a graph, with brackets where its charge has no place at
// one atom.
func formOf(p *ionize.Prediction, ion ionize.Ion) (*mol.Mol, *structure.Spread, error) {
	movements, err := p.RouteMovements(ion.ID)
	if err != nil {
		return nil, nil, err
	}
	last := movements[len(movements)-1]
	if last.Whole {
		return nil, nil, fmt.Errorf("no movement of electrons leads to it by %q", last.Kind)
	}
	form := last.Panels[len(last.Panels)-1].After
	whole, err := form.Mol()
	if err != nil {
		return nil, nil, err
	}
	b := whole.Edit()
	for i, a := range form.Atoms {
		switch {
		case a.Leaves:
			b.RemoveAtom(i)
		case a.IsHydrogen: // one that has moved is counted again where it is now
			n := whole.Neighbors(i)
			if a.Isotope != 0 || len(n) != 1 {
				continue
			}
			to := b.Atom(int(n[0].Atom))
			to.Hydrogens++
			b.SetAtom(int(n[0].Atom), to)
			b.RemoveAtom(i)
		}
	}
	for i, a := range form.Atoms { // deuterium is an atom of a graph
		if a.Leaves {
			continue
		}
		for range a.Deuterium {
			on := b.Atom(i)
			on.Hydrogens--
			b.SetAtom(i, on)
			b.AddBond(i, b.AddAtom(mol.Atom{Element: chem.H, Isotope: 2}), mol.Single)
		}
	}
	m, err := b.Mol()
	if err != nil {
		return nil, nil, err
	}
	if slices.ContainsFunc(form.Bonds, func(b ionize.FormBond) bool { return b.Electrons%2 == 1 }) {
		brackets, err := structure.Unplaced(m, 1)
		return m, brackets, err
	}
	brackets, _ := structure.Delocalize(m)
	return m, brackets, nil
}
