package names

import (
	"fmt"
	"slices"

	"ionwright/chem"
)

// attachSuffixes puts the groups of the endings on the parent.
func (a *assembly) attachSuffixes(s state) []state {
	states := []state{s}
	for k := range a.suffixes {
		use := &a.suffixes[k]
		if use.def.kind == bondSuffix || use.def.kind == oxySuffix {
			continue
		}
		var next []state
		for _, s := range states {
			for _, places := range a.placesOf(&s, use) {
				if t, ok := a.attach(s.clone(), use, places); ok {
					next = append(next, t)
				}
			}
		}
		if len(next) > maxStates {
			next = next[:maxStates]
			for i := range next {
				next[i].cut = true
			}
		}
		states = next
	}
	return states
}

// placesOf lists the sets of atoms that may carry the groups of an ending.
func (a *assembly) placesOf(s *state, use *suffixUse) [][]int {
	chain := a.core.kind == chainCore
	short := a.core.entry != nil && len(a.core.entry.short) > 0
	if use.def.kind == chainAcid && !short && !(a.steroid() && use.locants != nil) {
		if !chain {
			a.wrong(use.at, fmt.Sprintf("the ending %s needs a chain; on a ring it is carboxylic acid, carbaldehyde, carbonitrile ...", use.def.text))
			return nil
		}
		return a.chainEnds(s, use)
	}
	if use.locants != nil {
		if len(use.locants) == 1 && use.count == 2 && a.core.plain && a.core.kind == ringCore { // p-benzenediol
			if pair, ok := benzenePair(use.locants[0].label); ok {
				return [][]int{pair}
			}
		}
		if !a.countFits(use.at, use.locants, use.count, use.def.text+" ending") {
			return nil
		}
		sets := [][]int{nil}
		for _, l := range use.locants {
			found := a.find(s, l)
			if len(found) == 0 {
				a.missing(l)
				return nil
			}
			var next [][]int
			for _, set := range sets {
				for _, i := range found {
					next = append(next, append(slices.Clone(set), i))
				}
			}
			sets = next
		}
		return sets
	}
	if a.core.plain && use.count == 1 && use == &a.suffixes[0] {
		return [][]int{{0}}
	}
	return a.anyPlaces(s, use)
}

// steroid reports whether the parent is a named saturated skeleton with chains
// of its own, whose ends may be acids: cholan-24-oic acid.
func (a *assembly) steroid() bool {
	return a.core.kind == cycleCore && a.core.entry != nil
}

// benzenePair gives the two atoms of an o-, m- or p-disubstituted benzene.
func benzenePair(label string) ([]int, bool) {
	switch label {
	case "o":
		return []int{0, 1}, true
	case "m":
		return []int{0, 2}, true
	case "p":
		return []int{0, 3}, true
	}
	return nil, false
}

// chainEnds gives the ends of the chain to acids, aldehydes, nitriles and
// amides; locants, where there are any, must say the same.
func (a *assembly) chainEnds(s *state, use *suffixUse) [][]int {
	ends := []int{0}
	switch {
	case use.count == 2 && a.core.size >= 2:
		ends = append(ends, a.core.size-1)
	case use.count != 1:
		a.wrong(use.at, fmt.Sprintf("a chain has two ends, not %d, for the ending %s", use.count, use.def.text))
		return nil
	}
	if use.locants != nil {
		if !a.countFits(use.at, use.locants, use.count, use.def.text+" ending") {
			return nil
		}
		for k, l := range use.locants {
			if found := a.find(s, l); len(found) != 1 || found[0] != ends[k] {
				a.wrong(l.at, fmt.Sprintf("the ending %s is at the end of the chain, not at position %s", use.def.text, l.label))
				return nil
			}
		}
	}
	return [][]int{ends}
}

// anyPlaces lists the places of an ending that has no locants. On a chain
// their lowest numbering counts; one group is not at both ends of a bond with
// itself (no geminal groups), and a ketone isn't at the end of the chain.
func (a *assembly) anyPlaces(s *state, use *suffixUse) [][]int {
	if use.def.kind == ketoneSuffix && use.count == 1 && a.core.kind == chainCore && a.core.size <= 2 {
		return [][]int{{0}} // ethanone, methanone: a substituent must follow
	}
	var atoms []int
	for i, x := range s.atoms {
		if len(x.labels) == 0 || x.closed || s.hydrogens(i) == 0 {
			continue
		}
		if x.chain > 0 {
			if use.count == 1 && x.chain > (a.core.size+1)/2 {
				continue
			}
			if (use.def.kind == ketoneSuffix || use.def.kind == thioneSuffix) && (x.chain == 1 || x.chain == a.core.size) {
				continue
			}
		}
		atoms = append(atoms, i)
	}
	var sets [][]int
	var choose func(set []int, from int)
	choose = func(set []int, from int) {
		if len(set) == use.count {
			sets = append(sets, slices.Clone(set))
			return
		}
		for k := from; k < len(atoms) && len(sets) < maxStates; k++ {
			choose(append(set, atoms[k]), k+1)
		}
	}
	choose(nil, 0)
	if len(sets) == 0 {
		a.wrong(use.at, fmt.Sprintf("%s has no place for the ending %s", a.what(), use.def.text))
	}
	return sets
}

