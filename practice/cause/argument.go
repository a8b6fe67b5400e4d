package cause

import (
	"fmt"
	"slices"
	"strings"

	"ionwright/practice/answer"
)

// argumentCauses are wrong rules about how a spectrum is read and a conclusion
// supported.
var argumentCauses = []Cause{
	{
		Code: OneCue, Title: "one clue decides the whole answer",
		Rule:   "A peak I know settles it.",
		Remedy: "One clue is a guess; two that don't depend on each other are an argument. Ask which other compound would show the same peak.",
		Source: "GAMAGE23 (for NMR)",
		leads: func(f Facts) []Mistake {
			if f.Needs < 2 {
				return nil
			}
			var out []Mistake
			for _, c := range f.Clues {
				out = append(out, Mistake{Words: c, Alone: true, Because: "it is the only clue given"})
			}
			return out
		},
		fits: func(f Facts, a Given) bool { return f.Needs >= 2 && a.Found == 1 },
	}, {
		Code: Undirected, Title: "the peaks are read without a plan",
		Rule:   "Explain every peak as it comes, then see what it adds up to.",
		Remedy: "Begin with what must hold (molecular ion, isotopes, nitrogen, formula), then foresee what a guess would give, then check all strong peaks.",
		Source: "CONNOR21",
		leads: func(f Facts) []Mistake {
			if f.Asks != Steps || len(f.Protocol) < 2 {
				return nil
			}
			stages := slices.Clone(f.Protocol)
			slices.SortStableFunc(stages, func(a, b Stage) int { return int(b.Phase) - int(a.Phase) })
			wrong := ids(stages)
			if slices.Equal(wrong, ids(f.Protocol)) {
				return nil
			}
			return []Mistake{{List: wrong, Because: "details come before what must hold"}}
		},
		fits: func(f Facts, a Given) bool {
			if f.Asks != Steps {
				return false
			}
			phases := map[string]Phase{}
			for _, s := range f.Protocol {
				phases[s.ID] = s.Phase
			}
			highest := Phase(0)
			for _, id := range a.List {
				p, known := phases[id]
				if known && p < highest {
					return true
				}
				highest = max(highest, p)
			}
			return false
		},
	}, {
		Code: Unchecked, Title: "the structure wasn't checked against all peaks",
		Rule:   "A structure that fits the formula and one peak is the answer.",
		Remedy: "Break your structure on paper and look for each ion in the spectrum; a strong peak that stays unexplained speaks against it.",
		Source: "WINSCHEL15, citing Cartrette and Bodner",
		leads: func(f Facts) []Mistake {
			if f.Asks != Identity {
				return nil
			}
			var out []Mistake
			for _, r := range f.Rivals {
				why := "it has the formula, but not what the spectrum shows"
				if len(r.Lacks) > 0 {
					why = "it leaves " + peaks(r.Lacks) + " unexplained"
				}
				out = append(out, Mistake{Structure: r.SMILES, Because: why})
			}
			return out
		},
		fits: func(f Facts, a Given) bool {
			return f.Asks == Identity && a.Structure != nil && f.Compound != nil && a.Structure.Formula() == f.Compound.Formula() &&
				!answer.SameIon(a.Structure, f.Compound)
		},
	}, {
		Code: OneMeaning, Title: "one loss or m/z is read as one group",
		Rule:   "A mass I learned for a group means that group: 43 is acetyl, 77 is phenyl, 45 is COOH.",
		Remedy: "Several formulas share a nominal mass. List them all, then name the other evidence that decides between them.",
		Source: "LANGE; CIE M20 (accepts both formulas for 45)",
		leads:  otherMeanings,
		fits: func(f Facts, a Given) bool {
			if len(f.Right) < 2 || len(a.List) == 0 || len(a.List) >= len(f.Right) {
				return false
			}
			for _, letter := range a.List {
				if !slices.Contains(f.Right, letter) {
					return false
				}
			}
			return true
		},
	},
}

func ids(stages []Stage) []string {
	var out []string
	for _, s := range stages {
		out = append(out, s.ID)
	}
	return out
}

// peaks lists m/z in words: "m/z 43, 58 and 71".
func peaks(mz []int) string {
	var parts []string
	for _, m := range mz {
		parts = append(parts, fmt.Sprint(m))
	}
	if n := len(parts); n > 1 {
		return "m/z " + strings.Join(parts[:n-1], ", ") + " and " + parts[n-1]
	}
	return "m/z " + strings.Join(parts, "")
}

func says(a Given, phrase string) bool { return answer.Says(a.Words, phrase) }
