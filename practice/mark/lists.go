package mark

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"ionwright/practice"
	"ionwright/practice/answer"
	"ionwright/practice/arrow"
	"ionwright/practice/cause"
)

// option finds a choice by its letter, or by its own text.
func option(options []practice.Option, text string) (practice.Option, bool) {
	for _, l := range letters([]string{text}) {
		for _, o := range options {
			if o.Letter == l || strings.EqualFold(strings.TrimSpace(o.Text), strings.TrimSpace(text)) {
				return o, true
			}
		}
	}
	return practice.Option{}, false
}

func choice(k practice.Choice, a answer.Answer) judgement {
	text := a.Text
	if a.List != nil {
		if len(a.Items()) > 1 {
			return judgement{unread: "One choice is expected here, and you gave several."}
		}
		text = strings.Join(a.Items(), "")
	}
	o, ok := option(k.Options, text)
	if !ok {
		return judgement{unread: fmt.Sprintf("The letter of one of the choices is expected here, %s.", span(k.Options))}
	}
	j := judgement{given: cause.Given{List: []string{o.Letter}, Words: answer.Words(o.Text)}}
	if o.Right {
		j.share = 1
	}
	if o.Because != "" {
		j.reasons = []string{sentence(o.Because)}
	}
	if c, known := cause.Named(o.Cause); known && !o.Right {
		j.found = []cause.Found{{Cause: c}}
	}
	return j
}

func span(options []practice.Option) string {
	if len(options) == 0 {
		return "A"
	}
	return options[0].Letter + " to " + options[len(options)-1].Letter
}

// choices gives each right choice its share and takes one off for each wrong
// one.
func choices(k practice.Choices, a answer.Answer) judgement {
	var j judgement
	var chosen []practice.Option
	for _, item := range pieces(a, k.Options) {
		o, ok := option(k.Options, item)
		if !ok {
			return judgement{unread: fmt.Sprintf("Letters of the choices are expected here, %s; %q isn't one.", span(k.Options), cut(item))}
		}
		if !slices.ContainsFunc(chosen, func(c practice.Option) bool { return c.Letter == o.Letter }) {
			chosen = append(chosen, o)
		}
	}
	right, hit, false_ := 0, 0, 0
	for _, o := range k.Options {
		picked := slices.ContainsFunc(chosen, func(c practice.Option) bool { return c.Letter == o.Letter })
		if o.Right {
			right++
		}
		switch {
		case o.Right && picked:
			hit++
		case picked:
			false_++
			j.reasons = append(j.reasons, sentence(o.Letter+": "+orElse(o.Because, "this isn't right")))
			if c, known := cause.Named(o.Cause); known {
				j.found = append(j.found, cause.Found{Cause: c})
			}
		}
	}
	for _, o := range chosen {
		j.given.List = append(j.given.List, o.Letter)
	}
	if hit < right {
		j.reasons = append(j.reasons, fmt.Sprintf("You found %d of %d right choices.", hit, right))
	}
	j.share = max(0, float64(hit-false_)/float64(right))
	return j
}

// pieces are the choices named; letters may stand side by side ("AC").
func pieces(a answer.Answer, options []practice.Option) []string {
	items := a.Items()
	if a.List == nil && len(items) == 1 && len(items[0]) > 1 && len(items[0]) <= len(options) {
		if _, whole := option(options, items[0]); !whole {
			return strings.Split(items[0], "")
		}
	}
	if a.List == nil {
		if _, whole := option(options, a.Text); whole {
			return []string{a.Text}
		}
	}
	return items
}

// peaks gives each peak its share and takes one off for each wrong one.
func peaks(k practice.Peaks, a answer.Answer) judgement {
	var j judgement
	j.given.List = []string{}
	a.Text = strings.NewReplacer("m/z", " ", " and ", " ").Replace(a.Text)
	hit, wrong := map[int]bool{}, map[int]bool{}
	for _, item := range a.Items() {
		n, err := answer.ReadNumber(item)
		if err != nil || n.Value < 1 || n.Value > 1e5 {
			return judgement{unread: fmt.Sprintf("The m/z of peaks are expected here, such as 43, 58; %q isn't one.", cut(item))}
		}
		mz := int(math.Round(n.Value))
		j.given.List = append(j.given.List, fmt.Sprint(mz))
		switch {
		case slices.Contains(k.MZ, mz):
			hit[mz] = true
		case !slices.Contains(k.Also, mz):
			wrong[mz] = true
		}
	}
	if len(k.MZ) == 1 && len(wrong) == 1 && len(hit) == 0 {
		for mz := range wrong {
			x := float64(mz)
			j.given.Number = &x
		}
	}
	j.share = max(0, float64(len(hit)-len(wrong))/float64(len(k.MZ)))
	if len(hit) < len(k.MZ) {
		j.reasons = append(j.reasons, fmt.Sprintf("You picked %d of %d right peaks.", len(hit), len(k.MZ)))
	}
	if len(wrong) > 0 {
		var list []string
		for _, item := range j.given.List {
			n, _ := answer.ReadNumber(item)
			if wrong[int(n.Value)] && !slices.Contains(list, item) {
				list = append(list, item)
			}
		}
		j.reasons = append(j.reasons, "Not among them: m/z "+strings.Join(list, ", ")+".")
	}
	return j
}

