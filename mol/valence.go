package mol

import "ionwright/chem"

// normal holds the normal valences of the neutral elements of OpenSMILES'
// organic subset, ascending; zero ends a row.
func normal(e chem.Element) [3]uint8 {
	switch e {
	case chem.H, chem.F, chem.Cl, chem.Br, chem.I:
		return [3]uint8{1}
	case chem.B:
		return [3]uint8{3}
	case chem.C:
		return [3]uint8{4}
	case chem.N, chem.P:
		return [3]uint8{3, 5}
	case chem.O:
		return [3]uint8{2}
	case chem.S:
		return [3]uint8{2, 4, 6}
	}
	return [3]uint8{}
}

// ImplicitHydrogens returns the hydrogens that OpenSMILES adds to an atom of
// the organic subset written without brackets, whose bond orders sum up to
// sum (an aromatic bond counts 1): the difference to the next normal valence.
// An aromatic atom keeps one valence for the ring and fills up to its lowest
// valence only. It returns false for an element outside of the subset and
// where sum exceeds every normal valence.
func ImplicitHydrogens(e chem.Element, sum int, aromatic bool) (int, bool) {
	valences := normal(e)
	if aromatic {
		if sum+1 <= int(valences[0]) {
			return int(valences[0]) - sum - 1, true
		}
	}
	for _, v := range valences {
		if v != 0 && sum <= int(v) {
			if aromatic {
				return 0, true
			}
			return int(v) - sum, true
		}
	}
	return 0, false
}

// NextValence returns the smallest normal valence of the element at that
// charge that is at least sum, and false where none is known. A charged atom
// has the valences of the neutral element with as many electrons; beyond
// OpenSMILES' organic subset the heavier main-group elements have those of the
// lighter ones above them.
func NextValence(e chem.Element, charge, sum int) (int, bool) {
	for _, v := range valences(e, charge) {
		if v != 0 && sum <= int(v) {
			return int(v), true
		}
	}
	return 0, false
}

// valences is normal for a charged atom of any element; empty where the
// element has no normal valence.
func valences(e chem.Element, charge int) [3]uint8 {
	group, period := mainGroup(e)
	if group == 0 {
		return [3]uint8{}
	}
	// The lighter elements keep the octet; boron's group lacks two electrons.
	switch group -= charge; group {
	case 1, 2, 3:
		return [3]uint8{uint8(group)}
	case 4:
		return [3]uint8{4}
	case 5:
		return [3]uint8{3, 5}
	case 6:
		if period == 2 {
			return [3]uint8{2}
		}
		return [3]uint8{2, 4, 6}
	case 7:
		return [3]uint8{1}
	}
	return [3]uint8{}
}

// mainGroup returns the number of valence electrons and the period of a
// main-group element, 0 for others.
func mainGroup(e chem.Element) (group, period int) {
	switch {
	case e == chem.H:
		return 7, 1
	case e >= chem.Li && e <= chem.F:
		return int(e - chem.Li + 1), 2
	case e >= chem.Na && e <= chem.Cl:
		return int(e - chem.Na + 1), 3
	case e == chem.K || e == chem.Ca:
		return int(e - chem.K + 1), 4
	case e >= chem.Ga && e <= chem.Br:
		return int(e - chem.Ga + 3), 4
	case e == chem.Rb || e == chem.Sr:
		return int(e - chem.Rb + 1), 5
	case e >= chem.In && e <= chem.I:
		return int(e - chem.In + 3), 5
	}
	return 0, 0
}

// UnpairedElectrons returns the number of unpaired electrons of an atom whose
// bond orders, hydrogens counted, sum up to valence, when nothing else is said
// about it: the electrons that lack to its octet (to two for hydrogen and
// helium), or those that aren't used in bonds where that is fewer; above the
// octet, those that lack to its next normal valence. Transition metals have
// none, whatever their bonds.
//
// A carbene so counts two, as does [O] or [NH].
func UnpairedElectrons(e chem.Element, charge, valence int) int {
	outer, _ := mainGroup(e)
	full := 8
	if e == chem.H {
		outer, full = 1, 2
	}
	if outer == 0 {
		return 0
	}
	unpaired := full - outer - valence + charge
	if unpaired < 0 {
		unpaired = 0
		for _, v := range valences(e, 0) {
			if v != 0 && int(v)-valence+charge >= 0 {
				unpaired = int(v) - valence + charge
				break
			}
		}
	}
	if unused := outer - valence - charge; unused >= 0 {
		unpaired = min(unpaired, unused)
	}
	return unpaired
}
