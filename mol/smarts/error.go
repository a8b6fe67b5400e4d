package smarts

import "fmt"

// An Error says why a text is no pattern of this language.
type Error struct {
	Pattern  string // the text as given
	Position int    // 1-based character, where the problem was noticed
	Problem  string // what is wrong, with the offending part quoted
	Hint     string // what to write instead; may be empty
}

// Error gives the problem with its place and, on a line of its own, the hint.
// A long pattern is shown only around the place.
func (e *Error) Error() string {
	text := fmt.Sprintf("compiling SMARTS %s: at character %d: %s", e.excerpt(), e.Position, e.Problem)
	if e.Hint != "" {
		text += "\nhint: " + e.Hint
	}
	return text
}

// excerpt quotes the pattern, or its surroundings of the place where it is
// longer than a line.
func (e *Error) excerpt() string {
	const before, after = 40, 20
	from, to := 0, len(e.Pattern)
	if to > before+after {
		from = max(0, e.Position-1-before)
		to = min(to, e.Position-1+after)
	}
	quoted := fmt.Sprintf("%q", e.Pattern[from:to])
	if from > 0 {
		quoted = "…" + quoted
	}
	if to < len(e.Pattern) {
		quoted += "…"
	}
	return quoted
}
