package infer

import (
	"bytes"
	"math"
	"slices"
	"testing"

	"ionwright/chem"
	"ionwright/internal/fixture"
	"ionwright/spectrum"
)

func loaded(t testing.TB) *Model {
	t.Helper()
	m, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func TestView(t *testing.T) {
	v := NewView(spectrum.Spectrum{Peaks: []spectrum.Peak{{MZ: 58.1, Intensity: 10}, {MZ: 43, Intensity: 30}, {MZ: 57.9, Intensity: 5}, {MZ: math.NaN(), Intensity: 4}, {MZ: 70, Intensity: math.Inf(1)}, {MZ: 5000, Intensity: 3}}})
	if v.Base != 43 || v.Low != 43 || v.Top != 58 || v.Count != 2 || v.Beyond != 1 {
		t.Errorf("view %+v", v)
	}
	if got := v.At(58); math.Abs(got-50) > 1e-4 { // 15 of 30
		t.Errorf("58 has %v %%", got)
	}
	for _, mz := range []int{-1000, -1, 0, 59, 2000, 1 << 40} {
		if v.At(mz) != 0 {
			t.Errorf("m/z %d has %v", mz, v.At(mz))
		}
	}
}

// Rows must have a value for each name.
func TestRowWidths(t *testing.T) {
	m := loaded(t)
	v := NewView(fixture.ByName(t, "2-pentanone").Spectrum(t))
	if got, want := len(ionFeatures(v, []int{86}, &m.Ion.Losses, nil)), len(ionFeatureNames); got != want {
		t.Errorf("a candidate has %d features and %d names", got, want)
	}
	if got, want := m.Ion.Trees.Width(), len(ionFeatureNames); got != want {
		t.Errorf("the fitted trees ask %d features, there are %d", got, want)
	}
	row := Evidence(v, []Ion{{86, 1}})
	if len(row) != len(features) || len(row) != ratioStart+2*mostRatio+highestRatio-lowestRatio+1+mostShare {
		t.Errorf("the evidence has %d values and %d names", len(row), len(features))
	}
	for _, trees := range m.Groups.Trees {
		if trees.Width() != len(features) {
			t.Fatalf("the fitted trees of a group ask %d features, there are %d", trees.Width(), len(features))
		}
	}
	for _, n := range m.Networks {
		if n.Inputs() != netInputs || n.Outputs() != Outputs() {
			t.Fatalf("the fitted network has %d inputs and %d outputs, want %d and %d", n.Inputs(), n.Outputs(), netInputs, Outputs())
		}
	}
	_, rows := m.Formula.formulaRows(v, 86, make([]float32, Outputs()))
	if len(rows) == 0 || len(rows[0]) != len(formulaFeatureNames) || m.Formula.Trees.Width() != len(formulaFeatureNames) {
		t.Errorf("%d candidate formulas, %d names, trees of width %d", len(rows), len(formulaFeatureNames), m.Formula.Trees.Width())
	}
}

func TestCompositions(t *testing.T) {
	m := &FormulaModel{}
	for _, c := range []struct {
		mass     int
		formulas []string
	}{
		{110, []string{"C8H14", "C7H10O", "C6H6O2", "C6H10N2"}},    // OpenStax Organic Chemistry: candidates for M = 110
		{136, []string{"C9H12O", "C8H8O2", "C7H4O3", "C5H12O4"}},   // a Chinese textbook's problem: all of nominal mass 136
		{128, []string{"CH2BrCl", "C10H8", "C9H20"}},               // nominal masses by the formulas
		{162, []string{"C6H18OSi2"}}, {285, []string{"C17H19NO3"}}, // hexamethyldisiloxane; morphine
	} {
		var got []string
		for _, x := range m.compositions(c.mass) {
			if x.formula.NominalMass() != c.mass || int(x.c) != x.formula.Count(chem.C) || int(x.h) != x.formula.Count(chem.H) {
				t.Fatalf("mass %d: composition %+v", c.mass, x)
			}
			got = append(got, x.formula.String())
		}
		for _, want := range c.formulas {
			if !slices.Contains(got, chem.MustFormula(want).String()) {
				t.Errorf("mass %d: %s isn't among %d candidates", c.mass, want, len(got))
			}
		}
		slices.Sort(got)
		if n := len(slices.Compact(slices.Clone(got))); n != len(got) {
			t.Errorf("mass %d: %d candidates, %d different", c.mass, len(got), n)
		}
	}
	if m.compositions(5) != nil || m.compositions(1e6) != nil || m.compositions(-1) != nil {
		t.Error("formulas are offered for masses out of range")
	}
}

// The parts of a molecule: which fragment masses it can explain.
func TestReach(t *testing.T) {
	mark := func(formula string) []bool {
		f := chem.MustFormula(formula)
		c := composition{formula: f, c: int16(f.Count(chem.C)), h: int16(f.Count(chem.H)), dbe: int16(f.DBE())}
		for k, e := range compositionElements {
			c.counts[k] = int8(f.Count(e))
		}
		out := make([]bool, f.NominalMass()+1)
		c.reach(out)
		return out
	}
	for _, c := range []struct {
		formula string
		yes, no []int
	}{
		{"C7H8", []int{91, 65, 77, 39, 92}, []int{45, 59, 73, 87}}, // toluene: Nguyen et al. 2019 for 91, 65, 39; no oxygen ions
		{"C5H10O", []int{43, 58, 71, 86, 31, 45}, []int{77, 79}},   // 2-pentanone: Bruice for 43, 58, 71, 86
		{"C6H5Cl", []int{77, 112, 51}, []int{31, 43, 91}},          // chlorobenzene: common practice, no source
		{"C6H15N", []int{86, 58, 30, 101}, []int{91, 77}},          // triethylamine: OpenStax for 86
	} {
		got := mark(c.formula)
		for _, mz := range c.yes {
			if !got[mz] {
				t.Errorf("%s doesn't explain m/z %d", c.formula, mz)
			}
		}
		for _, mz := range c.no {
			if mz < len(got) && got[mz] {
				t.Errorf("%s explains m/z %d", c.formula, mz)
			}
		}
	}
}

// The network's chains become distributions.
func TestAnswersAreDistributions(t *testing.T) {
	scores := make([]float32, Outputs())
	for i := range scores {
		scores[i] = float32(i%7) - 3
	}
	a := readAnswers(scores)
	sum := func(logs []float64) float64 {
		s := 0.0
		for _, l := range logs {
			s += math.Exp(l)
		}
		return s
	}
	for k := range compositionElements {
		if s := sum(a.byElement[k][:]); s < 0.95 || s > 1.7 { // the tail beyond the last question adds up to two thirds of its share
			t.Errorf("%s: the shares of its counts sum to %v", compositionElements[k], s)
		}
	}
	if s := sum(a.carbon[:]); math.Abs(s-1) > 0.01 {
		t.Errorf("carbon: the shares sum to %v", s)
	}
}

func TestInfer(t *testing.T) {
	m := loaded(t)
	for _, c := range []struct {
		name  string
		mass  int
		group string
	}{ // what the structure has
		{"methyl stearate", 298, "ester"}, {"acetophenone", 120, "phenyl"}, {"triethylamine", 101, "aliphatic amine"},
		{"chlorobenzene", 112, "chlorine"}, {"hexamethyldisiloxane", 162, "alkylsilyl"}, {"nitrobenzene", 123, "nitro"},
	} {
		v := NewView(fixture.ByName(t, c.name).Spectrum(t))
		r := m.Infer(v, Options{Mass: c.mass, Formulas: true, Explain: 5})
		k := slices.IndexFunc(Groups, func(g Group) bool { return g.Name() == c.group })
		if p := r.Groups[k].Probability; p < 0.5 {
			t.Errorf("%s: %s has %.2f", c.name, c.group, p)
		}
		if len(r.Groups[k].Reasons) == 0 && slices.IndexFunc(r.Groups, func(g GroupCall) bool { return g.Probability > r.Groups[k].Probability }) < 0 {
			t.Errorf("%s: %s has no reasons", c.name, c.group)
		}
		want := fixture.ByName(t, c.name).Formula
		if place := slices.IndexFunc(r.Formulas, func(f Formula) bool { return f.Formula == chem.MustFormula(want) }); place < 0 || place > 9 {
			t.Errorf("%s: %s stands at place %d of %d", c.name, want, place+1, len(r.Formulas))
		}
		sum := 0.0
		for _, f := range r.Formulas {
			sum += f.Probability
		}
		if sum > 1+1e-9 || sum < 0.8 { // the rest is that of a formula that isn't looked at
			t.Errorf("%s: the formulas' probabilities sum to %v", c.name, sum)
		}
	}
	if r := m.Infer(NewView(spectrum.Spectrum{}), Options{Formulas: true}); r.Ions != nil || r.Groups != nil || r.Formulas != nil {
		t.Errorf("no peaks give %+v", r)
	}
}

func TestModelWriteThenRead(t *testing.T) {
	m := loaded(t)
	var first, second bytes.Buffer
	if err := m.Write(&first); err != nil {
		t.Fatal(err)
	}
	back, err := ReadModel(bytes.NewReader(first.Bytes()))
	if err != nil {
		t.Fatal(err)
	}
	if err := back.Write(&second); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(first.Bytes(), second.Bytes()) || !bytes.Equal(first.Bytes(), embedded) {
		t.Error("writing the model that was read gives other bytes")
	}
	if p := m.Provenance; p.Data == "" || p.Attribution == "" || p.Command == "" || p.Spectra < 4000 {
		t.Errorf("provenance %+v", p)
	}
	for _, damaged := range [][]byte{nil, []byte("no model"), embedded[:len(embedded)/2]} {
		if _, err := ReadModel(bytes.NewReader(damaged)); err == nil {
			t.Errorf("%d damaged bytes are accepted", len(damaged))
		}
	}
}

func benchmark(b *testing.B, opt func(fixture.Record) Options) {
	m := loaded(b)
	records := fixture.Measured(b)
	var spectra []spectrum.Spectrum
	for _, r := range records {
		spectra = append(spectra, r.Spectrum(b))
	}
	for i := 0; b.Loop(); i++ {
		k := i % len(records)
		m.Infer(NewView(spectra[k]), opt(records[k]))
	}
}

// One core must read 1,000 spectra a second without formulas.
func BenchmarkInfer(b *testing.B) { benchmark(b, func(fixture.Record) Options { return Options{} }) }

// One core must read 200 spectra a second with formulas of a given mass.
func BenchmarkInferFormulas(b *testing.B) {
	benchmark(b, func(r fixture.Record) Options { return Options{Mass: r.NominalMass, Formulas: true} })
}

// What a network's input says is told by the peak or loss that it is about.
func TestInputFeatures(t *testing.T) {
	for _, c := range []struct {
		input int
		words string // "" for what isn't told
	}{
		{netMZ + 77, "no peak at m/z 77"},
		{netLoss + 3 + 18, "no loss of 18"},
		{netMassBits, ""},
		{netRatio - 1, ""},
		{netRatio, "no loss of 1"},
		{netRatio + mostRatio + 27, "no loss of 28"},
		{netRatio + 2*mostRatio, "no peak at m/z 27"},
		{netInputs - mostShare - 1, "no peak at m/z 135"},
		{netInputs - 1, "no loss of 90"},
	} {
		f, ok := inputFeature(c.input)
		words := ""
		if ok {
			words = f.describe(NewView(spectrum.Spectrum{}), 200)
		}
		if words != c.words {
			t.Errorf("input %d is told as %q, want %q", c.input, words, c.words)
		}
	}
}
