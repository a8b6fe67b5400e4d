package names

import (
	"cmp"
	"slices"
	"strings"
)

// maxSuggestions is how many names an UnknownError suggests.
const maxSuggestions = 5

// suggestions lists known names spelled like the whole name, and names with the
// unread end replaced by a known word that makes it a compound.
func (r *reader) suggestions(at int) []string {
	type scored struct {
		text     string
		distance int
	}
	var list []scored
	limit := 1 + len(r.s)/5
	for name := range compounds().byName {
		if d, ok := distance(r.s, name, limit); ok {
			list = append(list, scored{name, d})
		}
	}
	if at > 0 {
		for _, word := range terms().words {
			if d, ok := distance(r.s[at:], word, 1+(len(r.s)-at)/4); ok {
				list = append(list, scored{r.s[:at] + word, d})
			}
		}
	} else {
		for _, word := range terms().words {
			if d, ok := distance(r.s, word, limit); ok {
				list = append(list, scored{word, d})
			}
		}
	}
	slices.SortFunc(list, func(a, b scored) int {
		return cmp.Or(cmp.Compare(a.distance, b.distance), strings.Compare(a.text, b.text))
	})
	var out []string
	nearest := 0
	for _, s := range list {
		if len(out) == maxSuggestions || len(out) > 0 && s.distance > nearest+1 {
			break
		}
		if slices.Contains(out, s.text) || !resolves(s.text) {
			continue
		}
		if len(out) == 0 {
			nearest = s.distance
		}
		out = append(out, s.text)
	}
	return out
}

// resolves reports whether a suggestion is a name.
func resolves(name string) bool {
	t, ok := newText(name)
	if !ok {
		return false
	}
	r := newReader(t)
	_, err, done := r.decide(r.named(0, len(r.s)))
	return done && err == nil
}

// distance is the number of letters to insert, delete, replace or swap with
// the next one to turn a into b; false where it is above limit.
func distance(a, b string, limit int) (int, bool) {
	if len(a)-len(b) > limit || len(b)-len(a) > limit {
		return 0, false
	}
	rows := [3][]int{make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(a); i++ {
		row, above, before := rows[i%3], rows[(i+2)%3], rows[(i+1)%3]
		row[0] = i
		least := i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(above[j]+1, row[j-1]+1, above[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
			least = min(least, row[j])
		}
		if least > limit {
			return 0, false
		}
	}
	d := rows[len(a)%3][len(b)]
	return d, d <= limit
}
