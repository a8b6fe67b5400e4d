package names

import (
	"strconv"

	"ionwright/chem"
)

// ringStem is an ending of a Hantzsch-Widman name: size and saturation. The
// stems with nitrogen forms are in the list twice. IUPAC 2013 P-22.2.2.
type ringStem struct {
	text      string
	size      int
	saturated bool
	finalE    bool // the name without ending has a final e
}

var ringStems = []ringStem{
	{"iran", 3, true, true}, {"iridin", 3, true, true}, {"iren", 3, false, true}, {"irin", 3, false, true},
	{"etan", 4, true, true}, {"etidin", 4, true, true}, {"et", 4, false, true},
	{"olan", 5, true, true}, {"olidin", 5, true, true}, {"ol", 5, false, true},
	{"an", 6, true, true}, {"inan", 6, true, true}, {"in", 6, false, true}, {"inin", 6, false, true},
	{"epan", 7, true, true}, {"epin", 7, false, true},
	{"ocan", 8, true, true}, {"ocin", 8, false, true},
	{"onan", 9, true, true}, {"onin", 9, false, true},
	{"ecan", 10, true, true}, {"ecin", 10, false, true},
}

var heteroPrefixes = []struct {
	text    string
	element chem.Element
}{
	{"ox", chem.O}, {"thi", chem.S}, {"selen", chem.Se}, {"az", chem.N}, {"phosph", chem.P},
	{"sil", chem.Si}, {"germ", chem.Ge}, {"bor", chem.B},
}

// heteroRingsAt reads Hantzsch-Widman names, alone or fused to benzene, up to
// the final e:
//
//	[ locants "-" ] [ "benzo" | "benz" ] { [ multiplier ] prefix [ "a" ] } stem
//
// The locants give the places of the heteroatoms in the order of the prefixes.
func (r *reader) heteroRingsAt(p, limit int) []core {
	q := p
	locants, end, ok := r.locantsAt(p, limit)
	if ok && r.has(end, limit, "-") {
		q = end + 1
	} else {
		locants = nil
	}
	fused := false
	for _, word := range []string{"benzo", "benz"} {
		if r.has(q, limit, word) {
			if _, _, ok := r.heteroAt(q+len(word), limit); ok {
				q += len(word)
				fused = true
				break
			}
		}
	}
	var elements []chem.Element
	for {
		more, end, ok := r.heteroAt(q, limit)
		if !ok {
			break
		}
		elements = append(elements, more...)
		q = end
	}
	if len(elements) == 0 || len(elements) > 6 {
		return nil
	}
	if r.s[q-1] == 'a' { // not elided: only before a consonant, which no stem is
		return nil
	}
	if locants == nil && len(elements) == 1 {
		locants = []locant{{label: "1"}}
	}
	if len(locants) != len(elements) {
		return nil
	}
	var found []core
	for _, stem := range ringStems {
		if !r.has(q, limit, stem.text) {
			continue
		}
		if last := elements[len(elements)-1]; stem.text == "an" && last != chem.O && last != chem.S && last != chem.Se {
			continue // the ring of six with nitrogen last ends in inane; silane is no ring
		}
		g, ok := heteroGraph(elements, locants, stem, fused)
		if !ok {
			continue
		}
		c := core{at: p, end: q + len(stem.text), name: r.s[p : q+len(stem.text)], graph: g, kind: ringCore}
		if !stem.saturated {
			c.indic = azoleHydrogen(&g, stem.size)
		}
		found = append(found, c)
	}
	return found
}

// heteroAt reads one prefix with its multiplier: ox(a), dithi(a), triaz(a).
func (r *reader) heteroAt(p, limit int) ([]chem.Element, int, bool) {
	for _, m := range append(r.numeralsAt(multipliers(), p, limit), numeralAt{1, p}) {
		if m.value > 4 {
			continue
		}
		for _, x := range heteroPrefixes {
			if !r.has(m.end, limit, x.text) {
				continue
			}
			end := m.end + len(x.text)
			if r.has(end, limit, "a") && !r.has(end, limit, "an") && !r.has(end, limit, "az") {
				end++
			}
			list := make([]chem.Element, m.value)
			for i := range list {
				list[i] = x.element
			}
			return list, end, true
		}
	}
	return nil, p, false
}

