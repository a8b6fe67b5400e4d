package names

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"ionwright/mol"
	"ionwright/mol/smiles"
)

// Result is a name's structure and what there is to say about it.
type Result struct {
	Mol   *mol.Mol
	Notes []string // what the structure leaves out or how the name was read; may be empty
	Row   *Row     // the table row, where the name is in the table; else nil
}

// Resolve returns the structure that a name means, without stereo, aromatic
// rings marked. Capitals, spelling of brackets and hyphens, and spaces beside
// them don't matter, except that a name with small and capital letters
// distinguishes N- (on nitrogen) and n- (unbranched).
//
// Errors: [*UnknownError] for text that is no name, [*NameError] for a name
// that no structure fits, [*AmbiguousError] for one that several fit.
func Resolve(name string) (*mol.Mol, error) {
	result, err := Interpret(name)
	if err != nil {
		return nil, err
	}
	return result.Mol, nil
}

// SMILES is Resolve with the structure as canonical SMILES.
func SMILES(name string) (string, error) {
	m, err := Resolve(name)
	if err != nil {
		return "", err
	}
	return smiles.Canonical(m), nil
}

// Interpret is Resolve with notes.
func Interpret(name string) (Result, error) {
	return interpret(name, false)
}

// Systematic is Interpret by the rules of nomenclature alone, without the
// table.
func Systematic(name string) (Result, error) {
	return interpret(name, true)
}

func interpret(name string, withoutTable bool) (Result, error) {
	t, ok := newText(name)
	if !ok {
		return Result{}, &NameError{Name: shortened(name), Offset: 1, Reason: refusal(name)}
	}
	if t.s == "" {
		return Result{}, &UnknownError{Name: name, Offset: 1}
	}
	var first *reader
	for _, form := range t.forms() {
		r := newReader(form)
		r.without = withoutTable
		if first == nil {
			first = r
		}
		found := r.named(0, len(r.s))
		result, err, done := r.decide(found)
		if done {
			return result, err
		}
	}
	return Result{}, first.failure()
}

// refusal says why a text can't be a name.
func refusal(name string) string {
	if utf8.RuneCountInString(name) > MaxLength {
		return fmt.Sprintf("longer than %d characters", MaxLength)
	}
	return "the text has control characters or isn't UTF-8"
}

// shortened cuts text that is too long to quote.
func shortened(name string) string {
	const most = 60
	if runes := []rune(strings.ToValidUTF8(name, "?")); len(runes) > most {
		return string(runes[:most]) + "..."
	}
	return strings.ToValidUTF8(name, "?")
}

// forms returns the name as it stands and, in order of trust, other ways to
// write it: turned around (benzoic acid, 4-methoxy-, methyl ester) and without
// spaces (methyl benzene).
func (t text) forms() []text {
	list := []text{t}
	if turned, ok := t.turned(); ok {
		list = append(list, turned)
	}
	if unmarked, ok := t.unmarked(); ok {
		list = append(list, unmarked)
	}
	if spaced, ok := t.spaced(); ok {
		list = append(list, spaced)
	}
	if joined, ok := t.joined(); ok {
		list = append(list, joined...)
	}
	return list
}

// decide picks the reading that leaves least open. It isn't done where nothing
// was found, so that another form of the name may be tried.
func (r *reader) decide(found []built) (Result, error, bool) {
	if r.exceeded {
		return Result{}, &NameError{Name: r.raw, Offset: 1, Reason: "the name can be read in too many ways; put compound substituents in parentheses"}, true
	}
	found = slices.DeleteFunc(slices.Clone(found), func(b built) bool {
		return b.hasOpenSite() || len(b.bonds) > 0
	})
	if len(found) == 0 {
		return Result{}, nil, false
	}
	best := bestPenalty(found)
	found = slices.DeleteFunc(found, func(b built) bool { return b.penalty > best })
	if len(found) > 1 || found[0].cut {
		e := &AmbiguousError{Name: r.raw, More: len(found) > maxMeanings || found[0].cut}
		for _, b := range found[:min(len(found), maxMeanings)] {
			e.Meanings = append(e.Meanings, b.key)
		}
		return Result{}, e, true
	}
	m, err := found[0].mol()
	if err != nil {
		return Result{}, &NameError{Name: r.raw, Offset: 1, Reason: err.Error()}, true
	}
	result := Result{Mol: m}
	if row, ok := compounds().find(r.s); ok && !r.without {
		result.Row = row
	}
	if lacks := found[0].contradicts(found[0].stereo | r.marked); lacks != "" {
		return Result{}, &NameError{Name: r.raw, Offset: 1, Reason: "the structure has no " + strings.TrimPrefix(lacks, "a ")}, true
	}
	if found[0].stereo|r.marked != 0 {
		result.Notes = append(result.Notes, "the stereodescriptors are not drawn")
	}
	if result.Row != nil && found[0].stereo|r.marked == 0 && openStereo(m) {
		result.Notes = append(result.Notes, "the table leaves stereo open: the name may say more than the structure shows")
	}
	return result, nil, true
}

// failure says why no reading was found.
func (r *reader) failure() error {
	if r.fault == nil {
		r.fault = r.inner
	}
	if r.fault != nil && r.whole {
		return &NameError{Name: r.raw, Offset: r.place[r.fault.at], Reason: r.fault.reason}
	}
	if r.open() {
		return &NameError{Name: r.raw, Offset: 1, Reason: "the name is that of a part (an alkyl group, an anion, an acyl group), not of a compound"}
	}
	at := r.unread()
	return &UnknownError{
		Name: r.raw, Offset: r.place[at], Text: strings.TrimSpace(r.s[at:]),
		Suggestions: r.suggestions(at),
	}
}

// open reports whether the text is the name of a substituent or an anion.
func (r *reader) open() bool {
	for _, b := range r.compound(0, len(r.s)) {
		if b.hasOpenSite() {
			return true
		}
	}
	return len(r.alkylWord(0, len(r.s))) > 0
}

// unread is where the text begins that nothing reads: the start of the last
// piece that is known to be recognized.
func (r *reader) unread() int {
	if r.far >= len(r.s) {
		return 0
	}
	return r.far
}
