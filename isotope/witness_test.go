package isotope

import (
	"encoding/json"
	"math"
	"testing"

	"ionwright/chem"
	"ionwright/internal/witness"
)

// isospec is one formula as the witness wants it: for each species the number
// of atoms and its isotopes. Masses are mass numbers, so that the witness's
// peaks fall on whole numbers.
type isospec struct {
	Counts        []int       `json:"counts"`
	Masses        [][]float64 `json:"masses"`
	Probabilities [][]float64 `json:"probabilities"`
}

// IsoSpec with our abundances must give our pattern within 1e-6 of the base.
func TestUnitAgainstIsoSpec(t *testing.T) {
	formulas := []string{"C6H6", "CH2BrCl", "C6Br6", "C20H30N2O5S2ClBr", "SnCl4", "C16H36Sn", "C24H54OSn2", "B10H14", "C60", "C100H202", "Hg2Cl2", "PtCl2H6N2", "C257H383N65O77S6", "Se8", "[13C]2C4D2H4Cl"}
	var questions []isospec
	for _, text := range formulas {
		var q isospec
		for s, n := range chem.MustFormula(text).All() {
			var masses, probabilities []float64
			total := 0.0
			for _, i := range isotopesOf(s) {
				masses = append(masses, float64(i.MassNumber))
				probabilities = append(probabilities, i.Abundance)
				total += i.Abundance
			}
			for k := range probabilities {
				probabilities[k] /= total
			}
			q.Counts, q.Masses, q.Probabilities = append(q.Counts, n), append(q.Masses, masses), append(q.Probabilities, probabilities)
		}
		questions = append(questions, q)
	}
	stdin, err := json.Marshal(questions)
	if err != nil {
		t.Fatal(err)
	}
	answer := witness.Python(t, "IsoSpecPy", `
import json, sys
from IsoSpecPy import IsoTotalProb
answers = []
for q in json.load(sys.stdin):
    iso = IsoTotalProb(0.99999999, atomCounts=q["counts"], isotopeMasses=q["masses"], isotopeProbabilities=q["probabilities"])
    bins = {}
    for mass, p in iso:
        bins[round(mass)] = bins.get(round(mass), 0.0) + p
    answers.append(bins)
print(json.dumps(answers))`, stdin)
	var patterns []map[int]float64
	if err := json.Unmarshal(answer, &patterns); err != nil {
		t.Fatal(err)
	}
	for k, text := range formulas {
		p := Unit(chem.MustFormula(text))
		_, base := p.Base()
		worst := 0.0
		for i, a := range p.Abundance {
			worst = math.Max(worst, math.Abs(a-patterns[k][p.First+i]))
		}
		for massNumber, a := range patterns[k] {
			worst = math.Max(worst, math.Abs(a-p.At(massNumber)))
		}
		if worst > 1e-6*base {
			t.Errorf("%s: the largest difference is %.2g of the base", text, worst/base)
		}
		t.Logf("%s: %d mass numbers, largest difference %.2g of the base", text, len(p.Abundance), worst/base)
	}
}
