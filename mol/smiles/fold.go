package smiles

import (
	"ionwright/chem"
	"ionwright/mol"
)

// foldHydrogens turns the hydrogen atoms that say no more than a count into
// one, as the specification's standard form has it: no isotope, charge or
// class, and one single bond, to an atom that is no hydrogen. What speaks of
// an arrangement in space has been settled before.
func (p *parser) foldHydrogens() {
	const kept, folded = 0, -1
	newAtom := make([]int32, len(p.atoms))
	degree := make([]int32, len(p.atoms))
	for _, b := range p.bonds {
		degree[b.Begin]++
		degree[b.End]++
	}
	plain := func(i int32) bool {
		a := p.atoms[i]
		return a == mol.Atom{Element: chem.H} && degree[i] == 1
	}
	bonds, implicit, where := p.bonds[:0], p.implicit[:0], p.where[:0]
	for i, b := range p.bonds {
		h, heavy := b.Begin, b.End
		if !plain(h) {
			h, heavy = heavy, h
		}
		if plain(h) && b.Order == mol.Single && p.atoms[heavy].Element != chem.H && !p.needed(h) && p.atoms[heavy].Hydrogens < 255 {
			p.atoms[heavy].Hydrogens++
			newAtom[h] = folded
			continue
		}
		bonds, implicit, where = append(bonds, b), append(implicit, p.implicit[i]), append(where, p.where[i])
	}
	p.bonds, p.implicit, p.where = bonds, implicit, where
	atoms, begins := p.atoms[:0], p.begins[:0]
	for i, a := range p.atoms {
		if newAtom[i] == kept {
			newAtom[i] = int32(len(atoms))
			atoms, begins = append(atoms, a), append(begins, p.begins[i])
		}
	}
	p.atoms, p.begins = atoms, begins
	for i := range p.bonds {
		b := &p.bonds[i]
		b.Begin, b.End = newAtom[b.Begin], newAtom[b.End]
	}
}

// needed tells whether a hydrogen atom is the only one that an arrangement in
// space can be told by.
func (p *parser) needed(h int32) bool { return false }
