package smiles

// fold removes the hydrogen atoms that become a count of their neighbor.
func (s *surroundings) fold() {
	newAtom := make([]int32, len(s.atoms))
	bonds, implicit, where := s.bonds[:0], s.implicit[:0], s.where[:0]
	for i, b := range s.bonds {
		switch {
		case s.folded[b.Begin]:
			s.atoms[b.End].Hydrogens++
		case s.folded[b.End]:
			s.atoms[b.Begin].Hydrogens++
		default:
			bonds, implicit, where = append(bonds, b), append(implicit, s.implicit[i]), append(where, s.where[i])
		}
	}
	s.bonds, s.implicit, s.where = bonds, implicit, where
	atoms, begins := s.atoms[:0], s.begins[:0]
	for i, a := range s.atoms {
		if !s.folded[i] {
			newAtom[i] = int32(len(atoms))
			atoms, begins = append(atoms, a), append(begins, s.begins[i])
		}
	}
	s.atoms, s.begins = atoms, begins
	for i := range s.bonds {
		b := &s.bonds[i]
		b.Begin, b.End = newAtom[b.Begin], newAtom[b.End]
	}
}
