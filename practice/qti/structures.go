package qti

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"

	"ionwright/mol"
	"ionwright/mol/smiles"
	"ionwright/practice"
	"ionwright/practice/answer"
	"ionwright/practice/arrow"
)

// structure has a SMILES typed, which is recognised in the usual spellings.
func (m *maker) structure(k practice.Structure) {
	mapping := el("qti-mapping", "default-value", "0")
	seen := map[string]bool{}
	entry := func(s *mol.Mol, marks float64) {
		for _, text := range smilesOf(s) {
			if !seen[text] {
				seen[text] = true
				mapping.add(el("qti-map-entry", "map-key", text, "mapped-value", decimal(marks), "case-sensitive", "true"))
			}
		}
	}
	row := func(r practice.Row, marks float64) {
		if s, err := answer.ReadStructure(r.Answer.Text); err == nil {
			entry(s, marks)
		}
	}
	for _, r := range m.q.Scheme.Reject {
		row(r, 0)
	}
	entry(k.Mol, m.q.Marks)
	for _, r := range m.q.Scheme.Accept {
		row(r, rowMarks(m.q, r))
	}
	m.declare(response, "single", "string", []string{smiles.Canonical(k.Mol)}, mapping)
	m.body.add(el("p").add(words("Structure, as SMILES: "), el("qti-text-entry-interaction", "response-identifier", response, "expected-length", "40")))
	m.set(el("qti-map-response", "identifier", response))
}

// mostSpellings is how many spellings of a structure are listed, and tries how
// often an order of its atoms is drawn for them.
const (
	mostSpellings = 300
	tries         = 1500
)

// smilesOf are spellings of a structure: the canonical one, the one that was
// given, and those of other orders of the atoms, with aromatic symbols and
// with double bonds; always the same for the same structure.
func smilesOf(m *mol.Mol) []string {
	out := slices.Compact([]string{smiles.Canonical(m), smiles.Write(m)})
	r := rand.New(rand.NewPCG(uint64(m.NumAtoms()), uint64(m.NumBonds())))
	forms := []*mol.Mol{flat(m).Aromatize()}
	if kekule, err := forms[0].Kekulize(); err == nil {
		forms = append(forms, kekule)
	}
	for i := range tries {
		if len(out) >= mostSpellings {
			break
		}
		other, err := forms[i%len(forms)].Renumbered(r.Perm(m.NumAtoms()))
		if err != nil {
			break // another order of a graph is a graph
		}
		if text := smiles.Write(other); !slices.Contains(out, text) {
			out = append(out, text)
		}
	}
	return out
}

// flat is a structure without arrangements in space, which aren't asked for.
func flat(m *mol.Mol) *mol.Mol {
	b := m.Edit()
	for v := range m.NumAtoms() {
		a := b.Atom(v)
		a.Chirality = mol.NotChiral
		b.SetAtom(v, a)
	}
	for i := range m.NumBonds() {
		b.SetStereo(i, mol.NoStereo)
	}
	made, err := b.Mol()
	if err != nil {
		return m
	}
	return made
}

// arrows are picked from a list: the right ones among those with the wrong
// head, the wrong direction or the wrong end.
func (m *maker) arrows(k practice.Arrows) {
	m.body.add(el("p").say("Structure, its atoms numbered, as SMILES: " + smiles.Write(arrow.Numbered(k.Drawn))))
	var options []practice.Option
	offered := map[answer.Arrow]bool{}
	for _, a := range k.Ways[0] {
		offered[a] = true
		options = append(options, practice.Option{Text: inWords(a), Right: true})
	}
	for _, way := range k.Ways[1:] {
		for _, a := range way {
			offered[a] = true // right as well: not offered
		}
	}
	for _, a := range k.Ways[0] {
		for _, wrong := range []answer.Arrow{{Half: !a.Half, From: a.From, To: a.To}, {Half: a.Half, From: a.To, To: a.From}} {
			if !offered[wrong] {
				offered[wrong] = true
				options = append(options, practice.Option{Text: inWords(wrong)})
			}
		}
	}
	slices.SortFunc(options, func(a, b practice.Option) int { return strings.Compare(a.Text, b.Text) })
	for i := range options {
		options[i].Letter = fmt.Sprintf("arrow%d", i+1)
	}
	m.several(options)
}

// inWords says where an arrow begins and ends.
func inWords(a answer.Arrow) string {
	kind := "full arrow (a pair)"
	if a.Half {
		kind = "half arrow (one electron)"
	}
	site := func(p answer.Place) string {
		if p.IsAtom() {
			return fmt.Sprintf("atom %d", p.A)
		}
		return fmt.Sprintf("between atoms %d and %d", p.A, p.B)
	}
	return fmt.Sprintf("%s from %s to %s", kind, site(a.From), site(a.To))
}
