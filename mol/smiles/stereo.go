package smiles

import (
	"ionwright/chem"
	"ionwright/mol"
)

// surroundings is what the arrangements of a text need to know of its graph:
// the bonds of each atom in their order.
type surroundings struct {
	*parser
	start  []int32
	by     []int32 // bonds
	folded []bool  // by atom: hydrogen that becomes a count
}

// surround lists the bonds of each atom.
func (p *parser) surround() *surroundings {
	s := &surroundings{parser: p, start: make([]int32, len(p.atoms)+2), by: make([]int32, 2*len(p.bonds))}
	for _, b := range p.bonds {
		s.start[b.Begin+2]++
		s.start[b.End+2]++
	}
	for i := range p.atoms {
		s.start[i+2] += s.start[i+1]
	}
	for i, b := range p.bonds {
		for _, at := range [2]int32{b.Begin, b.End} {
			s.by[s.start[at+1]] = int32(i)
			s.start[at+1]++
		}
	}
	s.start = s.start[:len(p.atoms)+1]
	s.folded = make([]bool, len(p.atoms))
	for i := range p.atoms {
		s.folded[i] = s.foldable(int32(i))
	}
	return s
}

// bondsOf returns the bonds of an atom.
func (s *surroundings) bondsOf(at int32) []int32 { return s.by[s.start[at]:s.start[at+1]] }

// foldable tells whether an atom is a hydrogen that says no more than a
// count, as the specification's standard form has it: no isotope, charge or
// class, and one single bond, to an atom that is no hydrogen.
func (s *surroundings) foldable(at int32) bool {
	if s.atoms[at] != (mol.Atom{Element: chem.H}) || len(s.bondsOf(at)) != 1 {
		return false
	}
	bond := s.bonds[s.bondsOf(at)[0]]
	heavy := s.atoms[bond.Other(at)]
	return bond.Order == mol.Single && heavy.Element != chem.H && heavy.Hydrogens < maxHydrogens
}

// maxHydrogens bounds the hydrogens that are counted at one atom.
const maxHydrogens = 200

// cisTrans turns the marks / and \ into arrangements of double bonds.
func (s *surroundings) cisTrans() error {
	used := make([]bool, len(s.bonds))
	for i := range s.bonds {
		if s.bonds[i].Order != mol.Double {
			continue
		}
		var sides [2]slant // of the reference at each end
		var marks [2][]int32
		conflict := int32(-1)
		for k := range 2 {
			var against int32
			if sides[k], marks[k], against = s.side(int32(i), k); against >= 0 {
				conflict = against
			}
		}
		if sides[0] == level || sides[1] == level {
			continue
		}
		if conflict >= 0 {
			at := int(s.where[conflict])
			return s.fail(at, at+1, "this direction puts both substituents on the same side of the double bond's end", "mark one of the two only")
		}
		for _, list := range marks {
			for _, bond := range list {
				used[bond] = true
			}
		}
		s.bonds[i].Stereo = mol.Trans
		if sides[0] == sides[1] {
			s.bonds[i].Stereo = mol.Cis
		}
		// A hydrogen that is the only substituent must stay an atom; two
		// hydrogens make no arrangement.
		var kept [2]int32
		for k := range 2 {
			before, at := s.chainEnd(int32(i), k)
			kept[k] = s.reference(before, at)
			if s.folded[kept[k]] && (s.atoms[at].Hydrogens > 0 || len(s.bondsOf(at)) > 2) {
				s.bonds[i].Stereo = mol.NoStereo
			}
		}
		if s.bonds[i].Stereo != mol.NoStereo {
			s.folded[kept[0]], s.folded[kept[1]] = false, false
		}
	}
	for i, direction := range s.slants {
		if direction != level && !used[i] {
			at := int(s.where[i])
			return s.fail(at, at+1, "this direction has no partner at the other end of a double bond", "marks / and \\ come in pairs, one at each end of a double bond; write a plain bond where the arrangement isn't known")
		}
	}
	return nil
}

