package isomer

import (
	"slices"

	"ionwright/mol"
	"ionwright/mol/smarts"
)

// Instability is a pattern that compounds kept in a bottle don't have: it is
// strained, or turns into an isomer or falls apart by itself. The choice is
// common practice; each has its exceptions, and none is ruled out unless asked
// for.
type Instability struct {
	Name    string
	Why     string
	SMARTS  string // empty where it is a matter of rings, in Go
	Example string // SMILES of what has it
	Spares  string // SMILES of something similar that hasn't
	// ring tells whether a molecule's rings have it; nil for patterns. It
	// asks for orders of bonds and rings only, not for elements.
	ring func(*mol.Mol) bool
}

// Instabilities lists the patterns.
func Instabilities() []Instability {
	return []Instability{
		{"double bond in a three-membered ring", "strain", "", "C1=CC1", "C1CC1", doubleInThree},
		{"triple bond or cumulated double bonds in a small ring", "strain, up to eight atoms", "", "C1#CCCCC1", "C1=CCCCC1", linearInRing},
		{"bridgehead double bond", "strain, in bridged rings of up to nine atoms", "", "C1=C2CCC(C1)C2", "C1CC2CCC1C2", bridgeheadDouble},
		{"four-membered ring with two double bonds", "antiaromatic", "", "C1=CC=C1", "C1=CCC1", twoDoublesInFour},
		{"small rings sharing a bond", "strain, of three and four atoms", "", "C1C2CC12", "C1CC2CCCC12", fusedSmall},
		{"peroxide", "O-O bonds break easily", "[OX2][OX2]", "COOC", "COC", nil},
		{"chain of three heteroatoms", "gives off nitrogen or falls apart", "[NX3,NX2,OX2,SX2;+0]~[NX3,NX2,OX2,SX2;+0]~[NX3,NX2,OX2,SX2;+0]", "NNN", "NN", nil},
		{"geminal diol", "loses water", "[CX4]([OX2H1])[OX2H1]", "CC(O)O", "OCCO", nil},
		{"open hemiacetal", "loses alcohol", "[CX4]([OX2H1])-!@[OX2H0]", "CC(O)OC", "OC1CCCCO1", nil},
		{"hydroxyl and amino group on one carbon", "loses water or ammonia", "[CX4]([OX2H1])-!@[NX3;+0]", "CC(O)N", "NCCO", nil},
		{"two amino groups on one carbon", "loses ammonia", "[CX4]([NX3;H2])[NX3;+0]", "CC(N)N", "NCCN", nil},
		{"thiol with hydroxyl or amino group on one carbon", "loses hydrogen sulfide or water", "[CX4]([SX2H1])[OX2,NX3,SX2H1;!H0]", "CC(O)S", "OCCS", nil},
		{"halogen with hydroxyl, amino group or thiol on one carbon", "loses hydrogen halide", "[CX4]([F,Cl,Br,I])[OX2,NX3,SX2;!H0]", "CC(O)Cl", "OCCCl", nil},
		{"enol", "is the carbonyl compound", "C=[CX3][OX2H1]", "CC(O)=C", "Oc1ccccc1", nil},
		{"ynol", "is the ketene or acid", "[CX2]#[CX2][OX2H1,NX3,SX2H1]", "CC#CO", "CC#CCO", nil},
		{"enamine with N-H", "is the imine", "C=[CX3][NX3;!H0;+0]", "CC(N)=C", "Nc1ccccc1", nil},
		{"enethiol", "is the thione", "C=[CX3][SX2H1]", "CC(S)=C", "Sc1ccccc1", nil},
		{"imine with N-H", "takes up water or oligomerizes", "[CX3]([#6,#1])=[NX2H1]", "CC(C)=N", "NC(N)=N", nil},
		{"methanimine", "oligomerizes", "[CX3;H1,H2]=[NX2]-[#6,#1;!a]", "C=NC", "CC(C)=NO", nil},
		{"imidic acid", "is the amide", "[CX3](=[NX2])[OX2H1]", "CC(O)=NC", "CC(=O)NC", nil},
		{"nitroso group beside C-H", "is the oxime", "[CX4;!H0][NX2]=O", "CN=O", "CC(C)(C)N=O", nil},
		{"heteroatom-halogen bond", "reacts with nearly everything", "[NX3,NX2,OX2,SX2,PX3][F,Cl,Br,I]", "CNCl", "NCCl", nil},
		{"carbonic or carbamic acid", "loses carbon dioxide", "[OX2H1]C(=O)[O,N]", "OC(=O)OC", "COC(=O)OC", nil},
		{"ketene", "reacts with itself", "[CX3]=[CX2]=[OX1,SX1,NX2]", "CC=C=O", "C=C=C", nil},
		{"three double bonds in a row", "oligomerizes", "*=[CX2]=[CX2]=*", "C=C=C=C", "C=C=C", nil},
		{"thial", "oligomerizes", "[CX3;!H0]=[SX1]", "CC=S", "CC(N)=S", nil},
		{"sulfenic acid", "forms the thiosulfinate", "[SX2][OX2H1]", "CSO", "CS(=O)O", nil},
		{"oxoammonium or S=O on two-valent atoms", "isn't a stable group", "[PX2,PX1,SX1]=[O,S,N,P]", "CP=O", "CN=O", nil},
		{"double bond to silicon or phosphorus", "oligomerizes", "[Si,PX2,PX1]=,#*", "C[Si](C)=C", "CP(C)C", nil},
		{"diazene with N-H", "gives off nitrogen", "[NX2;H1]=[NX2]", "CN=N", "CN=NC", nil},
		{"hydrogen on silicon beside oxygen or nitrogen", "gives off hydrogen", "[Si;!H0][OX2H1,NX3]", "C[SiH2]O", "C[Si](C)(C)O", nil},
	}
}

