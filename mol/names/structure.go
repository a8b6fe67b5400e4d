package names

import (
	"regexp"

	"ionwright/mol"
	"ionwright/mol/smiles"
)

// word is what names have and SMILES hasn't: four small letters in a row that
// aren't all aromatic atoms.
var word = regexp.MustCompile(`[a-z]*[ad-mq-rt-z][a-z]*[a-z]{3}|[a-z]{3}[a-z]*[ad-mq-rt-z]`)

// Structure reads a structure given as SMILES or as a name. A text that is
// both is SMILES. It fails like smiles.Parse, and like Resolve where the text
// looks like a name.
func Structure(text string) (*mol.Mol, error) {
	m, err := smiles.Parse(text)
	if err == nil || !word.MatchString(text) {
		return m, err
	}
	return Resolve(text)
}
