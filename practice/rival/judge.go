package rival

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"ionwright/reading/candidate"
	"ionwright/spectrum"
	"ionwright/spectrum/match"
)

// mostApart is how many rivals that can be told apart are named: the likeliest
// confusions.
const mostApart = 8

// judge compares computed structures with the answer.
func (s *search) judge(ctx context.Context, list []candidate.Structure) error {
	ranking, err := candidate.Rank(ctx, s.spectrum, s.given, append([]candidate.Structure{s.answer}, list...))
	if err != nil {
		return err
	}
	own := 0.0
	by := map[string]candidate.Ranked{}
	for _, r := range ranking.Ranked {
		by[r.Name] = r
		if r.Name == s.result.Answer {
			s.result.Match, own = r.Match, r.Probability
		}
	}
	given, answer := match.View(s.spectrum), match.View(s.computed)
	for _, c := range list {
		r := by[c.Name]
		computed := match.View(r.Prediction.Spectrum())
		one := Rival{SMILES: r.Name, Mol: r.Mol, Match: r.Match, Explained: r.Explained,
			Likeness: match.Cosine(answer, computed, match.WeightsA()), Odds: r.Probability / max(own, 1e-300)}
		one.Verdict = s.verdict(&one, computed)
		one.Deciding = deciding(given, answer, computed, s.telling(computed))
		s.far.Judged = append(s.far.Judged, one)
	}
	return nil
}

// rank puts the rivals in order and counts them.
func (s *search) rank() {
	all := s.far.Judged
	for _, one := range all {
		switch one.Verdict {
		case Same:
			s.result.Same++
		case Close:
			s.result.Close++
		}
	}
	slices.SortStableFunc(all, func(a, b Rival) int {
		return cmp.Or(cmp.Compare(b.Verdict, a.Verdict), cmp.Compare(b.Odds, a.Odds))
	})
	named := s.result.Same + s.result.Close
	s.result.Rivals = all[:min(len(all), named+mostApart)]
	s.result.Refused, s.result.Computed = len(s.far.Refused), len(all)
}

// mostDeciding is how many peaks are named, and leastDeciding the least
// difference of relative intensities that a reader would see, in % of base.
const (
	mostDeciding  = 4
	leastDeciding = 5.0
)

// deciding finds the peaks whose computed intensities differ most, by their
// square roots as spectra are compared, behind the telling ion, if there is one
// (0: none).
func deciding(given, answer, rival spectrum.Spectrum, telling int) []Peak {
	var peaks []Peak
	seen := map[int]bool{}
	for _, p := range slices.Concat(answer.Peaks, rival.Peaks) {
		mz := spectrum.UnitMZ(p.MZ)
		one := Peak{mz, given.Relative(mz), answer.Relative(mz), rival.Relative(mz)}
		if !seen[mz] && (mz == telling || math.Abs(one.Answer-one.Rival) >= leastDeciding) {
			peaks = append(peaks, one)
		}
		seen[mz] = true
	}
	slices.SortFunc(peaks, func(a, b Peak) int {
		if a.MZ == telling || b.MZ == telling {
			return cmp.Compare(btoi(b.MZ == telling), btoi(a.MZ == telling))
		}
		return cmp.Or(cmp.Compare(b.difference(), a.difference()), cmp.Compare(a.MZ, b.MZ))
	})
	return peaks[:min(mostDeciding, len(peaks))]
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

func (p Peak) difference() float64 { return math.Abs(math.Sqrt(p.Answer) - math.Sqrt(p.Rival)) }

// Sentence says what the peak shows.
func (p Peak) Sentence() string {
	return fmt.Sprintf("m/z %d: %.0f %% for the answer, %.0f %% for the rival (computed); %.0f %% given", p.MZ, p.Answer, p.Rival, p.Given)
}

// note says what wasn't looked at.
func (s *search) note() {
	r := s.result
	add := func(format string, args ...any) { r.Notes = append(r.Notes, fmt.Sprintf(format, args...)) }
	for _, f := range r.Formulas {
		if f.Share == 1 {
			continue
		}
		estimate, deviation := r.estimate(f)
		add("of %s only one structure in %.0f was looked at; the %.0f found there that are hard to tell apart stand for about %.0f, give or take %.0f (one standard deviation)",
			f.Formula, 1/f.Share, estimate*f.Share, estimate, deviation)
	}
	if r.Passed > 0 {
		add("%d structures came off worst in a quick look (groups, and masses of pieces) and weren't computed", r.Passed)
	}
	if r.Refused > 0 {
		add("%d structures are beyond the engine", r.Refused)
	}
	if len(s.leftOut) > 0 {
		add("formulas that the spectrum makes improbable were left out, such as %s", strings.Join(s.leftOut, ", "))
	}
	if better := r.better(); better > 0 && len(s.problem.Spectrum.Peaks) > 0 {
		add("%d structures fit the given spectrum better than the answer does although they would look different: the computed spectra are crude there", better)
	}
	r.Clues = s.clues
	if len(s.clues) > 0 {
		add("taken from the peaks as sure: %s", strings.Join(s.clues, ", "))
	}
	add("strained and unstable structures and stereoisomers weren't looked at; spectra are computed, and differ from measured ones")
}

// estimate is how many structures of a formula are hard to tell apart, by those
// found among the share of it that was looked at, with the standard deviation
// of a count (of one where none was found).
func (r *Result) estimate(f Formula) (number, deviation float64) {
	found := 0
	for _, x := range r.Rivals {
		if x.Verdict > Apart && x.Mol.Formula() == f.Formula {
			found++
		}
	}
	return float64(found) / f.Share, math.Sqrt(float64(max(found, 1))) / f.Share
}

// better counts the structures that fit better, and would look different.
func (r *Result) better() int {
	n := 0
	for _, x := range r.Rivals {
		if x.Verdict == Apart && x.Odds > 1 {
			n++
		}
	}
	return n
}
