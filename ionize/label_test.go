package ionize

import (
	"math"
	"strings"
	"testing"

	"ionwright/internal/fixture"
	"ionwright/mol/smiles"
	"ionwright/spectrum/match"
)

// Labels change masses, and rates a little; so the ions of a kind, whichever
// their labels, are together about as abundant as in the unlabelled compound.
func TestLabelsKeepTheChemistry(t *testing.T) {
	for _, pair := range [][2]string{
		{"[2H]C([2H])([2H])C(=O)CC", "CC(=O)CC"},
		{"[2H]C([2H])CCC", "CCCC"},
		{"[2H]C([2H])([2H])c1ccccc1", "Cc1ccccc1"},
		{"[2H]OCCCC", "OCCCC"},
		{"[2H]C1([2H])CCCCC1=O", "C1CCCCC1=O"},
	} {
		with, without := map[counts]float64{}, map[counts]float64{}
		for i, into := range []map[counts]float64{with, without} {
			p := predict(t, pair[i])
			m, err := prepare(p.Mol)
			if err != nil {
				t.Fatal(err)
			}
			for _, ion := range p.Ions {
				into[m.count(&ion.skeleton).plain()] += ion.Abundance
			}
		}
		for kind, want := range without {
			if got := with[kind]; math.Abs(got-want) > 0.03+0.15*want {
				t.Errorf("%s: ions of composition %v are %.3f of all, %.3f without labels", pair[0], kind, got, want)
			}
		}
	}
}

// The isotopic variants of a step have the frequency factor of the step
// between them.
func TestVariantsShareTheStep(t *testing.T) {
	for _, s := range []string{"[2H]C([2H])([2H])C(=O)CC", "[2H]C(C)CC", "[2H]C([2H])([2H])c1ccccc1", "[2H]C1([2H])CCC([2H])([2H])C1=O"} {
		structure, err := smiles.Parse(s)
		if err != nil {
			t.Fatal(err)
		}
		m, err := prepare(structure)
		if err != nil {
			t.Fatal(err)
		}
		whole := m.whole()
		plain := whole.plain()
		want, got := 0.0, 0.0
		m.plainSteps(&plain, false, func(p *proposal) {
			if p.ion.atoms != 0 {
				want += p.weight
			}
		})
		m.steps(&whole, false, func(p *proposal) {
			got += p.weight
			all, heavy := hydrogensOf(&p.ion)
			allLeft, heavyLeft := hydrogensOf(&p.neutral)
			if p.gone == 0 {
				if had, hadHeavy := hydrogensOf(&whole); all+allLeft != had || heavy+heavyLeft != hadHeavy {
					t.Errorf("%s: a %v makes %d of %d hydrogens, %d of %d deuterium", s, p.kind, all+allLeft, had, heavy+heavyLeft, hadHeavy)
				}
			}
		})
		if math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: %g steps with labels, %g without", s, got, want)
		}
	}
}

// The eight hydrogens of toluene's molecular ion become equivalent before one
// leaves (common practice, no source): of C6H5-CD3, five H to three D by
// chance, and more with the isotope effect.
func TestTolueneScrambles(t *testing.T) {
	p := predict(t, "[2H]C([2H])([2H])c1ccccc1")
	flow := map[string]float64{}
	for _, step := range p.Steps {
		if step.From == 0 && step.Kind == HydrogenAtomLoss {
			flow[step.Loss.String()] += step.Flow
		}
	}
	ratio := flow["H"] / flow["[2H]"]
	if ratio < 5.0/3 || ratio > 5 { // lower bound: chance alone; upper bound: a primary isotope effect of 3
		t.Errorf("H and D leave as %.2f to 1 (%v)", ratio, flow)
	}
}

// Labelled compounds measured: on the average, the computed spectrum is nearer
// with the labels than without them.
func TestLabelledSpectra(t *testing.T) {
	with, without, n := 0.0, 0.0, 0
	for _, r := range fixture.Measured(t) {
		if !strings.Contains(r.SMILES, "[2H]") {
			continue
		}
		measured := r.Spectrum(t)
		labelled := predict(t, r.SMILES)
		m, err := prepare(labelled.Mol)
		if err != nil {
			t.Fatal(err)
		}
		for i := range m.hydrogens { // the same structure with protium
			m.hydrogens[i] = m.hydrogens[i]&15 + m.hydrogens[i]>>4
		}
		s := newSearch(m, Settings{EnergyEV: 70}, fitted())
		if err := s.run(t.Context()); err != nil {
			t.Fatal(err)
		}
		a, b := match.A(labelled.Spectrum(), measured), match.A(s.prediction(labelled.Mol).Spectrum(), measured)
		t.Logf("%s: A is %.3f with labels, %.3f without", r.Name, a, b)
		with, without, n = with+a, without+b, n+1
	}
	if n < 4 || with < without+0.03*float64(n) {
		t.Errorf("mean A of %d labelled compounds: %.3f with labels, %.3f without", n, with/float64(n), without/float64(n))
	}
}
