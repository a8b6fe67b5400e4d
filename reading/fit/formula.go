package fit

import (
	"math"

	"ionwright/reading/boost"
	"ionwright/reading/infer"
)

// formulaFitMass is the highest nominal mass that the formula model is fitted
// on.
const formulaFitMass = 320

// formulaRows are the candidate formulas of each sample with their features.
type formulaRows struct {
	samples []Sample
	rows    [][][]float32 // by sample and candidate
	right   []int         // the right candidate, -1 if it isn't among those kept
}

// newFormulaRows lists the candidates: scores are the network's with the right
// mass, of networks that hadn't seen the sample. It leaves out heavy samples
// and those aside.
func newFormulaRows(samples []Sample, scores [][]float32) *formulaRows {
	m := &infer.FormulaModel{}
	out := &formulaRows{}
	for i, s := range samples {
		if s.Aside || s.Mass > formulaFitMass {
			continue
		}
		list, features := m.FormulaRows(s.View, s.Mass, scores[i])
		if len(list) == 0 {
			continue
		}
		right := -1
		for k, f := range list {
			if f == s.Formula {
				right = k
			}
		}
		out.samples, out.rows, out.right = append(out.samples, s), append(out.rows, features), append(out.right, right)
	}
	return out
}

// kept is the share of the samples whose formula is among the candidates.
func (r *formulaRows) kept() float64 {
	kept, all := 0.0, 0.0
	for i, s := range r.samples {
		all += s.Weight
		if r.right[i] >= 0 {
			kept += s.Weight
		}
	}
	return kept / math.Max(all, 1e-9)
}

// trees fits the ranking on the samples whose fold isn't the one left out.
func (r *formulaRows) trees(without int, seed uint64) (*boost.Ensemble, error) {
	var rows [][]float32
	var starts, chosen []int
	var weights []float64
	for i, s := range r.samples {
		if s.Fold == without {
			continue
		}
		right := r.right[i]
		if right >= 0 {
			right += len(rows)
		}
		starts, chosen, weights = append(starts, len(rows)), append(chosen, right), append(weights, s.Weight)
		rows = append(rows, r.rows[i]...)
	}
	return boost.Fit(boost.NewTable(rows), boost.Choice(append(starts, len(rows)), chosen, weights), boost.Settings{
		Rounds: 300, Leaves: 10, MinWeight: 2, L2: 3, Rate: 0.05, RowShare: 0.7, FeatureShare: 0.35, Seed: seed,
	})
}

// formulas fits the ranking, and makes its probabilities honest on folds that
// the trees hadn't seen.
func formulas(r *formulaRows) (infer.FormulaModel, error) {
	trees := make([]*boost.Ensemble, Folds+1) // the last is fitted on all
	err := parallel(len(trees), func(k int) error {
		var err error
		trees[k], err = r.trees(k, seed+7+uint64(k))
		return err
	})
	if err != nil {
		return infer.FormulaModel{}, err
	}
	var statements []infer.Statement
	for i, s := range r.samples {
		m := infer.FormulaModel{Trees: trees[s.Fold]}
		for k, p := range m.Probabilities(r.rows[i]) {
			statements = append(statements, infer.Statement{Stated: p, True: k == r.right[i], Weight: s.Weight})
		}
	}
	return infer.FormulaModel{Trees: trees[Folds], Honest: infer.FitCurve(statements)}, nil
}