// chainEnd returns the last atom of the chain of double bonds from a bond
// towards its end k (0 = Begin) and the atom before it. It is level with the
// other end only where the bond is in the middle; elsewhere both are -1.
func (s *surroundings) chainEnd(bond int32, k int) (before, at int32) {
	b := s.bonds[bond]
	ends := [2]int32{b.Begin, b.End}
	before, at = ends[1-k], ends[k]
	backBefore, back := ends[k], ends[1-k]
	for range maxCumulated {
		next, nextBack := s.nextDouble(before, at), s.nextDouble(backBefore, back)
		switch {
		case next < 0 && nextBack < 0:
			return before, at
		case next < 0 || nextBack < 0 || next == b.Begin || next == b.End:
			return -1, -1
		}
		before, at = at, next
		backBefore, back = back, nextBack
	}
	return -1, -1
}

// maxCumulated bounds the half length of a chain of double bonds that has an
// arrangement.
const maxCumulated = 50

// nextDouble returns the atom that a chain of double bonds goes on to, -1 at
// its end.
func (s *surroundings) nextDouble(before, at int32) int32 {
	bonds := s.bondsOf(at)
	if len(bonds) != 2 || s.atoms[at].Hydrogens != 0 {
		return -1
	}
	for _, bond := range bonds {
		if to := s.bonds[bond].Other(at); to != before && s.bonds[bond].Order == mol.Double {
			return to
		}
	}
	return -1
}

// reference returns the substituent at the end of a chain that the graph
// refers to: the first that stays an atom, or a hydrogen where there is no
// other.
func (s *surroundings) reference(before, at int32) int32 {
	hydrogen := int32(-1)
	for _, bond := range s.bondsOf(at) {
		to := s.bonds[bond].Other(at)
		switch {
		case to == before:
		case !s.folded[to]:
			return to
		case hydrogen < 0:
			hydrogen = to
		}
	}
	return hydrogen
}

// side returns on which side of end k of a chain the reference lies, level
// where no mark says it, the marked bonds, and one of them that contradicts
// another, or -1.
func (s *surroundings) side(bond int32, k int) (side slant, marks []int32, conflict int32) {
	conflict = -1
	before, at := s.chainEnd(bond, k)
	if at < 0 || len(s.bondsOf(at)) > 3 {
		return level, nil, conflict
	}
	reference := s.reference(before, at)
	for _, b := range s.bondsOf(at) {
		to := s.bonds[b].Other(at)
		direction := s.slants[b]
		if to == before || direction == level {
			continue
		}
		if s.bonds[b].Begin != at {
			direction = -direction
		}
		if to != reference {
			direction = -direction
		}
		if side != level && side != direction {
			conflict = b
		}
		side = direction
		marks = append(marks, b)
	}
	return side, marks, conflict
}

// hasAllene tells whether a chirality mark stands on the middle of a chain of
// double bonds.
func (p *parser) hasAllene() bool {
	doubles := make([]int8, len(p.atoms))
	others := make([]int8, len(p.atoms))
	for _, b := range p.bonds {
		for _, at := range [2]int32{b.Begin, b.End} {
			if b.Order == mol.Double {
				doubles[at] = min(doubles[at]+1, 3)
			} else {
				others[at] = 1
			}
		}
	}
	for i := range p.atoms {
		if p.atoms[i].Chirality != mol.NotChiral && doubles[i] == 2 && others[i] == 0 {
			return true
		}
	}
	return false
}

// chiralities turns the marks of atoms, which refer to the order of the text,
// into those of the graph. A mark on an atom that can't have the arrangement,
// for want of neighbors, is dropped.
func (s *surroundings) chiralities() {
	first := make([]int32, len(s.atoms)+1)
	for _, t := range s.chiral {
		first[t.atom+1]++
	}
	for i := range s.atoms {
		first[i+1] += first[i]
	}
	turns := make([]int32, len(s.chiral))
	cursor := append([]int32(nil), first...)
	for _, t := range s.chiral {
		turns[cursor[t.atom]] = t.to
		cursor[t.atom]++
	}
	textOrder := func(at int32) []int32 { return turns[first[at]:first[at+1]] }
	for i := range s.atoms {
		a := &s.atoms[i]
		if a.Chirality == mol.NotChiral {
			continue
		}
		var text, graph []int32
		if s.isAllene(int32(i)) {
			text, graph = s.alleneLigands(int32(i), textOrder)
			if a.Chirality <= mol.TH2 {
				a.Chirality += mol.AL1 - mol.TH1
			} else if a.Chirality > mol.AL2 {
				text = nil
			}
		} else {
			text, graph = s.ligands(int32(i), -1, textOrder(int32(i)))
			switch {
			case a.Chirality == mol.AL1 || a.Chirality == mol.AL2:
				text = nil
			case a.Chirality <= mol.TH2 && len(text) == 5:
				a.Chirality += mol.TB1 - mol.TH1
			case a.Chirality <= mol.TH2 && len(text) == 6:
				a.Chirality += mol.OH1 - mol.TH1
			}
		}
		a.Chirality = a.Chirality.Reorder(places(text, graph))
	}
}

