package names

import (
	"slices"

	"ionwright/chem"
)

// othersLocated reports whether another substituent of the same parent has a
// locant of the skeleton.
func (a *assembly) othersLocated(g *group) bool {
	located := false
	for k := range a.groups {
		h := &a.groups[k]
		if h.kind == substituent && h.locants != nil && !plainLocants(h.locants) && h.locants[0].label[0] != 'n' {
			located = true
		}
	}
	return located
}

// suits reports whether a substituent may be bonded to atom i: links with
// sulfur and nitrogen are to carbon (chlorothio is no prefix), and diazo is on
// carbon.
func (a *assembly) suits(s *state, i int, x *radical, located *locant) bool {
	first := x.graph.atoms[x.bonds[0]].element
	if a.core.kind == radicalCore {
		switch a.core.entry.text {
		case "thio", "sulfanyl", "mercapto", "seleno", "selanyl", "disulfanyl", "azo", "diazenyl", "peroxy", "dioxy":
			return first == chem.C || first == chem.Si
		case "oxy":
			return first != chem.O && first != chem.N && !halogen(first)
		}
	}
	if e := a.core.entry; e != nil && e.peptide && located == nil {
		if s.atoms[i].element != chem.N || !x.graph.carbonyl(x.bonds[0]) || s.acylated(i) {
			return false
		}
	}
	if located == nil && s.atoms[i].element == chem.N && first == chem.O && len(a.groups) > 1 {
		return false // acetoxyethylamino isn't N-acetoxy-N-ethyl
	}
	if located == nil && (x.graph.carbonyl(x.bonds[0]) || first == chem.Si) && len(a.core.graph.hydroxys()) > 0 &&
		(a.core.kind == acidCore || a.core.kind == fixedCore) && s.atoms[i].element == chem.C {
		return false // acetyltartaric acid is an ester
	}
	if x.kind == ylidene && first == chem.N && x.graph.atoms[x.bonds[0]].charge == 1 {
		return s.atoms[i].element == chem.C
	}
	return true
}

// acylated reports whether atom i is bonded to a carbonyl carbon.
func (g *graph) acylated(i int) bool {
	found := false
	g.neighbors(i, func(j, _ int) { found = found || g.carbonyl(j) })
	return found
}

func halogen(e chem.Element) bool {
	return e == chem.F || e == chem.Cl || e == chem.Br || e == chem.I
}

// endOfChain reports whether an alkyl group on atom i would belong to the
// chain: i is its end, and nothing of the name is bonded there.
func (a *assembly) endOfChain(s *state, i int) bool {
	if a.core.kind != chainCore || a.core.size < 2 || s.atoms[i].element != chem.C || slices.Contains(s.bonds, i) {
		return false
	}
	ending := false // an ending's group is there: 1-phenyl-1-methylethanol
	s.neighbors(i, func(j, _ int) {
		ending = ending || s.atoms[j].chain == 0 && s.atoms[j].element != chem.C
	})
	return !ending && (s.atoms[i].chain == 1 || s.atoms[i].chain == a.core.size)
}

// lengthens reports whether an alkyl group without a locant would lengthen the
// chain it is put on: then the name would be that of the longer chain. Without
// parentheses it isn't put on a chain that is a substituent at all, because
// ethylmethyl means two groups.
func (a *assembly) lengthens(s *state, i int, x *radical) bool {
	if s.atoms[i].element != chem.C {
		return false
	}
	if x.kind == ylidene && a.candidate.bonds && a.core.kind == chainCore && x.graph.atoms[x.bonds[0]].element == chem.C {
		return true
	}
	if !x.alkyl {
		return false
	}
	if a.candidate.bonds && (a.core.kind == chainCore || a.core.kind == radicalCore && a.core.entry.alkyl) {
		return true
	}
	return a.core.kind == chainCore && a.core.size > 1 && (s.atoms[i].chain == 1 || s.atoms[i].chain == a.core.size)
}
