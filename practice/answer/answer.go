// Package answer reads what students write: numbers with units, formulas,
// structures, lists, electron arrows and sentences. For most uses decode an
// [Answer] from JSON and call [ReadNumber], [ReadFormula], [ReadStructure],
// [Answer.Items] or [ReadArrows].
//
// Nothing in it can fail on hostile text but with an error that says what
// couldn't be read; it judges nothing (see practice/mark).
package answer

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"
)

// Limits on what is read of one answer.
const (
	MaxText  = 20_000 // bytes of one text; a drawn structure needs most
	MaxItems = 200    // of a list or of pairs
)

// Answer is what a student gives, in the notation of the question's kind. One
// of the fields is used; the zero value is a blank.
type Answer struct {
	Text  string            // a number, a formula, a structure, a letter, words
	List  []string          // letters, m/z, steps, arrows
	Pairs map[string]string // m/z to ion
}

// Of is an answer of one text.
func Of(text string) Answer { return Answer{Text: text} }

// Listed is an answer of several texts, in their order.
func Listed(items ...string) Answer { return Answer{List: items} }

// Blank tells whether nothing was answered.
func (a Answer) Blank() bool {
	blank := strings.TrimSpace(a.Text) == ""
	for _, s := range a.List {
		blank = blank && strings.TrimSpace(s) == ""
	}
	for _, s := range a.Pairs {
		blank = blank && strings.TrimSpace(s) == ""
	}
	return blank
}

// Check returns an error for an answer larger than the limits.
func (a Answer) Check() error {
	if len(a.List) > MaxItems || len(a.Pairs) > MaxItems {
		return fmt.Errorf("reading the answer: it has more than %d parts", MaxItems)
	}
	size := len(a.Text)
	for _, s := range a.List {
		size += len(s)
	}
	for k, s := range a.Pairs {
		size += len(k) + len(s)
	}
	if size > MaxText {
		return fmt.Errorf("reading the answer: it has %d bytes, and %d are read at most", size, MaxText)
	}
	return nil
}

// Items are the parts of a list; a single text counts as one that is written
// with commas, semicolons or blanks between them.
func (a Answer) Items() []string {
	list := a.List
	if list == nil {
		list = strings.FieldsFunc(a.Text, func(r rune) bool { return strings.ContainsRune(",; \t\n\r", r) })
	}
	var out []string
	for _, s := range list {
		if s = strings.TrimSpace(s); s != "" {
			out = append(out, s)
		}
	}
	return out
}

// Keys are the keys of the pairs, in order.
func (a Answer) Keys() []string { return slices.Sorted(maps.Keys(a.Pairs)) }

// String is the answer on one line, for a person.
func (a Answer) String() string {
	switch {
	case a.Pairs != nil:
		var parts []string
		for _, k := range a.Keys() {
			parts = append(parts, k+": "+a.Pairs[k])
		}
		return strings.Join(parts, "; ")
	case a.List != nil:
		return strings.Join(a.List, ", ")
	}
	return strings.TrimSpace(a.Text)
}

// MarshalJSON writes a text, an array of texts or an object of texts.
func (a Answer) MarshalJSON() ([]byte, error) {
	switch {
	case a.Pairs != nil:
		return json.Marshal(a.Pairs)
	case a.List != nil:
		return json.Marshal(a.List)
	}
	return json.Marshal(a.Text)
}

// UnmarshalJSON reads a text, a number (kept in the digits it is written in),
// true or false, null for a blank, an array of these, or an object of these.
func (a *Answer) UnmarshalJSON(data []byte) error {
	d := json.NewDecoder(bytes.NewReader(data))
	d.UseNumber()
	var v any
	if err := d.Decode(&v); err != nil {
		return err
	}
	*a = Answer{}
	switch v := v.(type) {
	case []any:
		a.List = []string{}
		for i, item := range v {
			s, err := scalar(item)
			if err != nil {
				return fmt.Errorf("reading the answer: part %d %w", i+1, err)
			}
			a.List = append(a.List, s)
		}
	case map[string]any:
		a.Pairs = map[string]string{}
		for k, item := range v {
			s, err := scalar(item)
			if err != nil {
				return fmt.Errorf("reading the answer: the part %q %w", k, err)
			}
			a.Pairs[k] = s
		}
	default:
		s, err := scalar(v)
		if err != nil {
			return fmt.Errorf("reading the answer: it %w", err)
		}
		a.Text = s
	}
	return nil
}

func scalar(v any) (string, error) {
	switch v := v.(type) {
	case nil:
		return "", nil
	case string:
		return v, nil
	case json.Number:
		return v.String(), nil
	case bool:
		return fmt.Sprint(v), nil
	}
	return "", fmt.Errorf("is a list or an object where a text or a number is expected")
}