// heteroGraph makes the ring, or the ring fused to benzene, with the
// heteroatoms at their locants.
func heteroGraph(elements []chem.Element, locants []locant, stem ringStem, fused bool) (graph, bool) {
	var g graph
	add := func(label string) {
		i := g.addAtom(atom{element: chem.C, labels: []string{label}, pool: true, open: true})
		if i > 0 {
			g.addBond(i-1, i, 1)
		}
	}
	if fused {
		for i := 1; i <= stem.size-2; i++ {
			add(strconv.Itoa(i))
		}
		junction := len(g.atoms)
		add(strconv.Itoa(stem.size-2) + "a")
		for i := stem.size - 1; i <= stem.size+2; i++ {
			add(strconv.Itoa(i))
		}
		add(strconv.Itoa(stem.size+2) + "a")
		g.addBond(junction, len(g.atoms)-1, 1)
		g.atoms[junction].open, g.atoms[len(g.atoms)-1].open = false, false
	} else {
		for i := 1; i <= stem.size; i++ {
			add(strconv.Itoa(i))
		}
	}
	g.addBond(0, len(g.atoms)-1, 1)
	if fused && stem.saturated {
		for i := range stem.size - 2 {
			g.atoms[i].pool = false
		}
	}
	for k, l := range locants {
		found := g.labelled(l.label)
		if len(found) != 1 || g.atoms[found[0]].element != chem.C || fused && found[0] >= stem.size-2 {
			return graph{}, false
		}
		g.atoms[found[0]].element = elements[k]
	}
	for i := range g.atoms {
		a := &g.atoms[i]
		switch a.element {
		case chem.O, chem.S, chem.Se:
			a.pool, a.open = false, false
		}
		if stem.saturated && !fused {
			a.pool = false
		}
	}
	return g, true
}

// azoleHydrogen is the indicated hydrogen that a five-membered ring with
// nitrogen is understood to have: at the first nitrogen that makes the double
// bonds of the ring possible, where they aren't without.
func azoleHydrogen(g *graph, size int) []string {
	if size != 5 {
		return nil
	}
	without := g.clone()
	if without.place() {
		return nil
	}
	for i, a := range g.atoms {
		if a.element != chem.N {
			continue
		}
		with := g.clone()
		with.atoms[i].pool = false
		if with.place() {
			return a.labels
		}
	}
	return nil
}

// assembliesAt reads an assembly of two like rings: 2,2'-bipyridin, 1,1'-binaphthalen.
//
//	[ locant "," locant "'" "-" ] "bi" ( ring | "(" ring "e" ")" )
func (r *reader) assembliesAt(p, limit int) []core {
	locants, end, ok := r.locantsAt(p, limit)
	if !ok || len(locants) != 2 || !r.has(end, limit, "-bi") || locants[1].label[len(locants[1].label)-1] != '\'' {
		return nil
	}
	q := end + 3
	bracket, inner := 0, limit
	if r.has(q, limit, "(") {
		if inner, ok = r.closing(q, limit); !ok {
			return nil
		}
		q, bracket = q+1, 1
	}
	var found []core
	for _, c := range r.coresAt(q, inner) {
		if c.kind != ringCore && c.kind != cycleCore || c.entry != nil && len(c.entry.short) > 0 && !r.has(c.end, inner, "yl") {
			continue
		}
		end := c.end
		if c.kind == cycleCore {
			if !r.has(end, inner, "an") {
				continue
			}
			end += 2
		}
		if bracket == 1 {
			if !r.has(end, inner, "e") || end+1 != inner {
				continue
			}
			end = inner + 1
		}
		g := c.graph.clone()
		size := len(g.atoms)
		for i := range size {
			a := c.graph.atoms[i]
			labels := make([]string, len(a.labels))
			for k, l := range a.labels {
				labels[k] = l + "'"
			}
			a.labels = labels
			g.atoms = append(g.atoms, a)
		}
		for _, b := range c.graph.bonds {
			g.bonds = append(g.bonds, bond{b.a + size, b.b + size, b.order})
		}
		one, two := g.labelled(locants[0].label), g.labelled(locants[1].label)
		if len(one) != 1 || len(two) != 1 {
			continue
		}
		g.addBond(one[0], two[0], 1)
		joined := core{at: p, end: end, name: r.s[p:end], graph: g, kind: ringCore}
		for _, l := range c.indic {
			joined.indic = append(joined.indic, l, l+"'")
		}
		found = append(found, joined)
	}
	return found
}
