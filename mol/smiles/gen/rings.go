package main

import (
	"fmt"
	"strings"

	"ionwright/chem"
	"ionwright/mol"
	"ionwright/mol/smiles"
)

// fused adds patches of five-, six- and seven-membered rings fused along
// bonds, with double bonds and heteroatoms put in at random.
func (l *list) fused() {
	l.section("fused rings")
	for found, tries := 0, 0; found < 450 && tries < 20000; tries++ {
		atoms, bonds := l.patch(2 + l.random.IntN(3))
		if s, ok := l.unsaturate(atoms, bonds); ok && l.fresh(s) {
			found++
		}
	}
}

// patch makes a patch of rings: a first ring, then others fused to a bond that
// is in one ring only.
func (l *list) patch(rings int) (atoms int, bonds [][2]int) {
	size := func() int { return []int{5, 6, 6, 6, 7, 4}[l.random.IntN(6)] }
	n := size()
	var rim [][2]int // bonds of one ring
	for k := range n {
		bonds = append(bonds, [2]int{k, (k + 1) % n})
	}
	rim = append(rim, bonds...)
	atoms = n
	degree := make([]int, 64)
	for k := range n {
		degree[k] = 2
	}
	for range rings - 1 {
		at := l.random.IntN(len(rim))
		edge := rim[at]
		if degree[edge[0]] > 2 || degree[edge[1]] > 2 {
			continue
		}
		rim = append(rim[:at], rim[at+1:]...)
		before := edge[0]
		degree[edge[0]]++
		degree[edge[1]]++
		for range size() - 2 {
			rim, bonds = append(rim, [2]int{before, atoms}), append(bonds, [2]int{before, atoms})
			degree[atoms] = 2
			before = atoms
			atoms++
		}
		rim, bonds = append(rim, [2]int{before, edge[1]}), append(bonds, [2]int{before, edge[1]})
	}
	return atoms, bonds
}

// unsaturate puts double bonds and elements on a skeleton and writes it.
func (l *list) unsaturate(n int, bonds [][2]int) (string, bool) {
	b := mol.NewBuilder()
	used := make([]int, n)
	for _, bond := range bonds {
		used[bond[0]]++
		used[bond[1]]++
	}
	orders := make([]mol.Order, len(bonds))
	doubled := make([]bool, n)
	for i := range orders {
		orders[i] = mol.Single
	}
	for _, i := range l.random.Perm(len(bonds)) {
		u, v := bonds[i][0], bonds[i][1]
		if !doubled[u] && !doubled[v] && l.random.IntN(8) > 0 {
			orders[i] = mol.Double
			doubled[u], doubled[v] = true, true
			used[u]++
			used[v]++
		}
	}
	for i := range n {
		elements := []chem.Element{chem.C, chem.C, chem.C, chem.C, chem.N}
		if used[i] == 2 && !doubled[i] {
			elements = append(elements, chem.O, chem.S, chem.N, chem.Se)
		}
		e := elements[l.random.IntN(len(elements))]
		if e == chem.N && used[i] > 3 {
			e = chem.C
		}
		valence, _ := mol.NextValence(e, 0, used[i])
		b.AddAtom(mol.Atom{Element: e, Hydrogens: uint8(valence - used[i])})
	}
	for i, bond := range bonds {
		b.AddBond(bond[0], bond[1], orders[i])
	}
	m, err := b.Mol()
	if err != nil {
		return "", false
	}
	return smiles.Write(m), true
}

