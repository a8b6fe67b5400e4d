package main

import (
	"regexp"

	"ionwright/mol"
	"ionwright/mol/names"
	"ionwright/mol/smiles"
)

// word is what names have and SMILES hasn't: four small letters in a row that
// aren't all aromatic atoms.
var word = regexp.MustCompile(`[a-z]*[ad-mq-rt-z][a-z]*[a-z]{3}|[a-z]{3}[a-z]*[ad-mq-rt-z]`)

// structure reads a structure given as SMILES or as a name. A text that is
// both is SMILES.
func structure(text string) (*mol.Mol, error) {
	m, err := smiles.Parse(text)
	if err == nil || !word.MatchString(text) {
		return m, err
	}
	return names.Resolve(text)
}
