package smiles

import "ionwright/mol"

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
