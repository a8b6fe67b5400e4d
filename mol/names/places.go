package names

import (
	"fmt"
	"slices"
)

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
				a.wrong(l.at, fmt.Sprintf("the ending %s is at the end of the chain, not at position %s", use.def.text, shown(l.label)))
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
