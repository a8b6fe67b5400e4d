package check

import (
	"math"
	"slices"
	"strings"

	"ionwright/chem"
	"ionwright/lesson/diag"
	"ionwright/lesson/load"
	"ionwright/lesson/source"
	"ionwright/practice"
	"ionwright/practice/answer"
	"ionwright/practice/cause"
)

// usuallyAsks is what a kind asks for where the author says nothing.
var usuallyAsks = map[practice.Kind]cause.Asks{
	practice.StructureKind: cause.Identity, practice.PeaksKind: cause.Peaks, practice.OrderKind: cause.Steps,
	practice.ArrowsKind: cause.Movement, practice.ReasonsKind: cause.Evidence,
}

// facts are what is true about a question, for finding the mistake behind an
// answer.
func (c *checker) facts(b *source.Question, key practice.Key) (cause.Facts, error) {
	f := cause.Facts{Asks: usuallyAsks[b.Kind], DotAsked: b.Dot}
	name := c.asks(b, &f)
	compound := c.compound(b.About)
	if compound != nil {
		f.Compound, f.Formula, f.Spectrum = compound.Mol, compound.Formula, compound.Spectrum
	}
	if !b.Peak.IsZero() {
		r, ok, err := c.compute(b.Peak)
		if err != nil {
			return f, err
		}
		x, isNumber := r.Number()
		if ok && (!isNumber || x <= 0 || math.IsInf(x, 0)) {
			c.add(diag.New(diag.WrongType, b.Peak.Place(), "%q must be an m/z, but is %s", b.Peak.Value, r.Text.Message()))
		} else if ok {
			f.MZ = x
		}
	}
	c.ofIons(b, &f)
	f.Possible = ionsAt(compound, int(f.MZ))
	if f.Ion.IsEmpty() && len(f.Possible) > 0 {
		f.Ion = f.Possible[0]
	}
	c.factsOfKey(key, compound, &f)
	if f.Asks == cause.Pattern && f.Formula.NominalMass() > 0 {
		f.Offset = int(f.MZ) - f.Formula.NominalMass()
	}
	if m := f.Formula.NominalMass(); f.Asks == cause.Carbons && f.Spectrum.Relative(m) > 0 {
		f.Ratio = 100 * f.Spectrum.Relative(m+1) / f.Spectrum.Relative(m)
	}
	if i := c.instrument(b.Instrument); i != nil && f.MZ > 0 {
		centi, kilo := i.Source.Radius < 1, i.Source.Voltage >= 1000
		w := cause.FieldFor(f.MZ, i.Source.Radius, i.Source.Voltage, centi, kilo)
		if name == "speed" {
			w = cause.SpeedFor(f.MZ, 1, i.Source.Voltage, kilo)
		}
		f.Work = &w
	}
	return f, nil
}

// asks reads the word for what is asked.
func (c *checker) asks(b *source.Question, f *cause.Facts) string {
	if b.Asks.IsZero() {
		return ""
	}
	var names []string
	for _, n := range cause.AsksNames() {
		if n.Name == b.Asks.Value {
			f.Asks = n.Asks
			return n.Name
		}
		names = append(names, n.Name)
	}
	c.known("thing to ask for", b.Asks, names)
	return ""
}

// ofIons reads the formulas of the ions asked about.
func (c *checker) ofIons(b *source.Question, f *cause.Facts) {
	for i, t := range b.Of {
		g, err := chem.ParseFormula(t.Value)
		if err != nil {
			reason, _, _ := strings.Cut(err.Error(), "\n")
			c.add(diag.New(diag.WrongType, t.Place(), "%q isn't a formula: %s", t.Value, reason))
			continue
		}
		switch i {
		case 0:
			f.Ion = g
		case 1:
			f.Other = g
		}
		f.Flying = append(f.Flying, cause.Flier{Name: t.Value, Mass: float64(g.MonoisotopicMass()), Charge: max(g.Charge(), 1)})
	}
}

// factsOfKey adds what the right answer says.
func (c *checker) factsOfKey(key practice.Key, compound *load.Compound, f *cause.Facts) {
	switch k := key.(type) {
	case practice.Formula:
		if f.Asks == cause.Anything && f.MZ > 0 {
			f.Asks = cause.IonAt
			if k.Formula.Charge() == 0 {
				f.Asks = cause.LostTo
			}
		}
		if f.Asks == cause.LostTo {
			if rest, ok := f.Formula.Minus(k.Formula); ok {
				f.Ion = rest.WithCharge(1)
			}
			return
		}
		f.Ion = k.Formula
		if f.Asks == cause.IonAt && f.MZ == 0 {
			f.MZ = k.Formula.NominalMZ()
		}
		if !slices.Contains(f.Possible, k.Formula) {
			f.Possible = append(f.Possible, k.Formula)
		}
	case practice.Number:
		if f.Asks == cause.PeakOf && f.Ion.IsEmpty() {
			if ions := ionsAt(compound, int(k.Value)); len(ions) > 0 {
				f.Ion = ions[0]
			}
		}
	case practice.Structure:
		if f.Compound == nil {
			f.Compound = k.Mol
			f.Formula = k.Mol.Formula()
		}
		if g := k.Mol.Formula(); g.Charge() != 0 {
			f.Compound, f.Ion = k.Mol, g
		}
	case practice.Choices:
		f.Right = answer.Answer(k.Solved()).Items()
	case practice.Order:
		for i, s := range k.Steps {
			if s.Phase != 0 {
				f.Protocol = append(f.Protocol, cause.Stage{ID: s.Letter, Phase: s.Phase})
			}
			if f.Asks == cause.Bending && i < len(f.Flying) {
				f.Flying[i].Name = s.Letter
			}
		}
	case practice.Arrows:
		for _, a := range k.Ways[0] {
			f.Moves = append(f.Moves, cause.Move{Half: a.Half, Text: a.String()})
		}
	case practice.Reasons:
		f.Needs = k.Needs
		for _, clue := range k.Clues {
			f.Clues = append(f.Clues, clue.Any...)
		}
	}
}
