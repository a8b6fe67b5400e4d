package smiles

import (
	"slices"
	"strconv"

	"ionwright/mol"
)

// chirality writes the arrangement of an atom's neighbors as it is in the
// order of the text.
func (w *writer) chirality(at int32, mark mol.Chirality) {
	switch mark = mark.Reorder(w.ligandOrder(at, mark)); {
	case mark == mol.NotChiral:
	case mark == mol.TH1 || mark == mol.AL1:
		w.out = append(w.out, '@')
	case mark == mol.TH2 || mark == mol.AL2:
		w.out = append(w.out, '@', '@')
	case mark < mol.TB1:
		w.out = strconv.AppendInt(append(w.out, "@SP"...), int64(mark-mol.SP1)+1, 10)
	case mark < mol.OH1:
		w.out = strconv.AppendInt(append(w.out, "@TB"...), int64(mark-mol.TB1)+1, 10)
	default:
		w.out = strconv.AppendInt(append(w.out, "@OH"...), int64(mark-mol.OH1)+1, 10)
	}
}

// ligandOrder says for each ligand in the order of the text where it is in
// the order of the graph.
func (w *writer) ligandOrder(at int32, mark mol.Chirality) []int8 {
	var text, graph []int32
	if mark != mol.AL1 && mark != mol.AL2 {
		text = w.textOrder(at, -1)
		lonePair := w.m.Atom(int(at)).Hydrogens == 0 && w.m.Degree(int(at)) == 3
		if w.m.Atom(int(at)).Hydrogens == 0 && !lonePair {
			text = slices.DeleteFunc(text, func(to int32) bool { return to == hiddenTurn })
		} else {
			graph = append(graph, hiddenTurn)
		}
		for _, nb := range w.m.Neighbors(int(at)) {
			graph = append(graph, nb.Atom)
		}
		return places(graph, text)
	}
	for k, nb := range w.m.Neighbors(int(at)) {
		before, end := w.chainEnd(at, nb.Atom)
		hydrogen := hiddenTurn - int32(k)
		if w.m.Degree(int(end)) == 2 {
			graph = append(graph, hydrogen)
		}
		for _, far := range w.m.Neighbors(int(end)) {
			if far.Atom != before {
				graph = append(graph, far.Atom)
			}
		}
		for _, to := range w.textOrder(end, before) {
			switch {
			case to != hiddenTurn:
				text = append(text, to)
			case w.m.Degree(int(end)) == 2:
				text = append(text, hydrogen)
			}
		}
	}
	return places(graph, text)
}

// textOrder lists the neighbors of an atom, without skip, in the order of the
// text; hiddenTurn is where a hydrogen that is no atom counts.
func (w *writer) textOrder(at, skip int32) []int32 {
	var list []int32
	add := func(to int32) {
		if to != skip {
			list = append(list, to)
		}
	}
	if w.parent[at] >= 0 {
		add(w.above(at))
	}
	add(hiddenTurn)
	for _, c := range w.ringBonds(nil, at) {
		add(w.closures[c].above ^ w.closures[c].below ^ at)
	}
	for _, s := range slices.Backward(w.branches(nil, at)) {
		add(s.atom)
	}
	return list
}

// chainEnd follows a chain of double bonds from before over at to its last
// atom, and returns the atom before it and it.
func (w *writer) chainEnd(before, at int32) (int32, int32) {
	for range maxCumulated {
		next := int32(-1)
		if w.m.Degree(int(at)) == 2 {
			for _, nb := range w.m.Neighbors(int(at)) {
				if nb.Atom != before && w.m.Bond(int(nb.Bond)).Order == mol.Double {
					next = nb.Atom
				}
			}
		}
		if next < 0 {
			break
		}
		before, at = at, next
	}
	return before, at
}
