package names

import (
	"fmt"

	"ionwright/chem"
)

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
				a.wrong(use.locants[0].at, fmt.Sprintf("position %s of %s has no free bond for the ending %s", shown(use.locants[0].label), a.what(), use.def.text))
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