// bridged adds bicycles, propellanes, spiro chains and cages.
func (l *list) bridged() {
	l.section("bridged and spiro rings")
	chain := func(n int) string { return strings.Repeat("C", n) }
	for a := range 5 {
		for b := range a + 1 {
			for c := range b + 1 {
				if a+b+c < 2 || b == 0 {
					continue
				}
				// bicyclo[a.b.c]: bridgeheads 1 and 2
				if c == 0 {
					l.fresh("C12" + chain(a) + "C1" + chain(b) + "2")
				} else {
					l.fresh("C12" + chain(a) + "C(" + chain(b) + "1)" + chain(c) + "2")
				}
			}
		}
	}
	for a := 1; a < 5; a++ {
		for b := 1; b <= a; b++ {
			l.fresh("C12(" + chain(a) + "C1)" + chain(b) + "C2")
			l.fresh("C123(" + chain(a) + "C1(" + chain(b) + "2)C3)")
		}
	}
	for _, s := range strings.Fields(`
		C12C3C4C1C5C2C3C45 C12C3C1C4C5C2C3C45 C12C3C4C5C1C6C7C2C8C3C9C4C1C5C6C2C7C8C9C12 C12C3C1C1C2C31 C1C2CC3CC1CC(C2)C3
		C1C2CC3C4CC5CC(C14)C(C2)C3C5 C12C3C4C5C6C7C8C1C1C2C3C4C5C6C7C81 C1CC2CCC1CC2 C1N2CN3CN1CN(C2)C3 O1P2OP3OP1OP(O2)O3 P12P3P1P23 S1SSSSSSS1
		C1CC11CC1 C1CC11CC11CC1 C1CCC2(CC1)CCCCC2 C1COCCOCCOCCOCCOCCO1 C1CCCCCCCCCCCCCCC1 c1cc2ccc1CCc1ccc(cc1)CC2 c1cc2cccc(c1)CC2
		C1=CC=CC=CC=CC=CC=CC=CC=CC=C1 C1=CC=CC=CC=C1 C1=CC2=CC=CC2=C1 c1ccc2cccc2cc1 C1=CC=C2C=CC=CC=CC2=C1 C1C2=CC=CC1=CC=CC=C2
		c1ccc2c(c1)ccc1ccccc12 c1ccc2cc3ccccc3cc2c1 c1cc2ccc3cccc4ccc(c1)c2c34 c1cc2cccc3c4cccc5cccc(c(c1)c23)c45 C1=Cc2cccc3cccc1c23 c1ccc2c(c1)-c1ccccc1-2
		c1cc2ccc3ccc4ccc5ccc6ccc1c7c2c3c4c5c67 c1ccc2c(c1)c1ccccc1c1ccccc21 C1=CC2=CC=C3C=CC4=CC=C1C1=C2C3=C41 O=C1C=CC(=O)C=C1 O=C1C=CC=CC=C1 O=c1cc[nH]cc1 O=c1[nH]cnc2c1[nH]cn2
		C1=CC(=C2C=CC=C2)C=C1 C1=CC1=C1C=CC=C1 C=C1C=CC=C1 C=C1C=CC(=C)C=C1 N=c1cc[nH]cc1 S=c1cc[nH]cc1 C1=CB=CC=C1 B1NBNBN1 c1cc[se]c1 C1=C[Te]C=C1 [SiH]1=CC=CC=C1 c1cc[o+]cc1 c1cc[s+]cc1
		[O-]c1ccccc1 [n+]1ccccc1 c1ccc[cH-]1 [cH+]1cccccc1 c1c#cccc1 [c+]1ccccc1 [c-]1ccccc1 [c]1ccccc1 O=s1cccc1 O=S1(=O)C=CC=C1 C[s+]1cccc1 c1ccpcc1 c1cc[pH]c1 c1nnnn1C c1nnn[nH]1 n1nnnnn1`) {
		l.fresh(s)
	}
}

// arrangements adds every class and number of arrangements in space, in
// several orders of the neighbors.
func (l *list) arrangements() {
	l.section("arrangements in space")
	halogens := []string{"F", "Cl", "Br", "I", "N", "O"}
	for k := 1; k <= 3; k++ {
		l.text(fmt.Sprintf("F[Pt@SP%d](Cl)(Br)I", k))
	}
	for k := 1; k <= 20; k++ {
		l.text(fmt.Sprintf("S[As@TB%d](F)(Cl)(Br)N", k))
	}
	for k := 1; k <= 30; k++ {
		l.text(fmt.Sprintf("C[Co@OH%d](F)(Cl)(Br)(I)S", k))
	}
	for _, mark := range []string{"@", "@@", "@TH1", "@TH2"} {
		for range 6 {
			p := l.random.Perm(4)
			l.text(fmt.Sprintf("%s[C%s](%s)(%s)%s", halogens[p[0]], mark, halogens[p[1]], halogens[p[2]], halogens[p[3]]))
			l.text(fmt.Sprintf("[C%sH](%s)(%s)%s", mark, halogens[p[1]], halogens[p[2]], halogens[p[3]]))
			l.text(fmt.Sprintf("%s[C%s]1(%s)OC1", halogens[p[0]], mark, halogens[p[1]]))
		}
	}
	for _, s := range strings.Fields(`
		F/C=C/F F/C=C\F F\C=C/F C(/F)=C/F C(\F)=C/F F/C(CC)=C/F F/C=C/C=C\C F/C=C/C=CC F/C=C/CC=CC F/C=C/C/C=C\C F/C=C=C=C/F F/C=C=C=C\F
		NC(Br)=[C@]=C(O)C NC(Br)=[C@@]=C(O)C N1[C@H](Cl)[C@@H](Cl)C(Cl)CC1 FC1C[C@](Br)(Cl)CCC1 [C@]1(Br)(Cl)CCCC(F)C1
		C[S@](=O)CC C[S@@](=O)CC C[P@](=O)(O)OC C[P@@](=O)(O)OC C[N@+](CC)(CCC)CCCC C[Si@](F)(Cl)Br
		C[C@H]1CC[C@@H](C)CC1 C[C@H]1CC[C@H](C)CC1 O[C@H]1[C@H](O)[C@@H](O)[C@H](O)[C@H](O)[C@H]1O O[C@H]1[C@H](O)[C@@H](O)[C@H](O)[C@@H](O)[C@@H]1O
		C[C@H](O)[C@@H](O)[C@@H](C)O C[C@H](O)[C@H](O)[C@H](C)O C[C@H](O)C(O)[C@@H](C)O C/C=C/[C@H](O)/C=C\C C/C=C/[C@@H](O)/C=C\C
		C1CC/C=C/CCC1 C1CC/C=C\CCC1 O/N=C/c1ccccc1 O/N=C\c1ccccc1 C/N=N/C C/N=N\C [2H][C@H](C)O [2H]/C=C/[2H] [2H]/C=C\[2H] [H]/N=C/C
		C[C@](C)(O)F C/C=C(C)/C C[C@H](C)O C1C[C@@H]1C C1CC/C=C\C1`) {
		l.text(s)
	}
}
