package names

import "ionwright/chem"

// acidForm is what stands at an acid group, as the ending of the name says.
type acidForm uint8

const (
	plainForm     acidForm = iota // the acid: ic acid
	anionForm                     // ate: an oxygen that wants an alcohol part
	amideForm                     // amide
	nitrileForm                   // nitrile
	aldehydeForm                  // al, aldehyde
	acylForm                      // oyl: the carbon bonds
	hydrazideForm                 // ohydrazide
	anilideForm                   // anilide
)

// primes gives the n-th of several like locants: n, n', n”.
func primes(label string, n int) string {
	for range n {
		label += "'"
	}
	return label
}

// addForm completes the acid group at carbon c, the n-th (0-based) of the
// structure. c must have three free hydrogens, or two where it is the carbon
// of a carbamic acid.
func (g *graph) addForm(c int, form acidForm, n int) {
	if form == nitrileForm {
		g.addBond(c, g.addAtom(atom{element: chem.N}), 3)
		return
	}
	g.addBond(c, g.addAtom(atom{element: chem.O}), 2)
	g.atoms[c].closed = true
	switch form {
	case plainForm:
		g.addBond(c, g.addAtom(atom{element: chem.O}), 1)
	case anionForm:
		g.addBond(c, g.addAtom(atom{element: chem.O, site: esterSite}), 1)
	case amideForm:
		g.addBond(c, g.addAtom(atom{element: chem.N, labels: []string{primes("n", n)}, open: true}), 1)
	case hydrazideForm:
		near := g.addAtom(atom{element: chem.N, labels: []string{primes("n", n)}, open: true})
		far := g.addAtom(atom{element: chem.N, labels: []string{primes("n", n+1)}, open: true})
		g.addBond(c, near, 1)
		g.addBond(near, far, 1)
	case anilideForm:
		near := g.addAtom(atom{element: chem.N, labels: []string{primes("n", n)}, open: true})
		g.addBond(c, near, 1)
		g.addPhenyl(near, n+1)
	case acylForm:
		g.atoms[c].site = acylSite
	}
}

// thionate puts sulfur in place of an oxygen of the acid group at carbon c: of
// the hydroxy group of an acid and its anion (S-acid, S-ester), of the carbonyl
// group elsewhere.
func (g *graph) thionate(c int, form acidForm) {
	single := form == plainForm || form == anionForm
	g.neighbors(c, func(j, order int) {
		if g.atoms[j].element == chem.O && (order == 1) == single && (single || order == 2) {
			g.atoms[j].element = chem.S
		}
	})
}

// addPhenyl bonds a phenyl ring to atom i; its locants carry n primes.
func (g *graph) addPhenyl(i, n int) {
	names := []string{"1", "2", "3", "4", "5", "6"}
	first := len(g.atoms)
	for k := range 6 {
		g.addAtom(atom{element: chem.C, labels: []string{primes(names[k], n)}, open: true})
	}
	for k := range 6 {
		g.addBond(first+k, first+(k+1)%6, 1+k%2)
	}
	g.addBond(i, first, 1)
}

// cutCarboxyls removes the oxygens of each C(=O)OH (also C(=S)OH) group and
// returns the carbons. It returns false where there is none.
func (g *graph) cutCarboxyls() ([]int, bool) {
	var carbons []int
	for i := 0; i < len(g.atoms); i++ {
		if double, hydroxy, ok := g.carboxyl(i); ok {
			carbons = append(carbons, i)
			for _, k := range []int{max(double, hydroxy), min(double, hydroxy)} {
				g.removeAtom(k)
				for n := range carbons {
					if carbons[n] > k {
						carbons[n]--
					}
				}
				if k < i {
					i--
				}
			}
		}
	}
	return carbons, len(carbons) > 0
}

// carboxyl reports whether atom i is the carbon of C(=O)OH and gives the two
// oxygens.
func (g *graph) carboxyl(i int) (double, hydroxy int, ok bool) {
	double, hydroxy = -1, -1
	if g.atoms[i].element != chem.C {
		return
	}
	g.neighbors(i, func(j, order int) {
		if g.atoms[j].element != chem.O {
			return
		}
		if order == 2 {
			double = j
		} else if g.hydrogens(j) == 1 {
			hydroxy = j
		}
	})
	return double, hydroxy, double >= 0 && hydroxy >= 0
}

// acidOxygens lists the hydroxy oxygens on phosphorus, sulfur, boron, silicon
// and nitrogen, and on carbons with a double-bonded or a second oxygen.
func (g *graph) acidOxygens() []int {
	var list []int
	for i, a := range g.atoms {
		if a.element != chem.O || g.hydrogens(i) != 1 {
			continue
		}
		acidic := false
		g.neighbors(i, func(j, _ int) {
			switch g.atoms[j].element {
			case chem.C:
				g.neighbors(j, func(k, order int) {
					if k != i && g.atoms[k].element == chem.O {
						acidic = true
					}
				})
			case chem.H, chem.O:
			default:
				acidic = true
			}
		})
		if acidic {
			list = append(list, i)
		}
	}
	return list
}