// places says for each ligand of the graph's order where it is in the text's
// order; nil where the two don't match.
func places(text, graph []int32) []int8 {
	if len(text) != len(graph) || len(text) > 6 {
		return nil
	}
	order := make([]int8, len(graph))
	for k, ligand := range graph {
		order[k] = -1
		for j, to := range text {
			if to == ligand {
				order[k] = int8(j)
			}
		}
		if order[k] < 0 {
			return nil
		}
	}
	return order
}

// ligands lists the ligands of an atom, without the neighbor skip, in the
// order of the text and of the graph; a hydrogen or lone pair that isn't an
// atom is hiddenTurn. Two of those give nothing.
func (s *surroundings) ligands(at, skip int32, turns []int32) (text, graph []int32) {
	hidden := int(s.atoms[at].Hydrogens)
	for _, to := range turns {
		if to >= 0 && s.folded[to] {
			hidden++
		}
	}
	atoms := len(s.bondsOf(at)) - (hidden - int(s.atoms[at].Hydrogens))
	if skip >= 0 {
		atoms--
	}
	switch {
	case hidden > 1:
		return nil, nil
	case hidden == 0 && skip < 0 && atoms == 3:
		hidden = 1 // the lone pair
	}
	if hidden == 1 {
		graph = append(graph, hiddenTurn)
	}
	for _, bond := range s.bondsOf(at) {
		if to := s.bonds[bond].Other(at); to != skip && !s.folded[to] {
			graph = append(graph, to)
		}
	}
	written := false // the hidden ligand is written as an atom
	for _, to := range turns {
		written = written || to >= 0 && s.folded[to]
	}
	for _, to := range turns {
		switch {
		case to == skip && skip >= 0:
		case to == hiddenTurn:
			if hidden == 1 && !written {
				text = append(text, hiddenTurn)
			}
		case s.folded[to]:
			text = append(text, hiddenTurn)
		default:
			text = append(text, to)
		}
	}
	return text, graph
}

// isAllene tells whether an atom is the middle of a chain of double bonds.
func (s *surroundings) isAllene(at int32) bool {
	bonds := s.bondsOf(at)
	return len(bonds) == 2 && s.bonds[bonds[0]].Order == mol.Double && s.bonds[bonds[1]].Order == mol.Double
}

// alleneLigands lists the four ligands at the ends of the chain of double
// bonds around at, in the order of the text and of the graph. Atoms stand for
// themselves, the hydrogen at an end is hiddenTurn minus the end's number.
func (s *surroundings) alleneLigands(at int32, textOrder func(int32) []int32) (text, graph []int32) {
	for k, bond := range s.bondsOf(at) {
		before, end := at, s.bonds[bond].Other(at)
		for range maxCumulated {
			next := s.nextDouble(before, end)
			if next < 0 {
				break
			}
			before, end = end, next
		}
		endText, endGraph := s.ligands(end, before, textOrder(end))
		if len(endText) != 2 || len(endGraph) != 2 {
			return nil, nil
		}
		for j := range endText {
			if endText[j] == hiddenTurn {
				endText[j] -= int32(k)
			}
			if endGraph[j] == hiddenTurn {
				endGraph[j] -= int32(k)
			}
		}
		text, graph = append(text, endText...), append(graph, endGraph...)
	}
	return text, graph
}