// attach puts the n groups of an ending on atoms.
func (a *assembly) attach(s state, use *suffixUse, places []int) (state, bool) {
	need := 1
	switch use.def.kind {
	case ketoneSuffix, thioneSuffix, imineSuffix:
		need = 2
	case chainAcid:
		if a.core.kind == chainCore || a.steroid() {
			need = 3
		}
	}
	for n, i := range places {
		x := &s.atoms[i]
		if use.def.kind == lactoneSuffix {
			if a.core.kind != chainCore || use.locants == nil || x.chain < 3 || s.hydrogens(i) < 1 || s.hydrogens(0) < 3 {
				a.wrong(use.at, "a lactone needs a chain and the locant of its oxygen, at least 3")
				return s, false
			}
			s.addBond(0, s.addAtom(atom{element: chem.O}), 2)
			o := s.addAtom(atom{element: chem.O})
			s.addBond(0, o, 1)
			s.addBond(i, o, 1)
			s.atoms[0].closed, s.alpha = true, 2
			continue
		}
		if use.def.kind == oxideSuffix {
			if x.element != chem.N || s.hydrogens(i) != 0 || use.locants == nil {
				a.wrong(use.at, "an N-oxide needs the locant of a nitrogen without hydrogen")
				return s, false
			}
			x.charge = 1
			s.addBond(i, s.addAtom(atom{element: chem.O, charge: -1}), 1)
			continue
		}
		if need == 2 && x.pool {
			x.pool = false // the exocyclic double bond takes the place of that in the ring
		}
		if h := s.hydrogens(i); h < need || x.closed || x.element != chem.C && x.element != chem.N && x.element != chem.Si && x.element != chem.S {
			at, label := use.at, ""
			if use.locants != nil && n < len(use.locants) {
				at, label = use.locants[n].at, use.locants[n].label
			}
			a.wrong(at, fmt.Sprintf("position %s of %s has no room for the ending %s", label, a.what(), use.def.text))
			return s, false
		}
		a.attachOne(&s, use, i, n)
	}
	return s, true
}

func (a *assembly) attachOne(s *state, use *suffixUse, i, n int) {
	def := use.def
	single := func(e chem.Element) int {
		k := s.addAtom(atom{element: e})
		s.addBond(i, k, 1)
		return k
	}
	if def.kind == chainAcid && a.core.kind != chainCore && !a.steroid() || def.kind == addedAcid {
		c := single(chem.C)
		s.addForm(c, def.form, n)
		return
	}
	switch def.kind {
	case hydroxySuffix:
		single(chem.O)
	case thiolSuffix:
		single(chem.S)
	case amineSuffix:
		a.labelNitrogen(s, single(chem.N), use, n)
	case imineSuffix:
		k := s.addAtom(atom{element: chem.N})
		s.addBond(i, k, 2)
		a.labelNitrogen(s, k, use, n)
	case ketoneSuffix:
		s.addBond(i, s.addAtom(atom{element: chem.O}), 2)
	case thioneSuffix:
		s.addBond(i, s.addAtom(atom{element: chem.S}), 2)
	case chainAcid:
		s.addForm(i, def.form, n)
		if a.core.kind == chainCore {
			s.alpha = 2
		}
	case sulfonicSuffix, sulfinicSuffix:
		k := single(chem.S)
		s.addBond(k, s.addAtom(atom{element: chem.O}), 2)
		if def.kind == sulfonicSuffix {
			s.addBond(k, s.addAtom(atom{element: chem.O}), 2)
			s.atoms[k].valence = 6
		} else {
			s.atoms[k].valence = 4
		}
		switch def.form {
		case plainForm:
			s.addBond(k, s.addAtom(atom{element: chem.O}), 1)
		case anionForm:
			s.addBond(k, s.addAtom(atom{element: chem.O, site: esterSite}), 1)
		case amideForm:
			s.addBond(k, s.addAtom(atom{element: chem.N, labels: []string{primes("n", n)}, open: true}), 1)
		case acylForm:
			s.atoms[k].site = acylSite
			s.atoms[k].closed = true
		}
	case phosphonicSuffix:
		k := single(chem.P)
		s.addBond(k, s.addAtom(atom{element: chem.O}), 2)
		for range 2 {
			o := atom{element: chem.O}
			if def.form == anionForm {
				o.site = esterSite
			}
			s.addBond(k, s.addAtom(o), 1)
		}
	case boronicSuffix:
		k := single(chem.B)
		for range 2 {
			s.addBond(k, s.addAtom(atom{element: chem.O}), 1)
		}
	case chainSuffix:
		a.attachChain(s, use, i, n)
	}
}

