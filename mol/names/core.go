package names

import (
	"strconv"
	"strings"

	"ionwright/chem"
)

// core is the skeleton of a parent or of a substituent, before the endings:
// hex, cyclohex, bicyclo(2.2.1)hept, pyridin, acet.
type core struct {
	at, end int
	name    string // for messages
	graph   graph  // shared: clone before changing
	kind    coreKind
	entry   *entry // the retained name, where it is one
	size    int    // chain and cycle: number of atoms
	indic   []string
	thio    bool // acid: sulfur in place of an oxygen
	plain   bool // cycle: all positions are alike as long as nothing is bonded
}

type coreKind uint8

const (
	chainCore   coreKind = iota // an unbranched chain; goes on with an, en, yn, yl
	cycleCore                   // a saturated ring system; goes on with an, en, yn, yl
	ringCore                    // a ring parent with its own name
	fixedCore                   // a retained parent that keeps its double bonds
	acidCore                    // a retained acid; goes on with ic acid, ate ...
	oxoacidCore                 // a whole name of an acid or anion
	radicalCore                 // a retained substituent
)

// coresAt returns the skeletons whose name begins at p.
func (r *reader) coresAt(p, limit int) []core {
	key := span{p, limit}
	if found, ok := r.coreMemo[key]; ok {
		return found
	}
	var found []core
	if p < limit {
		lex := terms()
		add := func(list []*entry, kind coreKind) {
			for _, e := range list {
				text := e.text
				if kind == fixedCore {
					text = strings.TrimSuffix(text, "e") // elided before an ending
				}
				if r.has(p, limit, text) {
					found = append(found, entryCore(e, kind, p, p+len(text)))
				}
			}
		}
		first := r.s[p]
		add(lex.parents[first], fixedCore)
		add(lex.acids[first], acidCore)
		add(lex.oxoacids[first], oxoacidCore)
		if r.has(p, limit, "thio") && p+4 < limit {
			for _, e := range lex.acids[r.s[p+4]] {
				if len(e.sites) == 1 && r.has(p+4, limit, e.text) {
					c := entryCore(e, acidCore, p, p+4+len(e.text))
					c.name, c.thio = "thio"+e.text, true
					found = append(found, c)
				}
			}
		}
		add(lex.radicals[first], radicalCore)
		found = append(found, r.chainsAt(p, limit)...)
		found = append(found, r.heteroRingsAt(p, limit)...)
		found = append(found, r.assembliesAt(p, limit)...)
	}
	r.coreMemo[key] = found
	for _, c := range found {
		r.reached(c.end)
	}
	return found
}

// entryCore makes the core of a retained name.
func entryCore(e *entry, kind coreKind, p, end int) core {
	c := core{at: p, end: end, name: e.text, graph: e.graph, kind: kind, entry: e, indic: e.indic}
	if e.ring {
		c.kind = ringCore
		if e.stem {
			c.kind = cycleCore
		}
	}
	c.plain = e.text == "benzene"
	return c
}

// chainGraph makes an unbranched chain of n carbons.
func chainGraph(n int) graph {
	var g graph
	for i := 1; i <= n; i++ {
		g.addAtom(atom{element: chem.C, labels: []string{strconv.Itoa(i)}, chain: i, open: true})
		if i > 1 {
			g.addBond(i-2, i-1, 1)
		}
	}
	return g
}

