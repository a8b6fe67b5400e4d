package diag

import (
	"slices"
	"strings"
)

// Nearest returns the candidate most like word, and false when none is near
// enough to be a slip of the pen: more than a third of the letters differ.
// Letter case counts less than a letter. Ties go to the first in alphabetical
// order, so the answer doesn't depend on the order of the candidates.
func Nearest(word string, candidates []string) (string, bool) {
	const maxLen = 64 // longer words aren't names; keeps the table small
	if word == "" || len(word) > maxLen {
		return "", false
	}
	sorted := slices.Clone(candidates)
	slices.Sort(sorted)
	best, bestCost := "", 2*(len(word)+2)/3+1
	for _, c := range sorted {
		if len(c) > maxLen || c == "" {
			continue
		}
		if cost := slipCost(word, c); cost < bestCost {
			best, bestCost = c, cost
		}
	}
	return best, best != ""
}

// slipCost is the edit distance in half steps: 2 for a letter put in, left
// out, changed or swapped with its neighbor, 1 for a change of case only.
func slipCost(a, b string) int {
	before, row := make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range row {
		row[j] = 2 * j
	}
	for i := 1; i <= len(a); i++ {
		last := slices.Clone(row)
		row[0] = 2 * i
		for j := 1; j <= len(b); j++ {
			change := 2
			switch {
			case a[i-1] == b[j-1]:
				change = 0
			case strings.EqualFold(a[i-1:i], b[j-1:j]):
				change = 1
			}
			row[j] = min(last[j-1]+change, last[j]+2, row[j-1]+2)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+2)
			}
		}
		before = last
	}
	return row[len(b)]
}

// Quoted lists names for a message: `"a", "b" or "c"`, at most limit of them.
func Quoted(names []string, limit int) string {
	shown := names
	if len(shown) > limit {
		shown = shown[:limit]
	}
	quoted := make([]string, len(shown))
	for i, n := range shown {
		quoted[i] = `"` + n + `"`
	}
	switch {
	case len(quoted) == 0:
		return "none"
	case len(names) > limit:
		return strings.Join(quoted, ", ") + ", ..."
	case len(quoted) == 1:
		return quoted[0]
	}
	return strings.Join(quoted[:len(quoted)-1], ", ") + " or " + quoted[len(quoted)-1]
}