// labelNitrogen gives the nitrogen of an amine its locants: N, N' ... and N2
// for the one at position 2.
func (a *assembly) labelNitrogen(s *state, k int, use *suffixUse, n int) {
	s.atoms[k].labels = []string{primes("n", n)}
	if use.locants != nil && n < len(use.locants) {
		s.atoms[k].labels = append(s.atoms[k].labels, "n"+use.locants[n].label)
	}
	s.atoms[k].open = true
}

// attachChain bonds the chain of a conjunctive name to ring atom i: Greek
// locants count from its group.
func (a *assembly) attachChain(s *state, use *suffixUse, i, n int) {
	def := use.def
	words := []string{"alpha", "beta", "gamma", "delta", "epsilon", "zeta"}
	last := i
	acid := def.tail.kind == chainAcid
	for k := def.size; k >= 1; k-- {
		x := atom{element: chem.C}
		place := k - 1
		if acid {
			place = k - 2
		}
		if place >= 0 {
			x.labels = []string{primes(words[place], n)}
		}
		c := s.addAtom(x)
		s.addBond(last, c, 1)
		last = c
	}
	tail := suffixUse{at: use.at, def: def.tail, count: 1}
	if acid {
		s.addForm(last, def.tail.form, n)
		return
	}
	a.attachOne(s, &tail, last, n)
}

// finishAcid completes the acid groups of a retained acid or marks the oxygens
// of an anion.
func (a *assembly) finishAcid(s state) []state {
	switch a.core.kind {
	case acidCore:
		for n, c := range a.core.entry.sites {
			s.addForm(c, a.form, n)
			if a.core.thio {
				s.thionate(c, a.form)
			}
		}
	case oxoacidCore:
		if a.core.entry.anion {
			for _, o := range a.core.entry.sites {
				s.atoms[o].site = esterSite
			}
		}
	}
	return []state{s}
}

// freeBond finds the bonding atom of a substituent.
func (a *assembly) freeBond(s state) []state {
	if !a.candidate.bonds {
		return []state{s}
	}
	switch a.core.kind {
	case radicalCore:
		s.bonds = []int{0}
		if a.core.entry.kind == bridge {
			s.bonds = []int{0, a.core.entry.bridged}
		}
		return []state{s}
	case acidCore:
		c := a.core.entry.sites[0]
		switch {
		case a.amido:
			s.bonds = []int{len(s.atoms) - 1} // the nitrogen that addForm made last
		case a.oxy:
			o := s.addAtom(atom{element: chem.O})
			s.addBond(c, o, 1)
			s.bonds = []int{o}
		default:
			s.bonds = []int{c}
		}
		return []state{s}
	}
	use := &a.suffixes[len(a.suffixes)-1]
	if use.def.kind != bondSuffix && use.def.kind != oxySuffix {
		for i, x := range s.atoms {
			if x.site == acylSite {
				s.bonds = append(s.bonds, i)
			}
		}
		if len(s.bonds) != 1 {
			return nil
		}
		return []state{s}
	}
	if use.count == 2 && use.def.kind == bondSuffix && use.def.bond == yl && use.locants != nil {
		return a.twoBonds(s, use)
	}
	if use.count != 1 {
		return nil
	}
	var places [][]int
	switch {
	case use.locants != nil:
		places = a.placesOf(&s, use)
	case a.core.kind == chainCore || a.core.plain:
		places = [][]int{{0}}
		if a.core.kind == chainCore {
			s.alpha = 1
		}
	default:
		places = a.anyPlaces(&s, use)
	}
	var found []state
	for _, set := range places {
		t := s.clone()
		i := set[0]
		need := 1 + int(use.def.bond)
		if need > 1 {
			t.atoms[i].pool = false
		}
		if t.hydrogens(i) < need || t.atoms[i].closed {
			if use.locants != nil {
				a.wrong(use.locants[0].at, fmt.Sprintf("position %s of %s has no free bond for the ending %s", use.locants[0].label, a.what(), use.def.text))
			}
			continue
		}
		if use.def.kind == oxySuffix {
			o := t.addAtom(atom{element: chem.O})
			t.addBond(i, o, 1)
			i = o
		}
		t.bonds = []int{i}
		found = append(found, t)
	}
	return found
}

// twoBonds frees a bond at each of two positions: ethane-1,2-diyl.
func (a *assembly) twoBonds(s state, use *suffixUse) []state {
	var found []state
	for _, set := range a.placesOf(&s, use) {
		if set[0] != set[1] && s.hydrogens(set[0]) > 0 && s.hydrogens(set[1]) > 0 {
			t := s.clone()
			t.bonds = set
			found = append(found, t)
		}
	}
	return found
}