// chainsAt reads chains and the ring systems named by their size, with the
// replacement prefixes before them.
//
//	[ locants "-" oxa ... ] ( stem | "cyclo" stem | von-Baeyer stem | spiro stem )
func (r *reader) chainsAt(p, limit int) []core {
	replaced, q := r.replacementsAt(p, limit)
	var found []core
	add := func(g graph, kind coreKind, end, size int, plain bool) {
		if len(replaced) > 0 {
			g = g.clone()
			if !r.replace(&g, replaced) {
				return
			}
			plain = false
		}
		found = append(found, core{
			at: p, end: end, name: r.s[p:end], graph: g, kind: kind, size: size, plain: plain,
		})
	}
	if len(replaced) == 0 {
		q = p
	}
	switch {
	case r.has(q, limit, "cyclo"):
		for _, n := range r.numeralsAt(stems(), q+5, limit) {
			if n.value < 3 {
				continue
			}
			g := chainGraph(n.value)
			g.addBond(0, n.value-1, 1)
			for i := range g.atoms {
				g.atoms[i].chain = 0
			}
			add(g, cycleCore, n.end, n.value, true)
		}
	case len(replaced) == 0 || r.hasStem(q, limit):
		for _, n := range r.numeralsAt(stems(), q, limit) {
			add(chainGraph(n.value), chainCore, n.end, n.value, false)
		}
	}
	if len(replaced) > 0 && q < limit { // 2,6-disilapiperidine
		for _, e := range terms().parents[r.s[q]] {
			text := strings.TrimSuffix(e.text, "e")
			if e.ring && len(e.short) == 0 && !e.stem && len(replaced[0].locants) > 0 && r.has(q, limit, text) {
				before := len(found)
				add(e.graph, ringCore, q+len(text), 0, false)
				for i := before; i < len(found); i++ {
					found[i].indic = e.indic
				}
			}
		}
	}
	for _, b := range r.baeyersAt(q, limit) {
		add(b.graph, cycleCore, b.end, len(b.graph.atoms), false)
	}
	return found
}

func (r *reader) hasStem(p, limit int) bool {
	return len(r.numeralsAt(stems(), p, limit)) > 0
}

// replacement is one replacement prefix: oxa, dithia, aza.
type replacement struct {
	locants []locant
	element chem.Element
	count   int
}

// replacementElements lists the replacement prefixes, with and without the
// final a that is elided before a vowel. IUPAC 2013 P-15.4.
var replacementElements = []struct {
	text    string
	element chem.Element
}{
	{"oxa", chem.O}, {"thia", chem.S}, {"selena", chem.Se}, {"aza", chem.N}, {"phospha", chem.P},
	{"sila", chem.Si}, {"germa", chem.Ge}, {"stanna", chem.Sn}, {"bora", chem.B},
}

// replacementsAt reads replacement prefixes with their locants; none is no
// fault.
func (r *reader) replacementsAt(p, limit int) ([]replacement, int) {
	var list []replacement
	for {
		q := p
		if len(list) > 0 && r.has(q, limit, "-") {
			q++
		}
		locants, end, ok := r.locantsAt(q, limit)
		if ok && r.has(end, limit, "-") {
			q = end + 1
		} else {
			locants = nil
		}
		x, end, ok := r.replacementAt(q, limit)
		if !ok {
			return list, p
		}
		x.locants = locants
		list = append(list, x)
		p = end
		if r.has(p, limit, "-") && p+1 < limit && letter(r.s[p+1]) {
			p++
		}
	}
}

func (r *reader) replacementAt(p, limit int) (replacement, int, bool) {
	starts := append(r.numeralsAt(multipliers(), p, limit), numeralAt{1, p})
	for _, m := range starts {
		for _, e := range replacementElements {
			if r.has(m.end, limit, e.text) {
				return replacement{element: e.element, count: m.value}, m.end + len(e.text), true
			}
		}
	}
	return replacement{}, p, false
}

// replace puts the heteroatoms in. One heteroatom of a plain ring needs no
// locant: it is atom 1.
func (r *reader) replace(g *graph, list []replacement) bool {
	for _, x := range list {
		if len(x.locants) == 0 && x.count == 1 && len(list) == 1 {
			g.atoms[0].element = x.element
			continue
		}
		if len(x.locants) != x.count {
			return false
		}
		for _, l := range x.locants {
			found := g.labelled(l.label)
			if len(found) != 1 || g.atoms[found[0]].element != chem.C {
				return false
			}
			g.atoms[found[0]].element = x.element
		}
	}
	for i := range g.atoms {
		if g.hydrogens(i) < 0 {
			return false
		}
		if e := g.atoms[i].element; e == chem.O {
			g.atoms[i].open = false
		}
	}
	return true
}

// labelled lists the atoms that carry a locant.
func (g *graph) labelled(label string) []int {
	var list []int
	for i, a := range g.atoms {
		for _, l := range a.labels {
			if l == label {
				list = append(list, i)
				break
			}
		}
	}
	return list
}
