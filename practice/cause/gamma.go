package cause

import (
	"slices"

	"ionwright/chem"
	"ionwright/mol"
)

// hydroxyl tells whether an OH group stands on a saturated carbon that suits.
func hydroxyl(m *mol.Mol, suits func(carbon mol.Atom) bool) bool {
	for i := range m.NumAtoms() {
		o := m.Atom(i)
		if o.Element != chem.O || o.Hydrogens != 1 || o.Charge != 0 {
			continue
		}
		for _, n := range m.Neighbors(i) {
			c := m.Atom(int(n.Atom))
			if c.Element == chem.C && !c.Aromatic && saturated(m, int(n.Atom)) && suits(c) {
				return true
			}
		}
	}
	return false
}

func primaryAlcohol(m *mol.Mol) bool {
	return hydroxyl(m, func(c mol.Atom) bool { return c.Hydrogens >= 2 })
}

func saturated(m *mol.Mol, i int) bool {
	for _, n := range m.Neighbors(i) {
		if m.Bond(int(n.Bond)).Order != mol.Single {
			return false
		}
	}
	return true
}

// Gamma is a carbonyl group with one of its sides, seen for a hydrogen
// rearrangement through a six-membered ring.
type Gamma struct {
	Carbonyl, Alpha int   // atom indexes
	Hydrogens       []int // the third atoms from the carbonyl carbon that bear a hydrogen
	MZ              int   // nominal, of the ion that the rearrangement would give
}

// Gammas returns each carbonyl group of the structure with each side on which
// a saturated carbon atom outside of a ring stands next to it.
func Gammas(m *mol.Mol) []Gamma {
	var out []Gamma
	for c := range m.NumAtoms() {
		if !carbonyl(m, c) {
			continue
		}
		for _, n := range m.Neighbors(c) {
			alpha := int(n.Atom)
			if a := m.Atom(alpha); a.Element != chem.C || a.Aromatic || !saturated(m, alpha) || m.RingBond(int(n.Bond)) {
				continue
			}
			g := Gamma{Carbonyl: c, Alpha: alpha}
			g.Hydrogens = third(m, c, alpha)
			g.MZ = enolMass(m, c, alpha, len(g.Hydrogens) > 0)
			out = append(out, g)
		}
	}
	return out
}

func carbonyl(m *mol.Mol, c int) bool {
	if m.Atom(c).Element != chem.C {
		return false
	}
	for _, n := range m.Neighbors(c) {
		if m.Atom(int(n.Atom)).Element == chem.O && m.Bond(int(n.Bond)).Order == mol.Double {
			return true
		}
	}
	return false
}

// third are the atoms three bonds from the carbonyl carbon by way of alpha
// that bear hydrogens.
func third(m *mol.Mol, c, alpha int) []int {
	var out []int
	for _, b := range m.Neighbors(alpha) {
		beta := int(b.Atom)
		if beta == c || m.Atom(beta).Aromatic {
			continue
		}
		for _, g := range m.Neighbors(beta) {
			gamma := int(g.Atom)
			if gamma != alpha && gamma != c && m.Atom(gamma).Hydrogens > 0 && !m.Atom(gamma).Aromatic && !slices.Contains(out, gamma) {
				out = append(out, gamma)
			}
		}
	}
	return out
}

// enolMass is the nominal mass of the rearrangement's ion: the other side with
// the carbonyl group, the alpha carbon without its heaviest branch, and one
// more hydrogen. Where nothing is there to move, it is what the rule of thumb
// gives: the other side with C(OH)=CH2.
func enolMass(m *mol.Mol, c, alpha int, inReach bool) int {
	const methylene, hydrogen = 14, 1
	kept := massOf(m, piece(m, c, alpha))
	if !inReach {
		return kept + methylene + hydrogen
	}
	heaviest, all := 0, 0
	for _, n := range m.Neighbors(alpha) {
		if int(n.Atom) == c {
			continue
		}
		w := massOf(m, piece(m, int(n.Atom), alpha))
		heaviest, all = max(heaviest, w), all+w
	}
	return kept + massOf(m, []int{alpha}) + hydrogen + all - heaviest
}

// piece are the atoms reached from an atom without passing through another.
func piece(m *mol.Mol, from, barred int) []int {
	seen := []int{from}
	for i := 0; i < len(seen); i++ {
		for _, n := range m.Neighbors(seen[i]) {
			if a := int(n.Atom); a != barred && !slices.Contains(seen, a) {
				seen = append(seen, a)
			}
		}
	}
	return seen
}

func massOf(m *mol.Mol, atoms []int) int {
	mass := 0
	for _, i := range atoms {
		a := m.Atom(i)
		mass += a.Element.Principal().MassNumber + int(a.Hydrogens)
	}
	return mass
}

// enolsWithoutHydrogen are the m/z that a rearrangement would give where no
// hydrogen is in reach, and that no side with one gives.
func enolsWithoutHydrogen(m *mol.Mol) []int {
	var have, out []int
	for _, g := range Gammas(m) {
		if len(g.Hydrogens) > 0 {
			have = append(have, g.MZ)
		}
	}
	for _, g := range Gammas(m) {
		if len(g.Hydrogens) == 0 && !slices.Contains(have, g.MZ) && !slices.Contains(out, g.MZ) && g.MZ < m.Formula().NominalMass() {
			out = append(out, g.MZ)
		}
	}
	return out
}
