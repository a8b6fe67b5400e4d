package names

// place sets the double bonds of the mancude part: every pool atom gets one,
// to another pool atom. It returns false, and changes nothing, where that is
// impossible.
func (g *graph) place() bool {
	partner := make([]int, len(g.atoms))
	var pool []int
	for i, a := range g.atoms {
		partner[i] = -1
		if a.pool {
			pool = append(pool, i)
		}
	}
	if len(pool)%2 == 1 {
		return false
	}
	m := matcher{graph: g, partner: partner, pool: pool, steps: maxMatchSteps}
	for _, b := range g.bonds {
		if g.atoms[b.a].pool && g.atoms[b.b].pool {
			m.edges = append(m.edges, b)
		}
	}
	if !m.solve() {
		return false
	}
	for k := range g.bonds {
		b := &g.bonds[k]
		if partner[b.a] == b.b {
			b.order++
		}
	}
	for _, i := range pool {
		g.atoms[i].pool = false
	}
	return true
}

// maxMatchSteps bounds the search for double bonds; ring systems of names have
// a few dozen atoms and need a few hundred steps.
const maxMatchSteps = 20000

type matcher struct {
	graph   *graph
	partner []int
	pool    []int
	edges   []bond
	steps   int
}

// solve pairs the pool atoms by search with backtracking, the atom with the
// fewest free neighbors first.
func (m *matcher) solve() bool {
	if m.steps--; m.steps < 0 {
		return false
	}
	best, fewest := -1, 1<<30
	for _, i := range m.pool {
		if m.partner[i] >= 0 {
			continue
		}
		if n := len(m.free(i)); n < fewest {
			best, fewest = i, n
		}
	}
	if best < 0 {
		return true
	}
	for _, j := range m.free(best) {
		m.partner[best], m.partner[j] = j, best
		if m.solve() {
			return true
		}
		m.partner[best], m.partner[j] = -1, -1
	}
	return false
}

// free lists the unpaired pool neighbors of i.
func (m *matcher) free(i int) []int {
	var list []int
	for _, b := range m.edges {
		j := -1
		switch i {
		case b.a:
			j = b.b
		case b.b:
			j = b.a
		}
		if j >= 0 && m.partner[j] < 0 {
			list = append(list, j)
		}
	}
	return list
}
