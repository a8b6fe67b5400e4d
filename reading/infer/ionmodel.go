package infer

import (
	"cmp"
	"math"
	"slices"

	"ionwright/reading/boost"
)

// IonModel weighs the candidates for the molecular ion.
type IonModel struct {
	Losses LossTable
	First  *boost.Ensemble // a short look at every candidate
	Trees  *boost.Ensemble // the full look at those that pass
	Honest [2]Curve        // makes the probabilities honest: of candidates with a peak of 1 %, and of the others
}

func (m *IonModel) parts() []part {
	return []part{numbersPart(&m.Losses), treesPart(&m.First), treesPart(&m.Trees), numbersPart(&m.Honest)}
}

// Candidates get the full look if they are among the best and not hopelessly
// behind the first.
const (
	mostShortlisted = 24
	hopeless        = 5 // natural logarithm of the odds
)

// Ion is a candidate for the molecular ion.
type Ion struct {
	MZ          int
	Probability float64
}

// Shortlist returns the candidates that pass the first look, best first, and
// the features of all candidates by the shortlist's place.
func (m *IonModel) Shortlist(v *View) (mz []int, rows [][]float32) {
	candidates := Candidates(v)
	width := len(ionFeatureNames)
	flat := ionFeatures(v, candidates, &m.Losses, nil)
	type scored struct {
		at    int
		score float64
	}
	all := make([][]float32, len(candidates))
	for i := range candidates {
		all[i] = flat[i*width : (i+1)*width]
	}
	list := make([]scored, len(candidates))
	for i, s := range m.First.Scores(all) {
		list[i] = scored{i, s}
	}
	slices.SortStableFunc(list, func(a, b scored) int { return cmp.Compare(b.score, a.score) })
	for k, s := range list[:min(len(list), mostShortlisted)] {
		if k >= 3 && s.score < list[0].score-hopeless {
			break
		}
		mz = append(mz, candidates[s.at])
		rows = append(rows, all[s.at])
	}
	return mz, rows
}

// Rank returns the candidates for the molecular ion, most probable first. The
// probabilities sum to 1 at most; the rest is that of an ion that isn't on the
// model's shortlist. An empty view gives none.
func (m *IonModel) Rank(v *View) []Ion { return m.honest(v, m.Raw(v)) }

// honest makes the probabilities of raw candidates honest, in place.
func (m *IonModel) honest(v *View, ions []Ion) []Ion {
	sum := 0.0
	for i := range ions {
		ions[i].Probability = m.Honest[Seen(v, ions[i].MZ)].At(ions[i].Probability)
		sum += ions[i].Probability
	}
	for i := range ions {
		ions[i].Probability /= max(sum, 1)
	}
	slices.SortStableFunc(ions, func(a, b Ion) int { return cmp.Compare(b.Probability, a.Probability) })
	return ions
}

// Seen tells which of the two curves a candidate belongs to.
func Seen(v *View, mz int) int {
	if v.at(mz) >= 1 {
		return 0
	}
	return 1
}

// Raw is Rank before the probabilities are made honest: those of the shortlist
// sum to 1. The fit needs it.
func (m *IonModel) Raw(v *View) []Ion {
	mz, rows := m.Shortlist(v)
	if len(mz) == 0 {
		return nil
	}
	ions := make([]Ion, len(mz))
	scores := m.Trees.Scores(rows)
	for i := range mz {
		ions[i].MZ = mz[i]
	}
	softmax(scores)
	for i := range ions {
		ions[i].Probability = scores[i]
	}
	slices.SortStableFunc(ions, func(a, b Ion) int { return cmp.Compare(b.Probability, a.Probability) })
	return ions
}

// softmax turns scores into probabilities in place.
func softmax(scores []float64) {
	top := slices.Max(scores)
	sum := 0.0
	for i, s := range scores {
		scores[i] = math.Exp(s - top)
		sum += scores[i]
	}
	for i := range scores {
		scores[i] /= sum
	}
}

// LossEvidence returns how much the intensity at a distance d below a
// candidate (0: at it; negative: above it, down to -3) speaks for it, as a
// natural log-likelihood ratio; 0 outside the table or below the lowest m/z.
func (m *IonModel) LossEvidence(v *View, candidate, d int) float64 {
	if d < -3 || d > lossReach || candidate-d < v.Low {
		return 0
	}
	return float64(m.Losses.Ratio[d+3][lossClass(v.at(candidate-d))])
}
