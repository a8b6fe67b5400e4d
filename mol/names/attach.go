package names

import (
	"fmt"

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
