package mol

// FromNotation makes a graph as [New] does, for readers of notations that
// leave to the chemistry what they don't write: an aromatic bond whose order
// isn't written (implicit, by bond) and that is in no ring is single, and
// aromaticity is perceived ([Mol.Aromatize]). Unpaired electrons are set to
// [UnpairedElectrons] where Radical is 0.
func FromNotation(atoms []Atom, bonds []Bond, implicit []bool) (*Mol, error) {
	m, err := assemble(atoms, bonds)
	if err != nil {
		return nil, err
	}
	for i := range m.bonds {
		if b := &m.bonds[i]; b.Order == Aromatic && !b.ring && implicit[i] {
			b.Order = Single
		}
	}
	if err := m.kekulize(); err != nil {
		return nil, err
	}
	for i := range m.atoms {
		if a := &m.atoms[i]; a.Radical == 0 {
			a.Radical = uint8(UnpairedElectrons(a.Element, int(a.Charge), m.Valence(i)))
		}
	}
	s := acquire()
	defer s.release()
	m.apply(m.perceive(s))
	return m, nil
}
