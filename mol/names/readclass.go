package names

import "strings"

// readPair reads a class word between two parts: [alkyl] [alkyl] ketone.
func (r *reader) readPair(w *classWord, p, limit int) []built {
	var found []built
	for _, a := range r.alkylsAt(p, limit) {
		parts := a.parts
		if len(parts) == 1 && parts[0].kind == yl && r.s[limit-2:limit] == "yl" && !strings.Contains(r.s[p:limit], " ") && !a.mono && w.text != "ketone" {
			parts = []*radical{parts[0], parts[0]} // ethyl ether is diethyl ether
		}
		if len(parts) != 2 || parts[0].kind != yl || parts[1].kind != yl {
			continue
		}
		piece := fragments()[w.smiles]
		g := piece.clone()
		g.join(w.bonds[0], parts[0].graph, parts[0].bonds[0], 1)
		g.join(w.bonds[1], parts[1].graph, parts[1].bonds[0], 1)
		if b, ok := complete(g, a); ok {
			found = addBuilt(found, b)
		}
	}
	return found
}

// readSingle reads a class word after one part: benzyl chloride, ethylene
// dibromide, adipoyl chloride.
func (r *reader) readSingle(w *classWord, p, limit int) []built {
	count := 0
	for _, m := range multipliers() { // ethylene dichloride
		if m.value > 1 && limit-len(m.text) > p+1 && r.s[limit-len(m.text):limit] == m.text && r.s[limit-len(m.text)-1] == ' ' {
			count, limit = m.value, limit-len(m.text)-1
			break
		}
	}
	piece := fragments()[w.smiles]
	var found []built
	for _, a := range r.alkylsAt(p, limit) {
		if len(a.parts) != 1 {
			continue
		}
		x := a.parts[0]
		if (w.smiles == "O" || w.smiles == "S") && x.graph.carbonyl(x.bonds[0]) {
			continue // an acyl group with a hydroxy group is an acid
		}
		g := x.graph.clone()
		var places []int
		switch {
		case x.kind == yl && count <= 1:
			places = x.bonds
		case x.kind == ylidene && count != 1 && count <= 2:
			places = []int{x.bonds[0], x.bonds[0]}
		case x.kind == bridge && count <= 2 && count != 1:
			places = x.bonds
		default:
			continue
		}
		for _, i := range places {
			g.join(i, &piece, 0, 1)
			g.atoms[i].site = noSite
		}
		if b, ok := complete(g, a); ok {
			found = addBuilt(found, b)
		}
	}
	for _, acyl := range r.compound(p, limit) { // names of polyacyls are open structures
		var places []int
		for i, x := range acyl.atoms {
			if x.site == acylSite {
				places = append(places, i)
			}
		}
		if len(places) == 0 || count > 1 && count != len(places) {
			continue
		}
		g := acyl.clone().graph
		for _, i := range places {
			g.join(i, &piece, 0, 1)
			g.atoms[i].site = noSite
		}
		if b, ok := complete(g, alkyls{}, acyl); ok {
			found = addBuilt(found, b)
		}
	}
	return found
}

// readEther reads [alkyl] [alkyl] ether, and [alcohol] [alkyl] ether, whose
// hydroxy groups take the alkyl parts.
func (r *reader) readEther(w *classWord, p, limit int) []built {
	found := r.readPair(w, p, limit)
	for _, cut := range r.cuts(p, limit) {
		for _, c := range r.compound(p, cut.end) {
			hydroxys := c.hydroxys()
			for _, a := range r.alkylsAt(cut.next, limit) {
				found = addBuilt(found, r.fill(c, hydroxys, a)...)
			}
		}
	}
	return found
}

// split is a place where a name may part into two.
type split struct{ end, next int }

// cuts lists the spaces outside parentheses between p and limit.
func (r *reader) cuts(p, limit int) []split {
	var list []split
	depth := 0
	for i := p; i < limit; i++ {
		switch r.s[i] {
		case '(':
			depth++
		case ')':
			depth--
		case ' ':
			if depth == 0 {
				list = append(list, split{i, i + 1})
			}
		}
	}
	return list
}

// fill bonds the parts to the oxygens of a structure: all of them, or fewer
// where the name says mono. Where different parts or fewer parts than oxygens
// leave a choice, each way is a reading of its own.
func (r *reader) fill(c built, oxygens []int, a alkyls) []built {
	for _, x := range a.parts {
		if x.kind != yl {
			return nil
		}
	}
	if len(a.parts) > len(oxygens) || len(a.parts) < len(oxygens) && !a.mono && len(a.parts) > 0 && !r.partial {
		return nil
	}
	var found []built
	used := make([]bool, len(oxygens))
	var place func(g graph, k int)
	place = func(g graph, k int) {
		if !r.spend(5*len(g.atoms)) || len(found) > maxAlternatives {
			return
		}
		if k == len(a.parts) {
			if b, ok := complete(g, a, c); ok {
				found = addBuilt(found, b)
			}
			return
		}
		for n, o := range oxygens {
			if used[n] {
				continue
			}
			used[n] = true
			next := g.clone()
			next.join(o, a.parts[k].graph, a.parts[k].bonds[0], 1)
			next.atoms[o].site = noSite
			place(next, k+1)
			used[n] = false
			if same(a.parts) && len(a.parts) == len(oxygens) {
				break // any order gives the same
			}
		}
	}
	place(c.graph, 0)
	if len(found) > 1 {
		for i := range found {
			found[i].penalty++
		}
	}
	return found
}

func same(parts []*radical) bool {
	for _, x := range parts {
		if x != parts[0] {
			return false
		}
	}
	return true
}
