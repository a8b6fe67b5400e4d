package names

import (
	"fmt"
	"strings"
)

// UnknownError reports text that no rule and no table row reads.
type UnknownError struct {
	Name        string   // as given
	Offset      int      // where the unread text begins, in characters, 1-based
	Text        string   // the unread text
	Suggestions []string // known names nearest in spelling, best first; may be empty
}

// Error says what couldn't be read, where, and what is spelled like it.
func (e *UnknownError) Error() string {
	var b strings.Builder
	fmt.Fprintf(&b, "reading the name %q: ", e.Name)
	if e.Offset == 1 {
		b.WriteString("unknown name")
	} else {
		fmt.Fprintf(&b, "can't read %q at character %d", e.Text, e.Offset)
	}
	if len(e.Suggestions) > 0 {
		fmt.Fprintf(&b, "\n  did you mean %s?", strings.Join(e.Suggestions, ", "))
	}
	return b.String()
}

// NameError reports a name that is understood but names no structure: a
// locant that the parent doesn't have, one bond too many, a number of locants
// that doesn't fit its prefix.
type NameError struct {
	Name   string // as given
	Offset int    // where the faulty part begins, in characters, 1-based
	Reason string // what is wrong
}

// Error says what is wrong and where.
func (e *NameError) Error() string {
	return fmt.Sprintf("reading the name %q, character %d: %s", e.Name, e.Offset, e.Reason)
}

// AmbiguousError reports a name that has more than one meaning.
type AmbiguousError struct {
	Name     string
	Meanings []string // SMILES of the structures, at least two, at most maxMeanings
	More     bool     // there are further meanings
}

// maxMeanings is how many meanings an AmbiguousError lists.
const maxMeanings = 8

// Error lists the meanings.
func (e *AmbiguousError) Error() string {
	list := strings.Join(e.Meanings, ", ")
	if e.More {
		list += ", ..."
	}
	return fmt.Sprintf("reading the name %q: it may mean %s\n  give the locants, or parentheses around compound substituents", e.Name, list)
}
