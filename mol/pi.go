package mol

import "ionwright/chem"

// piElectrons returns the electrons that ring atom i gives to an aromatic
// system, 0 to 2, or -1 where it isn't sp2. X is the number of its neighbors,
// hydrogens counted, v the sum of its bond orders.
//
// Source: the table "Extended Hueckel's Rule" of the OpenSMILES
// specification. Added to it: an exocyclic double bond to any element more
// electronegative than carbon takes the electron as C=O does; a boron anion
// counts as the carbon it is isoelectronic with; a carbon radical of two
// neighbors (the phenyl radical) gives one electron as its ions do.
func (m *Mol) piElectrons(i int) int32 {
	a := &m.atoms[i]
	switch a.Element {
	case chem.C, chem.N, chem.O, chem.S, chem.B, chem.P, chem.Se, chem.As:
	default:
		return -1
	}
	x, v := int(a.Hydrogens), int(a.Hydrogens)
	doubles, exocyclic := 0, int32(-1)
	for _, nb := range m.Neighbors(i) {
		b := &m.bonds[nb.Bond]
		x++
		v += int(b.kekule)
		if b.kekule == Double {
			doubles++
			if !b.ring {
				exocyclic = nb.Atom
			}
		} else if b.kekule > Double {
			return -1
		}
	}
	if a.Radical != 0 && (a.Element != chem.C || a.Charge != 0 || x != 2 || v != 3) {
		return -1
	}
	// One double bond gives one electron, unless it leaves the ring for an
	// element that keeps it.
	double := int32(1)
	if exocyclic >= 0 && moreElectronegative(m.atoms[exocyclic].Element, a.Element) {
		double = 0
	}
	now := form{x, v, int(a.Charge)}
	switch a.Element {
	case chem.C:
		switch now {
		case form3v4:
			if doubles == 1 {
				return double
			}
		case form{3, 3, -1}:
			return 2
		case form{3, 3, +1}:
			return 0
		case form{2, 3, -1}, form{2, 3, +1}, form{2, 3, 0}:
			return 1
		}
	case chem.N, chem.P, chem.As:
		switch now {
		case form{3, 3, 0}:
			return 2
		case form{2, 2, -1}:
			if a.Element != chem.As {
				return 2
			}
		case form{2, 3, 0}:
			return 1
		case form{3, 4, +1}:
			return double
		case form{3, 5, 0}:
			if doubles == 2 && exocyclic >= 0 && a.Element != chem.As {
				return 1
			}
		}
	case chem.O:
		switch now {
		case form{2, 2, 0}:
			return 2
		case form{2, 3, +1}:
			return 1
		}
	case chem.S, chem.Se:
		switch now {
		case form{2, 2, 0}, form{3, 3, +1}:
			return 2
		case form{2, 3, +1}:
			return 1
		case form3v4:
			if exocyclic >= 0 && m.atoms[exocyclic].Element == chem.O {
				return 2
			}
		}
	case chem.B:
		switch now {
		case form{3, 3, 0}:
			return 0
		case form{2, 3, 0}:
			return 1
		case form{3, 4, -1}:
			return double
		}
	}
	return -1
}

// form is a row of the table: neighbors, bond orders, charge.
type form struct{ x, v, charge int }

var form3v4 = form{3, 4, 0}

// moreElectronegative compares by group, then by period, as far as it matters
// for double bonds that leave a ring.
func moreElectronegative(a, b chem.Element) bool {
	groupA, periodA := mainGroup(a)
	groupB, periodB := mainGroup(b)
	if groupA != groupB {
		return groupA > groupB
	}
	return periodA < periodB
}
