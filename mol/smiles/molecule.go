package smiles

import (
	"errors"
	"fmt"
	"strings"

	"ionwright/chem"
	"ionwright/mol"
)

// atomText is where the text of an atom ends.
func (p *parser) atomText(atom int) (from, to int) {
	from = int(p.begins[atom])
	to = from + 1
	if p.text[from] == '[' {
		if end := strings.IndexByte(p.text[from:], ']'); end >= 0 {
			to = from + end + 1
		}
	} else if symbol := p.atoms[atom].Element.Symbol(); len(symbol) == 2 {
		to++
	}
	return from, to
}

// atFault makes an error about an atom.
func (p *parser) atFault(atom int, problem, hint string) error {
	from, to := p.atomText(atom)
	return p.fail(from, to, problem, hint)
}

// molecule makes the graph of what has been read.
func (p *parser) molecule() (*mol.Mol, error) {
	if err := p.fillHydrogens(); err != nil {
		return nil, err
	}
	if p.slanted > 0 || p.marked > 0 || p.hydrogen {
		s := p.surround()
		if p.slanted > 0 {
			if err := s.cisTrans(); err != nil {
				return nil, err
			}
		}
		if p.marked > 0 {
			s.chiralities()
		}
		if p.hydrogen {
			s.fold()
		}
	}
	m, err := mol.FromNotation(p.atoms, p.bonds, p.implicit)
	if err == nil {
		if err := p.checkValences(m); err != nil {
			return nil, err
		}
		return m, nil
	}
	var kekule *mol.KekuleError
	var doubled *mol.DoubledError
	var aromatic *mol.AromaticError
	switch {
	case errors.As(err, &aromatic):
		return nil, p.atFault(aromatic.Atom, "this aromatic atom isn't in a ring of aromatic atoms", "small letters are for aromatic rings; write other atoms with capitals")
	case errors.As(err, &kekule):
		return nil, p.noKekule(kekule.Atom)
	case errors.As(err, &doubled):
		at := int(p.where[doubled.Bond])
		return nil, p.fail(at, at+1, "this bond joins two atoms that are bound already", "two atoms are joined by one bond only; for a double bond write =")
	}
	return nil, &Error{SMILES: p.text, Problem: err.Error()}
}

// checkValences refuses bracket atoms with more bonds than they can have; the
// others have been checked before.
func (p *parser) checkValences(m *mol.Mol) error {
	for i := range m.NumAtoms() {
		a := m.Atom(i)
		if mol.TooManyBonds(a.Element, int(a.Charge), m.Valence(i)) {
			return p.tooMany(i, m.Valence(i))
		}
	}
	return nil
}

// tooMany reports an atom with too many bonds.
func (p *parser) tooMany(atom, sum int) error {
	e := p.atoms[atom].Element
	return p.atFault(atom, fmt.Sprintf("%s has bonds of order %d in sum, more than its valence allows", e.Name(), sum), valenceHint(e))
}

// noKekule reports an atom that has no double bond left, or the nitrogen of
// its ring system that may lack a hydrogen.
func (p *parser) noKekule(atom int) error {
	const problem = "the aromatic ring has no arrangement of double bonds that gives each atom its valence"
	nitrogen := -1
	for _, at := range p.ringSystem(int32(atom)) {
		a := p.atoms[at]
		if a.Element == chem.N && a.Charge == 0 && a.Hydrogens == 0 && p.sums[at] == 2 && (nitrogen < 0 || int(at) < nitrogen) {
			nitrogen = int(at)
		}
	}
	if nitrogen >= 0 {
		return p.atFault(nitrogen, problem, "an aromatic nitrogen that carries a hydrogen is written [nH]")
	}
	return p.atFault(atom, problem, "check the charges, the hydrogens in brackets, and the size of the ring")
}

// ringSystem returns the atoms joined with one by aromatic bonds.
func (p *parser) ringSystem(atom int32) []int32 {
	s := p.surround()
	seen := make([]bool, len(p.atoms))
	seen[atom] = true
	system := []int32{atom}
	for head := 0; head < len(system); head++ {
		for _, bond := range s.bondsOf(system[head]) {
			to := p.bonds[bond].Other(system[head])
			if p.bonds[bond].Order == mol.Aromatic && !seen[to] {
				seen[to] = true
				system = append(system, to)
			}
		}
	}
	return system
}

// fillHydrogens adds the implicit hydrogens of the atoms without brackets.
func (p *parser) fillHydrogens() error {
	for i := range p.atoms {
		if !p.bare[i] {
			continue
		}
		a := &p.atoms[i]
		h, ok := mol.ImplicitHydrogens(a.Element, int(p.sums[i]), a.Aromatic)
		if !ok {
			return p.tooMany(i, int(p.sums[i]))
		}
		a.Hydrogens = uint8(h)
	}
	return nil
}

// valenceHint says what a neutral atom of the element can have.
func valenceHint(e chem.Element) string {
	switch e {
	case chem.C:
		return "carbon has four bonds; count the bonds of this atom"
	case chem.N:
		return "nitrogen has three bonds, five in the old form of the nitro group; with four it is a cation: [N+]"
	case chem.O:
		return "oxygen has two bonds; with three it is a cation: [O+]"
	}
	return "write the atom in brackets with its charge if it really has that many bonds"
}