// assign gives each peak its share.
func assign(k practice.Assign, facts cause.Facts, a answer.Answer) judgement {
	if a.Pairs == nil {
		pairs, ok := readPairs(a)
		if !ok {
			return judgement{unread: "An ion for each peak is expected here, such as 43: C2H3O+; 57: C3H5O+."}
		}
		a = answer.Answer{Pairs: pairs}
	}
	j := judgement{given: cause.Given{Pairs: map[string]string{}}}
	hit := 0
	for _, row := range k.Rows {
		text := strings.TrimSpace(at(a.Pairs, row.MZ))
		j.given.Pairs[fmt.Sprint(row.MZ)] = text
		if text == "" {
			j.reasons = append(j.reasons, fmt.Sprintf("Nothing stands beside m/z %d.", row.MZ))
			continue
		}
		f, err := answer.ReadFormula(text)
		if err == nil && slices.Contains(row.Ions, f.Formula) && f.Heavy == 0 {
			hit++
			continue
		}
		j.reasons = append(j.reasons, fmt.Sprintf("The ion at m/z %d isn't %s.", row.MZ, cut(text)))
		if err != nil {
			continue
		}
		facts := facts
		facts.Asks, facts.MZ, facts.Ion, facts.Possible = cause.IonAt, float64(row.MZ), row.Ions[0], row.Ions
		j.found = append(j.found, cause.Of(facts, cause.Given{Formula: &f})...)
	}
	j.share = float64(hit) / float64(len(k.Rows))
	return j
}

// at finds the pair of an m/z, however the key is written.
func at(pairs map[string]string, mz int) string {
	for k, v := range pairs {
		if n, err := answer.ReadNumber(k); err == nil && n.Value == float64(mz) {
			return v
		}
	}
	return ""
}

// readPairs reads "43: C2H3O+; 57 = C3H5O+".
func readPairs(a answer.Answer) (map[string]string, bool) {
	list := a.List
	if list == nil {
		list = strings.FieldsFunc(a.Text, func(r rune) bool { return strings.ContainsRune(";,\n", r) })
	}
	pairs := map[string]string{}
	for _, s := range list {
		i := strings.IndexAny(s, ":=")
		if i < 0 {
			return nil, false
		}
		pairs[strings.TrimSpace(s[:i])] = strings.TrimSpace(s[i+1:])
	}
	return pairs, len(pairs) > 0
}

// order gives each step that follows its right neighbor its share.
func order(k practice.Order, a answer.Answer) judgement {
	given := letters(a.Items())
	if a.List == nil && len(given) == 1 && len(given[0]) == len(k.Steps) {
		given = strings.Split(given[0], "")
	}
	known := map[string]int{}
	for i, s := range k.Steps {
		known[s.Letter] = i
	}
	for i, l := range given {
		if _, ok := known[l]; !ok || slices.Contains(given[:i], l) {
			return judgement{unread: fmt.Sprintf("Each step's letter once is expected here, such as %s.", strings.Join(shown(k), ", "))}
		}
	}
	j := judgement{given: cause.Given{List: given}}
	if len(given) == len(k.Steps) && slices.IsSortedFunc(given, func(a, b string) int { return known[a] - known[b] }) {
		j.share = 1
		return j
	}
	pairs := 0
	for i := 1; i < len(given); i++ {
		if known[given[i]] == known[given[i-1]]+1 {
			pairs++
		}
	}
	// All pairs but a wrong beginning or a missing step isn't all.
	j.share = min(float64(pairs)/float64(len(k.Steps)-1), 1-1/float64(len(k.Steps)))
	j.reasons = append(j.reasons, fmt.Sprintf("%d of %d steps follow the right one.", pairs, len(k.Steps)-1))
	if len(given) < len(k.Steps) {
		j.reasons = append(j.reasons, fmt.Sprintf("%d of %d steps are missing.", len(k.Steps)-len(given), len(k.Steps)))
	}
	return j
}

func shown(k practice.Order) []string {
	var out []string
	for _, s := range k.Shown() {
		out = append(out, s.Letter)
	}
	return out
}

// arrows gives all marks where the arrows lead to the right ion and neutral;
// else each arrow its share, and takes one off for each wrong one, by the set
// that the answer is nearest to.
func arrows(k practice.Arrows, a answer.Answer) judgement {
	given, err := answer.ReadArrows(a)
	if err != nil {
		return judgement{unread: sentence(err.Error())}
	}
	j := judgement{given: cause.Given{Arrows: given, List: []string{}}}
	for _, g := range given {
		j.given.List = append(j.given.List, g.String())
	}
	best := -1.0
	for _, way := range k.Ways {
		hit := 0
		for _, g := range given {
			if slices.Contains(way, g) {
				hit++
			}
		}
		share := max(0, float64(2*hit-len(given))/float64(len(way)))
		if share > best {
			best = share
			j.reasons = nil
			if hit < len(way) || len(given) > hit {
				j.reasons = []string{fmt.Sprintf("%d of your %s are right; the step needs %d.", hit, plural(len(given), "arrow"), len(way))}
			}
		}
	}
	j.share = best
	if best == 1 || k.Drawn == nil {
		return j
	}
	switch err := arrow.Same(k.Drawn, k.Ways[0], given); {
	case err == nil:
		j.share, j.reasons = 1, []string{"Right: these arrows lead to the same ion and neutral as the key's."}
	case !errors.Is(err, arrow.ErrSame):
		j.reasons = append(j.reasons, sentence(err.Error()))
	}
	return j
}

func sameArrows(x, y []answer.Arrow) bool {
	return len(x) == len(y) && !slices.ContainsFunc(x, func(a answer.Arrow) bool { return !slices.Contains(y, a) })
}

func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
