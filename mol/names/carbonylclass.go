package names

import (
	"strings"

	"ionwright/chem"
)

// readAcetal reads [carbonyl compound] [alkyl] [alkyl] acetal, and the rings
// of bivalent parts: ethylene acetal.
func (r *reader) readAcetal(p, limit int) []built {
	var found []built
	for _, cut := range r.cuts(p, limit) {
		next := cut.next
		if r.has(next, limit, "cyclic ") {
			next += len("cyclic ")
		}
		for _, c := range r.part(p, cut.end) {
			carbonyls := c.carbonyls()
			if len(carbonyls) != 1 {
				continue
			}
			for _, a := range r.alkylsAt(next, limit) {
				if b, ok := acetal(c, carbonyls[0], a); ok {
					found = addBuilt(found, b)
				}
			}
		}
	}
	return found
}

func acetal(c built, carbon int, a alkyls) (built, bool) {
	var parts []*radical
	ring := len(a.parts) == 1 && a.parts[0].kind == bridge
	switch {
	case ring:
	case len(a.parts) == 2 && a.parts[0].kind == yl && a.parts[1].kind == yl:
		parts = a.parts
	default:
		return built{}, false
	}
	g := c.clone().graph
	oxygen := g.carbonylOxygen(carbon)
	g.removeAtom(oxygen)
	carbon = relocated(carbon, oxygen)
	one, two := g.addAtom(atom{element: chem.O}), g.addAtom(atom{element: chem.O})
	g.addBond(carbon, one, 1)
	g.addBond(carbon, two, 1)
	if ring {
		x := a.parts[0]
		first := g.join(one, x.graph, x.bonds[0], 1)
		g.addBond(two, first+x.bonds[1]-x.bonds[0], 1)
	} else {
		g.join(one, parts[0].graph, parts[0].bonds[0], 1)
		g.join(two, parts[1].graph, parts[1].bonds[0], 1)
	}
	return complete(g, a, c)
}

// relocated is the index of atom i after removed was taken out.
func relocated(i, removed int) int {
	if i > removed {
		return i - 1
	}
	return i
}

// readCarbonylClass reads what replaces the oxygen of an aldehyde or ketone:
// [compound] oxime, [compound] phenylhydrazone, [compound] O-methyl oxime.
func (r *reader) readCarbonylClass(w *classWord, p, limit int) []built {
	piece := fragments()[w.smiles]
	var found []built
	try := func(c built, a alkyls) {
		carbonyls := c.carbonyls()
		if len(carbonyls) != 1 || len(a.parts) > len(w.bonds) {
			return
		}
		for _, x := range a.parts {
			if x.kind != yl {
				return
			}
		}
		g := c.clone().graph
		oxygen := g.carbonylOxygen(carbonyls[0])
		g.removeAtom(oxygen)
		carbon := relocated(carbonyls[0], oxygen)
		first := g.join(carbon, &piece, 0, 2)
		for k, x := range a.parts {
			g.join(first+w.bonds[k], x.graph, x.bonds[0], 1)
		}
		if b, ok := complete(g, a, c); ok {
			found = addBuilt(found, b)
		}
	}
	for _, c := range r.part(p, limit) {
		try(c, alkyls{})
	}
	for _, cut := range r.cuts(p, limit) {
		for _, c := range r.part(p, cut.end) {
			for _, a := range r.alkylsAt(cut.next, limit) {
				try(c, a)
			}
		}
	}
	return found
}

// readAmide reads [acid] amide, [acid] diethylamide, [acid] hydrazide.
func (r *reader) readAmide(w *classWord, p, limit int) []built {
	piece := fragments()[w.smiles]
	var found []built
	try := func(c built, a alkyls) {
		hydroxys := c.acidHydroxys()
		if len(hydroxys) != 1 || len(a.parts) > len(w.bonds) {
			return
		}
		for _, x := range a.parts {
			if x.kind != yl {
				return
			}
		}
		g := c.clone().graph
		carbon := r.carrier(c, hydroxys[0])
		g.removeAtom(hydroxys[0])
		first := g.join(relocated(carbon, hydroxys[0]), &piece, 0, 1)
		for k, x := range a.parts {
			g.join(first+w.bonds[k], x.graph, x.bonds[0], 1)
		}
		if b, ok := complete(g, a, c); ok {
			found = addBuilt(found, b)
		}
	}
	acid := func(end int) bool { return strings.HasSuffix(r.s[p:end], " acid") }
	if acid(limit) {
		for _, c := range r.compound(p, limit) {
			try(c, alkyls{})
		}
	}
	for _, cut := range r.cuts(p, limit) {
		if !acid(cut.end) {
			continue
		}
		for _, c := range r.compound(p, cut.end) {
			for _, a := range r.alkylsAt(cut.next, limit) {
				try(c, a)
			}
		}
	}
	return found
}

// readOxide reads [alkene] oxide, an epoxide, and [amine] N-oxide.
func (r *reader) readOxide(p, limit int) []built {
	onNitrogen := false
	if strings.HasSuffix(r.s[p:limit], " n") || strings.HasSuffix(r.s[p:limit], "-n") || strings.HasSuffix(r.s[p:limit], "-1") {
		limit -= 2
		onNitrogen = true
	}
	var found []built
	for _, c := range r.compound(p, limit) {
		var doubles []bond
		for _, b := range c.graph.bonds {
			if b.order == 2 && c.atoms[b.a].element == chem.C && c.atoms[b.b].element == chem.C && !c.benzenoid(b) {
				doubles = append(doubles, b)
			}
		}
		nitrogens := c.nitrogens()
		switch {
		case !onNitrogen && len(doubles) == 1 && len(nitrogens) == 0:
			g := c.clone().graph
			k := g.bondBetween(doubles[0].a, doubles[0].b)
			g.bonds[k].order = 1
			o := g.addAtom(atom{element: chem.O})
			g.addBond(doubles[0].a, o, 1)
			g.addBond(doubles[0].b, o, 1)
			if b, ok := complete(g, alkyls{}, c); ok {
				found = addBuilt(found, b)
			}
		case onNitrogen || len(doubles) == 0:
			for _, n := range nitrogens {
				g := c.clone().graph
				g.atoms[n].charge = 1
				g.addBond(n, g.addAtom(atom{element: chem.O, charge: -1}), 1)
				if b, ok := complete(g, alkyls{}, c); ok {
					found = addBuilt(found, b)
				}
			}
		}
	}
	if len(found) > 1 && bestPenalty(found) == 0 {
		for i := range found {
			found[i].penalty++
		}
	}
	return found
}

// benzenoid reports whether a bond is in a ring of six carbons with alternating
// double bonds.
func (g *graph) benzenoid(b bond) bool {
	var walk func(at, from, steps, order int) bool
	walk = func(at, from, steps, order int) bool {
		if g.atoms[at].element != chem.C {
			return false
		}
		if steps == 5 {
			return at == b.a && order != b.order
		}
		found := false
		g.neighbors(at, func(j, next int) {
			found = found || j != from && next == 3-order && walk(j, at, steps+1, next)
		})
		return found
	}
	return b.order <= 2 && walk(b.b, b.a, 0, b.order)
}
