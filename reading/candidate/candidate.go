// Package candidate ranks structures by how well they explain a spectrum: by
// the spectrum computed for each, by the share of the ion current on ions that
// it can form, and by what the peaks say without any structure (package
// reading). It says which peaks decide between the first two.
//
// For most uses call Rank. The structures come from the caller: a list typed,
// a file, or the isomers of a formula. Package reading itself knows no
// structures, so that a reading can't peek.
package candidate

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"ionwright/ionize"
	"ionwright/mol"
	"ionwright/reading"
	"ionwright/spectrum"
	"ionwright/spectrum/match"
)

// Structure is a structure that may be the compound.
type Structure struct {
	Name       string // what the caller calls it; the ranking's sentences use it
	Mol        *mol.Mol
	Prediction *ionize.Prediction // of Mol, at 70 eV; nil: Rank computes it
}

// Ranked is a structure with what speaks for it.
type Ranked struct {
	Structure            // with its prediction
	Probability float64  // among the structures ranked, if one of them is the compound
	Match       float64  // cosine of the measured and the computed spectrum, 0 to 1
	Explained   float64  // share of the ion current from m/z 29 on that its ions explain, 0 to 1
	Clues       float64  // natural logarithm of how probable its groups are by the peaks alone
	Formula     float64  // the same of its mass and formula
	Against     []string // sentences: what the structure leaves open
	Assignment  *ionize.Assignment

	computed spectrum.Spectrum // as match.View shows it
}

// Refused is a structure that couldn't be judged.
type Refused struct {
	Structure
	Reason error
}

// Ranking is what a spectrum says about a list of structures.
type Ranking struct {
	Ranked   []Ranked  // best first
	Refused  []Refused // in the order given
	Deciding []Deciding
	Sentence string // the outcome, with its doubt
}

// Most structures that are ranked at a time: each takes tens of milliseconds.
const Most = 500

// Rank ranks the structures for a spectrum, with what is given beside it. It
// fails for no structures, for more than Most, for a spectrum without peaks
// from m/z 29 on, and when ctx ends. A structure whose spectrum can't be
// computed is among Refused, and the rest is ranked.
//
// The score is a weighted sum of Match, Explained, Clues and Formula, from
// which the probabilities follow; they presume that one of the structures is
// the right one, and isomers that aren't on the list aren't thought of.
func Rank(ctx context.Context, s spectrum.Spectrum, given reading.Given, list []Structure) (Ranking, error) {
	if len(list) == 0 {
		return Ranking{}, errors.New("ranking structures for a spectrum: no structure is given")
	}
	if len(list) > Most {
		return Ranking{}, fmt.Errorf("ranking structures for a spectrum: %d are given; at most %d are ranked at a time", len(list), Most)
	}
	measured := match.View(s)
	if len(measured.Peaks) == 0 {
		return Ranking{}, errors.New("ranking structures for a spectrum: it has no peaks at m/z 29 or more")
	}
	weights, err := weights()
	if err != nil {
		return Ranking{}, fmt.Errorf("ranking structures for a spectrum: %w", err)
	}
	read := reading.Quick(s, given)
	var out Ranking
	for _, c := range list {
		if ctx.Err() != nil {
			return Ranking{}, fmt.Errorf("ranking structures for a spectrum: %w", ctx.Err())
		}
		if c.Prediction == nil {
			var err error
			if c.Prediction, err = ionize.Predict(ctx, c.Mol, ionize.Settings{}); err != nil {
				if ctx.Err() != nil {
					return Ranking{}, fmt.Errorf("ranking structures for a spectrum: %w", ctx.Err())
				}
				out.Refused = append(out.Refused, Refused{c, err})
				continue
			}
		}
		out.Ranked = append(out.Ranked, judge(measured, read, c))
	}
	out.order(measured, weights)
	return out, nil
}

// judge fills everything but the probability.
func judge(measured spectrum.Spectrum, read reading.Reading, c Structure) Ranked {
	r := Ranked{Structure: c, computed: match.View(c.Prediction.Spectrum())}
	r.Match = match.Cosine(measured, r.computed, match.WeightsA())
	r.Assignment = c.Prediction.Assign(measured)
	r.Explained = r.Assignment.Explained
	r.Clues = groupsLikely(read, c.Mol)
	r.Formula = formulaLikely(read, c.Mol)
	if open := unexplained(r.Assignment); len(open) > 0 {
		r.Against = append(r.Against, "few or none of its ions come to "+peakList(measured, open))
	}
	if m := read.MolecularIon; len(m) > 0 && m[0].MZ != c.Mol.Formula().NominalMass() && m[0].Probability > 0.5 {
		r.Against = append(r.Against, fmt.Sprintf("its mass is %d, and the peaks rather show %d", c.Mol.Formula().NominalMass(), m[0].MZ))
	}
	return r
}

// order sorts, gives the probabilities and finds what decides.
func (r *Ranking) order(measured spectrum.Spectrum, weights Parts) {
	if len(r.Ranked) == 0 {
		r.Sentence = "None of the structures could be judged."
		return
	}
	score := func(c Ranked) float64 { return weights.Score(c.Parts()) }
	slices.SortStableFunc(r.Ranked, func(a, b Ranked) int { return cmp.Compare(score(b), score(a)) })
	top, sum := score(r.Ranked[0]), 0.0
	for i := range r.Ranked {
		r.Ranked[i].Probability = math.Exp(score(r.Ranked[i]) - top)
		sum += r.Ranked[i].Probability
	}
	for i := range r.Ranked {
		r.Ranked[i].Probability /= sum
	}
	if len(r.Ranked) > 1 {
		r.Deciding = deciding(measured, r.Ranked[0], r.Ranked[1])
	}
	r.Sentence = r.outcome()
}