func doubleInThree(m *mol.Mol) bool {
	return anyRing(m, func(ring []int32, orders []mol.Order) bool {
		return len(ring) == 3 && slices.Contains(orders, mol.Double)
	})
}

func twoDoublesInFour(m *mol.Mol) bool {
	return anyRing(m, func(ring []int32, orders []mol.Order) bool {
		n := 0
		for _, o := range orders {
			if o == mol.Double {
				n++
			}
		}
		return len(ring) == 4 && n == 2
	})
}

// linearInRing looks for an atom that should be linear in a ring of up to
// eight.
func linearInRing(m *mol.Mol) bool {
	return anyRing(m, func(ring []int32, orders []mol.Order) bool {
		for i, o := range orders {
			if len(ring) <= 8 && (o == mol.Triple || o == mol.Double && orders[(i+1)%len(orders)] == mol.Double) {
				return true
			}
		}
		return false
	})
}

// anyRing asks for each ring, with the orders of its bonds from each atom to
// the next.
func anyRing(m *mol.Mol, has func(ring []int32, orders []mol.Order) bool) bool {
	var orders []mol.Order
	for _, ring := range m.Rings() {
		orders = orders[:0]
		for i, v := range ring {
			if b, ok := m.BondBetween(int(v), int(ring[(i+1)%len(ring)])); ok {
				orders = append(orders, m.Bond(b).Order)
			}
		}
		if has(ring, orders) {
			return true
		}
	}
	return false
}

// shared lists the atoms that two rings have in common.
func shared(a, b []int32) []int32 {
	var both []int32
	for _, v := range a {
		if slices.Contains(b, v) {
			both = append(both, v)
		}
	}
	return both
}

// fusedSmall looks for two rings of three or four atoms with a common bond.
func fusedSmall(m *mol.Mol) bool {
	rings := m.Rings()
	for i, a := range rings {
		for _, b := range rings[:i] {
			if len(a) <= 4 && len(b) <= 4 && len(shared(a, b)) >= 2 {
				return true
			}
		}
	}
	return false
}

// bridgeheadDouble looks for a double bond at an atom where three rings of a
// bridged system of up to nine atoms part.
func bridgeheadDouble(m *mol.Mol) bool {
	rings := m.Rings()
	for i, a := range rings {
		for _, b := range rings[:i] {
			both := shared(a, b)
			size := len(a) + len(b) - len(both)
			if len(both) < 3 || size > 9 {
				continue
			}
			in := func(v int32) bool { return slices.Contains(a, v) || slices.Contains(b, v) }
			for _, v := range both {
				branches, double := 0, false
				for _, nb := range m.Neighbors(int(v)) {
					if in(nb.Atom) {
						branches++
						double = double || m.Bond(int(nb.Bond)).Order == mol.Double
					}
				}
				if branches >= 3 && double {
					return true
				}
			}
		}
	}
	return false
}

// instabilities returns the rules of some names, patterns and those of rings
// apart; "all" in place of a name is every one.
func instabilities(names []string) (patterns []Occurs, rings []Instability, unknown string) {
	all := Instabilities()
	if slices.Contains(names, "all") {
		names = nil
		for _, i := range all {
			names = append(names, i.Name)
		}
	}
	for _, name := range names {
		at := slices.IndexFunc(all, func(i Instability) bool { return i.Name == name })
		switch {
		case at < 0:
			return nil, nil, name
		case all[at].ring != nil:
			rings = append(rings, all[at])
		default:
			patterns = append(patterns, Occurs{smarts.MustCompile(all[at].SMARTS), Range{0, 0}})
		}
	}
	return patterns, rings, ""
}
