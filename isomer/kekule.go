package isomer

import (
	"ionwright/chem"
	"ionwright/mol"
	"ionwright/mol/smiles"
)

// representative tells whether the structure's Kekule form is the one of its
// aromatic system that is kept: of all forms, the one with the greatest text
// that tells single from double bonds. The forms that the generator makes of
// one molecule so come down to one.
func representative(m *mol.Mol) bool {
	var k kekuleForms
	k.m = m
	k.partner = make([]int32, m.NumAtoms())
	for v := range k.partner {
		k.partner[v] = -1
	}
	var own []int32 // bonds that are double now
	for i := range m.NumBonds() {
		if b := m.Bond(i); b.Order == mol.Aromatic && m.KekuleOrder(i) == mol.Double {
			k.partner[b.Begin], k.partner[b.End] = -2, -2 // to be matched
			own = append(own, int32(i))
		}
	}
	if len(own) < 2 {
		return true
	}
	best := ""
	k.match(0, func(doubles []int32) bool {
		if text := k.text(doubles); text > best {
			best = text
		}
		return true
	})
	return k.text(own) == best
}

// kekuleForms goes through the Kekule forms of a molecule.
type kekuleForms struct {
	m       *mol.Mol
	partner []int32 // -1: takes no part; -2: still without one
	doubles []int32
}

// match matches atom v and those after it that need a partner.
func (k *kekuleForms) match(v int, yield func(doubles []int32) bool) bool {
	for v < len(k.partner) && k.partner[v] != -2 {
		v++
	}
	if v == len(k.partner) {
		return yield(k.doubles)
	}
	for _, nb := range k.m.Neighbors(v) {
		w := nb.Atom
		if k.m.Bond(int(nb.Bond)).Order != mol.Aromatic || k.partner[w] != -2 {
			continue
		}
		k.partner[v], k.partner[w] = w, int32(v)
		k.doubles = append(k.doubles, int32(nb.Bond))
		more := k.match(v+1, yield)
		k.doubles = k.doubles[:len(k.doubles)-1]
		k.partner[v], k.partner[w] = -2, -2
		if !more {
			return false
		}
	}
	return true
}

// text is a canonical text of one Kekule form: an atom of helium, which no
// structure here has, stands in each of its double bonds.
func (k *kekuleForms) text(doubles []int32) string {
	double := make([]bool, k.m.NumBonds())
	for _, b := range doubles {
		double[b] = true
	}
	var atoms []mol.Atom
	for v := range k.m.NumAtoms() {
		a := k.m.Atom(v)
		a.Aromatic = false
		atoms = append(atoms, a)
	}
	var bonds []mol.Bond
	for i := range k.m.NumBonds() {
		b := k.m.Bond(i)
		switch {
		case b.Order != mol.Aromatic:
			bonds = append(bonds, mol.Bond{Begin: b.Begin, End: b.End, Order: b.Order})
		case !double[i]:
			bonds = append(bonds, mol.Bond{Begin: b.Begin, End: b.End, Order: mol.Single})
		default:
			he := int32(len(atoms))
			atoms = append(atoms, mol.Atom{Element: chem.He})
			bonds = append(bonds, mol.Bond{Begin: b.Begin, End: he, Order: mol.Single}, mol.Bond{Begin: he, End: b.End, Order: mol.Single})
		}
	}
	m, err := mol.New(atoms, bonds)
	if err != nil {
		panic("isomer: a marked Kekule form that is no graph: " + err.Error()) // a mistake in this package
	}
	return smiles.Canonical(m)
}
