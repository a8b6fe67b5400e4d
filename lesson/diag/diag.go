// Package diag holds what is said about a lesson's source: a Diagnostic is a
// value with a code, a place, the claimed and the computed value, notes and a
// suggestion. Every code is a row of [Codes], with an example that a test
// triggers.
//
// The package neither finds mistakes nor prints them to a particular place;
// [Diagnostic.String] is the one text form.
package diag

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Severity says whether a diagnostic stops the build.
type Severity uint8

const (
	// Error stops the build.
	Error Severity = iota
	// Warning names what is risky though true; the build goes on.
	Warning
	// Advice is about the writing: what would make the lesson easier to follow.
	Advice
)

func (s Severity) String() string { return [...]string{"error", "warning", "advice"}[s] }

// MarshalText gives "error", "warning" or "advice".
func (s Severity) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// Span is a piece of one line of a lesson's file. Line and columns are
// 1-based and columns count characters, not bytes; EndCol is the column after
// the last character. The zero Line means the file as a whole.
type Span struct {
	File   string `json:"file"`
	Line   int    `json:"line,omitempty"`
	Col    int    `json:"col,omitempty"`
	EndCol int    `json:"endCol,omitempty"`
}

// String gives "file:line:col", or what of it is known.
func (s Span) String() string {
	switch {
	case s.Line == 0:
		return s.File
	case s.Col == 0:
		return fmt.Sprintf("%s:%d", s.File, s.Line)
	}
	return fmt.Sprintf("%s:%d:%d", s.File, s.Line, s.Col)
}

// Diagnostic is one finding about a lesson.
type Diagnostic struct {
	Code     Code     `json:"code"`
	Severity Severity `json:"severity"`
	Span
	// Message says what is wrong with what, the words of the source quoted.
	Message string `json:"message"`
	// Claimed and Computed stand beside each other where the lesson says one
	// thing and the computation gives another; both are empty otherwise.
	Claimed  string `json:"claimed,omitempty"`
	Computed string `json:"computed,omitempty"`
	// Notes say where the computed value came from, a line each.
	Notes []string `json:"notes,omitempty"`
	// Suggestion says what to do, in one sentence.
	Suggestion string `json:"suggestion,omitempty"`
}

// New returns a diagnostic of the code's own severity at a place.
func New(code Code, at Span, format string, args ...any) Diagnostic {
	return Diagnostic{Code: code, Severity: code.Severity(), Span: at, Message: fmt.Sprintf(format, args...)}
}

// Noted returns d with one more note.
func (d Diagnostic) Noted(format string, args ...any) Diagnostic {
	d.Notes = append(slices.Clone(d.Notes), fmt.Sprintf(format, args...))
	return d
}

// Suggesting returns d with a suggestion.
func (d Diagnostic) Suggesting(format string, args ...any) Diagnostic {
	d.Suggestion = fmt.Sprintf(format, args...)
	return d
}

// Against returns d with what the lesson claims and what was computed.
func (d Diagnostic) Against(claimed, computed string) Diagnostic {
	d.Claimed, d.Computed = claimed, computed
	return d
}

// String gives the diagnostic as text: "file:line:col: error: message [code]"
// and, indented on lines of their own, the claimed and computed values, the
// notes and the suggestion.
func (d Diagnostic) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s: %s [%s]", d.Span, d.Severity, d.Message, d.Code)
	if d.Claimed != "" || d.Computed != "" {
		fmt.Fprintf(&b, "\n    claimed:  %s\n    computed: %s", d.Claimed, d.Computed)
	}
	for _, note := range d.Notes {
		fmt.Fprintf(&b, "\n    %s", note)
	}
	if d.Suggestion != "" {
		fmt.Fprintf(&b, "\n    hint: %s", d.Suggestion)
	}
	return b.String()
}

// List is a collection of diagnostics. The zero value is ready to use.
type List []Diagnostic

// Add appends a diagnostic.
func (l *List) Add(d Diagnostic) { *l = append(*l, d) }

// HasErrors reports whether any of the list stops the build.
func (l List) HasErrors() bool { return l.Count(Error) > 0 }

// Count is the number of diagnostics of one severity.
func (l List) Count(s Severity) int {
	n := 0
	for _, d := range l {
		if d.Severity == s {
			n++
		}
	}
	return n
}

// Sort orders the list by file, line, column, code and message, and drops
// exact repetitions.
func (l *List) Sort() {
	slices.SortStableFunc(*l, func(a, b Diagnostic) int {
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Col, b.Col),
			cmp.Compare(a.Severity, b.Severity), cmp.Compare(a.Code, b.Code), cmp.Compare(a.Message, b.Message))
	})
	*l = slices.CompactFunc(*l, func(a, b Diagnostic) bool {
		return a.Span == b.Span && a.Code == b.Code && a.Message == b.Message
	})
}
