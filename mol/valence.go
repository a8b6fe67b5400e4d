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
// valence only. It returns false for an element outside of the subset, where
// sum exceeds every normal valence, and, against the specification's letter,
// for nitrogen with a sum of 4: it would get a hydrogen and be five-valent,
// while what is meant is nearly always a cation.
func ImplicitHydrogens(e chem.Element, sum int, aromatic bool) (int, bool) {
	valences := normal(e)
	if aromatic {
		if sum+1 <= int(valences[0]) {
			return int(valences[0]) - sum - 1, true
		}
	}
	if e == chem.N && sum == 4 && !aromatic {
		return 0, false
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
// lighter ones above them, and two less in the groups of boron and carbon from
// tin on.
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
func valences(e chem.Element, charge int) [4]uint8 {
	group, period := mainGroup(e)
	if group == 0 {
		return [4]uint8{}
	}
	switch group -= charge; group {
	case 3, 4:
		if period >= 5 && e != chem.In {
			return [4]uint8{uint8(group) - 2, uint8(group)} // the inert pair
		}
		return [4]uint8{uint8(group)}
	case 1, 2:
		return [4]uint8{uint8(group)}
	case 5:
		return [4]uint8{3, 5}
	case 6:
		if period == 2 {
			return [4]uint8{2}
		}
		return [4]uint8{2, 4, 6}
	case 7:
		if period <= 2 {
			return [4]uint8{1}
		}
		return [4]uint8{1, 3, 5, 7}
	}
	return [4]uint8{}
}

// mainGroup returns the number of outer electrons and the period of a
// main-group element, 0 for others, which include what lies beyond radium.
// Hydrogen counts with the halogens: it lacks one electron.
func mainGroup(e chem.Element) (group, period int) {
	place := mainGroups[e]
	return int(place & 15), int(place >> 4)
}

// mainGroups holds for each element its period times 16 plus its number of
// outer electrons; it is filled once.
var mainGroups = func() (places [256]uint8) {
	places[chem.H], places[chem.He] = 1<<4|7, 1<<4|8
	// Each row: the noble gas before, and where the p block begins.
	for i, row := range [...][2]chem.Element{
		{chem.He, chem.B}, {chem.Ne, chem.Al}, {chem.Ar, chem.Ga}, {chem.Kr, chem.In}, {chem.Xe, chem.Tl},
	} {
		period := uint8(i+2) << 4
		for k := uint8(1); k <= 8; k++ {
			switch {
			case k <= 2:
				places[uint8(row[0])+k] = period | k
			default:
				places[uint8(row[1])+k-3] = period | k
			}
		}
	}
	places[chem.Fr], places[chem.Ra] = 7<<4|1, 7<<4|2
	return places
}()

// TooManyBonds tells whether an atom whose bond orders, hydrogens counted, sum
// up to valence exceeds the octet, for the elements of the second row, which
// can't (carbon to fluorine). Neutral nitrogen may have the valence 5 that
// OpenSMILES gives it. Other elements never have too many.
func TooManyBonds(e chem.Element, charge, valence int) bool {
	if e < chem.C || e > chem.F || e == chem.N && charge == 0 && valence == 5 {
		return false
	}
	outer, _ := mainGroup(e)
	return outer-charge+valence > 8
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
