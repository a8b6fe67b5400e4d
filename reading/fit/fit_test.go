package fit

import (
	"bytes"
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"ionwright/chem"
	"ionwright/internal/fixture"
	"ionwright/reading"
	"ionwright/reading/infer"
)

// few are the fixture's spectra of natural compounds at 70 eV, with two groups
// told from the formula alone, which is enough to run every part of the fit.
func few(t *testing.T) []Sample {
	t.Helper()
	var out []Sample
	for _, r := range fixture.Measured(t) {
		if r.EV < 60 || bytes.Contains([]byte(r.SMILES), []byte("[2H]")) {
			continue
		}
		s := r.Spectrum(t)
		f := s.Info.Formula
		out = append(out, Sample{
			Key: r.SMILES, Spectrum: s, View: infer.NewView(s), Formula: f, Mass: r.NominalMass, Fold: len(out) % Folds,
			Groups: map[string]bool{"chlorine": f.Count(chem.Cl) > 0, "bromine": f.Count(chem.Br) > 0},
		})
	}
	SetWeights(out)
	return out
}

// The same samples give the same bytes, and the model reads them back and
// finds the molecular ions it was fitted to.
func TestModelIsReproducible(t *testing.T) {
	samples := few(t)
	var first, second bytes.Buffer
	for _, buf := range []*bytes.Buffer{&first, &second} {
		m, err := Model(context.Background(), samples, Effort{Epochs: 3, LastEpochs: 3, GroupTrees: 5, IonTrees: 60, MixtureTrees: 5}, func(string, ...any) {})
		if err != nil {
			t.Fatal(err)
		}
		if err := m.Write(buf); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(first.Bytes(), second.Bytes()) {
		t.Error("two fits to the same samples differ")
	}
	m, err := infer.ReadModel(&first)
	if err != nil {
		t.Fatal(err)
	}
	right := 0
	for _, s := range samples {
		if ions := m.Ion.Rank(s.View); ions[0].MZ == s.Mass {
			right++
		}
	}
	if share := float64(right) / float64(len(samples)); share < 0.85 { // of its own training spectra
		t.Errorf("the molecular ion is right in %.2f of the spectra of the fit", share)
	}
}

func TestSetWeights(t *testing.T) {
	samples := []Sample{{Key: "CCO"}, {Key: "CC"}, {Key: "CCO"}}
	SetWeights(samples)
	if samples[0].Weight != 0.5 || samples[1].Weight != 1 || samples[2].Weight != 0.5 {
		t.Errorf("weights %v %v %v, want 0.5, 1, 0.5", samples[0].Weight, samples[1].Weight, samples[2].Weight)
	}
}

// Scores that are log-odds twice too large must be halved.
func TestBlendMakesHonest(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	var trees, network, weights []float64
	var labels []bool
	for range 4000 {
		odds := random.NormFloat64() * 1.5
		trees = append(trees, 2*odds)
		network = append(network, 2*odds)
		labels = append(labels, random.Float64() < 1/(1+math.Exp(-odds)))
		weights = append(weights, 1)
	}
	b := blend(trees, network, labels, weights)
	if slope := 2 * (b[0] + b[1]); math.Abs(slope-1) > 0.12 || math.Abs(b[2]) > 0.12 { // standard error of the slope 0.04
		t.Errorf("blend %v: slope %v, want 1 and no offset", b, slope)
	}
}

func TestClues(t *testing.T) {
	shares, err := Clues(context.Background(), few(t))
	if err != nil {
		t.Fatal(err)
	}
	byKey := map[string]reading.ClueShare{}
	for _, s := range shares {
		if s.Count < leastCount || s.Correct > s.Count+1e-9 {
			t.Errorf("row %+v", s)
		}
		byKey[s.Key] = s
	}
	// The nitrogen rule has no exception among these: an odd mass means an odd
	// number of nitrogens. Common practice, no source.
	if s := byKey["nitrogen odd"]; s.Count == 0 || math.Abs(s.Correct-s.Count) > 1e-9 {
		t.Errorf("odd mass: %+v", s)
	}
}
