package names

import (
	"fmt"
	"slices"
	"strings"

	"ionwright/chem"
)

// readEster reads [acid] [alkyl] ester.
func (r *reader) readEster(p, limit int) []built {
	var found []built
	for _, cut := range r.cuts(p, limit) {
		for _, c := range r.compound(p, cut.end) {
			hydroxys := c.acidHydroxys()
			if len(hydroxys) == 0 {
				continue
			}
			for _, a := range r.alkylsAt(cut.next, limit) {
				r.whole = true
				more := r.fill(c, hydroxys, a)
				if len(more) == 0 && len(a.parts) != len(hydroxys) {
					r.wrong(cut.next, fmt.Sprintf("the acid has %s, the ester %s (or say mono)", plural(len(hydroxys), "acid group"), plural(len(a.parts), "alkyl part")))
				}
				found = addBuilt(found, more...)
			}
		}
	}
	return found
}

// readAnion reads a name that ends with the name of an anion: [alkyl] [anion],
// [alcohol] [anion], [alkyl] hydrogen [anion], ethylene di[anion].
func (r *reader) readAnion(p, limit int) []built {
	cuts := r.cuts(p, limit)
	if len(cuts) == 0 {
		return nil
	}
	last := cuts[len(cuts)-1]
	head := last.end
	partial := false
	if strings.HasSuffix(r.s[p:head], " hydrogen") {
		head -= len(" hydrogen")
		partial = true
	}
	var found []built
	for _, m := range r.multipliersAt(last.next, limit) {
		begin, end := m.end, limit
		if r.has(begin, limit, "(") {
			if closing, ok := r.closing(begin, limit); ok && closing == limit-1 {
				begin, end = begin+1, closing
			}
		}
		for _, anion := range r.compound(begin, end) {
			sites := anion.esterSites()
			if len(sites) == 0 {
				continue
			}
			r.whole = true
			if m.end == last.next || m.value == 1 {
				found = addBuilt(found, r.alkylEster(p, head, anion, sites, partial || m.end > last.next)...)
			} else {
				found = addBuilt(found, r.bridgedEster(p, head, anion, sites, m.value)...)
			}
			if len(sites) == 1 {
				found = addBuilt(found, r.alcoholEster(p, head, anion, sites[0], m, last.next)...)
			}
		}
	}
	return found
}

// esterSites lists the oxygens of an anion that want an alcohol part.
func (g *graph) esterSites() []int {
	var list []int
	for i, a := range g.atoms {
		if a.site == esterSite {
			list = append(list, i)
		}
	}
	return list
}

// alkylEster bonds the alkyl parts of the words between p and limit to the
// oxygens of one anion.
func (r *reader) alkylEster(p, limit int, anion built, sites []int, partial bool) []built {
	var found []built
	for _, a := range r.alkylsAt(p, limit) {
		if sulfur := anion.atoms[sites[0]].element == chem.S; sulfur != (a.atom == 's') {
			r.wrong(p, "an ester of a thioacid needs the locant S before its alkyl part; O-esters aren't read")
			continue
		}
		if len(a.parts) == 1 && a.parts[0].kind == bridge && len(sites) == 2 && r.carrier(anion, sites[0]) == r.carrier(anion, sites[1]) {
			g := anion.clone().graph // ethylene carbonate is a ring
			x := a.parts[0]
			first := g.join(sites[0], x.graph, x.bonds[0], 1)
			g.addBond(sites[1], first+x.bonds[1]-x.bonds[0], 1)
			g.clearSites()
			if b, ok := complete(g, a, anion); ok {
				found = addBuilt(found, b)
			}
			continue
		}
		if len(a.parts) < len(sites) && !partial && !a.mono || len(a.parts) > len(sites) {
			r.wrong(p, fmt.Sprintf("the anion takes %s, the name gives %d (or say hydrogen)", plural(len(sites), "alkyl part"), len(a.parts)))
			continue
		}
		for _, b := range r.fillPartly(anion, sites, a) {
			b.clearSites()
			found = addBuilt(found, b)
		}
	}
	return found
}

// fillPartly is fill where fewer parts than oxygens are allowed.
func (r *reader) fillPartly(c built, oxygens []int, a alkyls) []built {
	before := r.partial
	r.partial = true
	defer func() { r.partial = before }()
	return r.fill(c, oxygens, a)
}

func (g *graph) clearSites() {
	for i := range g.atoms {
		g.atoms[i].site = noSite
	}
}

// carrier is the atom that an oxygen of an anion is bonded to.
func (r *reader) carrier(anion built, o int) int {
	atom := -1
	anion.neighbors(o, func(j, _ int) { atom = j })
	return atom
}

// bridgedEster reads ethylene diacetate: one bivalent part, two anions.
func (r *reader) bridgedEster(p, limit int, anion built, sites []int, count int) []built {
	if len(sites) != 1 || count != 2 {
		return nil
	}
	var found []built
	for _, a := range r.alkylsAt(p, limit) {
		if len(a.parts) != 1 {
			continue
		}
		x := a.parts[0]
		var places []int
		switch x.kind {
		case bridge:
			places = x.bonds
		case ylidene:
			places = []int{x.bonds[0], x.bonds[0]}
		default:
			continue
		}
		g := x.graph.clone()
		for _, i := range places {
			g.join(i, &anion.graph, sites[0], 1)
		}
		g.clearSites()
		if b, ok := complete(g, a, anion); ok {
			found = addBuilt(found, b)
		}
	}
	return found
}

// alcoholEster reads the name of an alcohol before that of an anion: geraniol
// acetate, glycerol triacetate, ethylene glycol monoacetate.
func (r *reader) alcoholEster(p, limit int, anion built, site int, m numeralAt, begin int) []built {
	acyl := anion.clone().graph
	bonding := r.carrier(anion, site)
	acyl.removeAtom(site)
	if bonding > site {
		bonding--
	}
	acyl.clearSites()
	var found []built
	for _, alcohol := range r.compound(p, limit) {
		oxygens := alcohol.hydroxys()
		if len(oxygens) < m.value || len(oxygens) > m.value && m.end == begin {
			continue
		}
		for _, set := range subsets(len(oxygens), m.value) {
			if !r.spend(5 * len(alcohol.atoms)) {
				return nil
			}
			g := alcohol.clone().graph
			for _, k := range set {
				g.join(oxygens[k], &acyl, bonding, 1)
			}
			if b, ok := complete(g, alkyls{}, alcohol, anion); ok {
				found = addBuilt(found, b)
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

// subsets lists the ways to choose k of n; at most maxAlternatives.
func subsets(n, k int) [][]int {
	var list [][]int
	var choose func(set []int, from int)
	choose = func(set []int, from int) {
		if len(set) == k {
			list = append(list, slices.Clone(set))
			return
		}
		for i := from; i < n && len(list) < maxAlternatives; i++ {
			choose(append(set, i), i+1)
		}
	}
	choose(nil, 0)
	return list
}

// nitrogens lists the nitrogens that an N-oxide may have: three bonds, no
// hydrogen, no charge, not bonded to a carbonyl group.
func (g *graph) nitrogens() []int {
	var list []int
	for i, a := range g.atoms {
		if a.element != chem.N || a.charge != 0 || g.hydrogens(i) != 0 || g.used(i) != 3 {
			continue
		}
		ok := true
		g.neighbors(i, func(j, order int) {
			if g.carbonyl(j) || order == 3 || g.atoms[j].element != chem.C {
				ok = false
			}
		})
		if ok {
			list = append(list, i)
		}
	}
	return list
}
