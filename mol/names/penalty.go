package names

import (
	"strconv"

	"ionwright/chem"
)

// nestedInstead is the penalty of two substituents side by side, without
// locants or parentheses, that could as well be one on the other: what the
// nested reading leaves open. Both readings then stand (methoxyethoxymethyl),
// unless one of them fits nowhere.
func (a *assembly) nestedInstead() int {
	penalty := 0
	centered := a.centered()
	for k := 0; k+1 < len(a.groups); k++ {
		g, h := &a.groups[k], &a.groups[k+1]
		if g.kind != substituent || h.kind != substituent || h.locants != nil || h.count > 1 && !a.has(h.at, h.end, "(") || g.locants != nil {
			continue
		}
		if centered && a.s[g.rads[0].at:g.end] <= a.s[h.rads[0].at:h.end] {
			continue // dimethylphenylsilane: groups on one atom, in alphabetical order
		}
		least := -1
		for key, rads := range a.radMemo {
			if key.begin != g.at {
				continue
			}
			for i := range rads {
				if rads[i].end == h.end && (least < 0 || rads[i].penalty < least) {
					least = rads[i].penalty
				}
			}
		}
		if least > 0 {
			penalty += least
		}
	}
	return penalty
}

// centered reports whether all substituents are on a single atom: amine,
// silane, silyl, phosphine, carbinol.
func (a *assembly) centered() bool {
	if a.core.kind != fixedCore && a.core.kind != radicalCore {
		return false
	}
	count := 0
	for _, x := range a.core.graph.atoms {
		if x.open {
			count++
			if x.element == chem.C && a.core.kind == radicalCore {
				return false
			}
		}
	}
	return count == 1
}

// innerFront reports whether the locant before an alkyl group can be its own:
// that of 2-butyl can, that of 1-butyl says nothing (a penalty) unless other
// locants of the group come before it (2-ethyl-1-hexyl), and there is no
// 2-ethyl.
func (a *assembly) innerFront() (ok bool, penalty int) {
	if len(a.front) != 1 || a.core.size < 3 {
		return false, 0
	}
	n, err := strconv.Atoi(a.front[0].label)
	if err != nil || n < 1 || n >= a.core.size {
		return false, 0
	}
	if n > 1 {
		return true, 0
	}
	for _, g := range a.groups {
		for _, l := range g.locants {
			if l.label == "1" {
				return false, 0
			}
		}
	}
	if len(a.groups) == 0 {
		penalty = 1
	}
	return true, penalty
}
