package names

import (
	"strconv"
	"strings"

	"ionwright/chem"
)

// baeyer is a polycyclic or spiro skeleton by its bracketed descriptor.
type baeyer struct {
	graph graph
	end   int
}

var ringCounts = []struct {
	text  string
	rings int
}{{"bi", 2}, {"tri", 3}, {"tetra", 4}, {"penta", 5}, {"hexa", 6}}

// baeyersAt reads a von Baeyer name (IUPAC 2013 P-23.2) or that of a spiro
// compound of two rings (P-24.2) up to the stem:
//
//	"bicyclo(" size "." size "." size { "." size "(" locant "," locant ")" } ")" stem
//	"spiro(" size "." size ")" stem
//
// The stem must name the number of atoms of the descriptor.
func (r *reader) baeyersAt(p, limit int) []baeyer {
	spiro := r.has(p, limit, "spiro(")
	rings, open := 0, p+5
	if !spiro {
		for _, n := range ringCounts {
			if r.has(p, limit, n.text+"cyclo") {
				rings, open = n.rings, p+len(n.text)+5
				break
			}
		}
		if rings > 0 && r.has(open, limit, "-") {
			open++
		}
		if rings == 0 || !r.has(open, limit, "(") {
			return nil
		}
	}
	end, ok := r.closing(open, limit)
	if !ok {
		return nil
	}
	stem := end + 1
	if r.has(stem, limit, "-") {
		stem++
	}
	var g graph
	if spiro {
		g, ok = spiroGraph(r.s[open+1 : end])
	} else {
		g, ok = baeyerGraph(r.s[open+1:end], rings)
	}
	if !ok {
		r.whole = true
		r.wrong(open, "the ring descriptor ("+r.s[open+1:end]+") names no ring system")
		return nil
	}
	r.reached(stem)
	var found []baeyer
	for _, n := range r.numeralsAt(stems(), stem, limit) {
		if n.value != len(g.atoms) {
			r.whole = true
			r.wrong(stem, "the ring descriptor has "+strconv.Itoa(len(g.atoms))+" atoms and the stem "+r.s[stem:n.end]+" names "+strconv.Itoa(n.value))
			continue
		}
		found = append(found, baeyer{g, n.end})
	}
	return found
}

// sizes reads numbers separated by points or commas.
func sizes(s string) ([]int, bool) {
	var list []int
	for part := range strings.FieldsFuncSeq(s, func(c rune) bool { return c == '.' || c == ',' }) {
		n, err := strconv.Atoi(part)
		if err != nil || n > maxChain {
			return nil, false
		}
		list = append(list, n)
	}
	return list, true
}

// bare makes n carbons with the locants 1 to n and no bonds.
func bare(n int) graph {
	var g graph
	for i := 1; i <= n; i++ {
		g.addAtom(atom{element: chem.C, labels: []string{strconv.Itoa(i)}, open: true})
	}
	return g
}

// spiroGraph numbers from the smaller ring, beside the spiro atom, through it
// and around the larger.
func spiroGraph(descriptor string) (graph, bool) {
	list, ok := sizes(descriptor)
	if !ok || len(list) != 2 || list[0] < 2 || list[1] < list[0] || list[0]+list[1]+1 > maxChain {
		return graph{}, false
	}
	n := list[0] + list[1] + 1
	g := bare(n)
	spiro := list[0]
	for i := 0; i+1 < n; i++ {
		g.addBond(i, i+1, 1)
	}
	g.addBond(0, spiro, 1)
	g.addBond(n-1, spiro, 1)
	return g, true
}

// baeyerGraph numbers the main ring from a main bridgehead along the longer
// part, then the main bridge from the end nearer to atom 1, then the secondary
// bridges, each from the end nearer to the higher numbered bridgehead.
func baeyerGraph(descriptor string, rings int) (graph, bool) {
	main, rest := descriptor, ""
	if i := strings.IndexByte(descriptor, '('); i >= 0 { // the size before it is of a secondary bridge
		j := strings.LastIndexAny(descriptor[:i], ".,")
		if j < 0 {
			return graph{}, false
		}
		main, rest = descriptor[:j], descriptor[j+1:]
	}
	list, ok := sizes(main)
	if !ok || len(list) != 3 || list[0] < list[1] || list[1] < list[2] || list[1] < 1 || list[0]+list[1]+list[2]+2 > maxChain {
		return graph{}, false
	}
	ring := list[0] + list[1] + 2
	g := bare(ring + list[2])
	for i := 0; i < ring; i++ {
		g.addBond(i, (i+1)%ring, 1)
	}
	last := 0 // the main bridge runs from atom 1 to the second bridgehead
	for i := ring; i < ring+list[2]; i++ {
		g.addBond(last, i, 1)
		last = i
	}
	second := list[0] + 1
	if g.bondBetween(last, second) >= 0 {
		return graph{}, false
	}
	g.addBond(last, second, 1)
	count := 2
	for rest != "" {
		open, end := strings.IndexByte(rest, '('), strings.IndexByte(rest, ')')
		if open < 1 || end < open {
			return graph{}, false
		}
		size, ok := sizes(rest[:open])
		heads, ok2 := sizes(rest[open+1 : end])
		if !ok || !ok2 || len(size) != 1 || len(heads) != 2 || !g.addBridge(size[0], heads[0], heads[1]) {
			return graph{}, false
		}
		count++
		rest = strings.TrimLeft(rest[end+1:], ".,")
	}
	if count != rings {
		return graph{}, false
	}
	for i := range g.atoms {
		if g.hydrogens(i) < 0 {
			return graph{}, false
		}
	}
	return g, true
}

// addBridge adds a secondary bridge of that many atoms between two locants.
func (g *graph) addBridge(size, a, b int) bool {
	if a < 1 || b < 1 || a > len(g.atoms) || b > len(g.atoms) || a == b || len(g.atoms)+size > maxChain {
		return false
	}
	last := max(a, b) - 1
	for range size {
		n := g.addAtom(atom{element: chem.C, labels: []string{strconv.Itoa(len(g.atoms) + 1)}, open: true})
		g.addBond(last, n, 1)
		last = n
	}
	end := min(a, b) - 1
	if g.bondBetween(last, end) >= 0 {
		return false
	}
	g.addBond(last, end, 1)
	return true
}
