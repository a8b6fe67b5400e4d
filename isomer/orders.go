package isomer

// runCore makes every structure of the problem with the core.
func (f *filler) runCore(p *problem, core *graph) error {
	if !p.rules.ringsFit(core) {
		return nil
	}
	f.begin(p)
	f.core = core
	var err error
	if f.group, err = core.automorphisms(); err != nil {
		return err
	}
	e := len(core.a)
	f.st.bonds = e + p.n - core.n
	f.shift = e - core.n
	f.edges = f.edges[:0]
	if len(f.group) > 0 {
		var number [MaxAtoms][MaxAtoms]uint8
		for i := range e {
			number[core.a[i]][core.b[i]], number[core.b[i]][core.a[i]] = uint8(i), uint8(i)
		}
		images := make([]uint8, e*len(f.group))
		for g := range f.group {
			row := images[g*e : (g+1)*e]
			for i := range e {
				row[i] = number[f.group[g][core.a[i]]][f.group[g][core.b[i]]]
			}
			f.edges = append(f.edges, row)
		}
	}
	for len(f.before) < e {
		f.before = append(f.before, nil)
	}
	setOrbits(e, len(f.group), func(g, v int) uint8 { return f.edges[g][v] }, f.before, f.ordered)
	for v := range core.n {
		f.degree[v], f.sum[v] = 0, 0
	}
	for i := range e {
		f.st.bond[i] = bond{core.a[i], core.b[i], 1}
		for _, v := range []uint8{core.a[i], core.b[i]} {
			f.degree[v]++
			f.sum[v]++
		}
	}
	f.order(0, p.excess-(e-core.n+1))
	return nil
}

// highest is the largest valence there is.
const highest = 4

// order fills in the orders of edge e and those after it; excess is what is
// left to add to orders.
func (f *filler) order(e, excess int) {
	if f.stopped {
		return
	}
	if e == len(f.core.a) {
		f.orderedCore(excess)
		return
	}
	b := &f.st.bond[e]
	most := min(excess, 2)
	for _, earlier := range f.before[e] {
		most = min(most, int(f.st.bond[earlier].order)-1)
	}
	for more := 0; more <= most; more++ {
		if f.sum[b.a]+uint8(more) > highest || f.sum[b.b]+uint8(more) > highest {
			break
		}
		b.order = uint8(1 + more)
		f.sum[b.a] += uint8(more)
		f.sum[b.b] += uint8(more)
		f.order(e+1, excess-more)
		f.sum[b.a] -= uint8(more)
		f.sum[b.b] -= uint8(more)
	}
	b.order = 1
}

// orderedCore takes the orders if no automorphism makes them greater.
func (f *filler) orderedCore(excess int) {
	f.ordered = f.ordered[:0]
automorphisms:
	for g, image := range f.edges {
		for e := range image {
			if x, y := f.st.bond[image[e]].order, f.st.bond[e].order; x > y {
				return
			} else if x < y {
				continue automorphisms
			}
		}
		f.ordered = append(f.ordered, int32(g))
	}
	f.st.alternating = f.alternates()
	if !f.p.rules.core(f.core, &f.st) {
		return
	}
	f.deal(excess)
}

// alternates tells whether the core has a ring in which single and double bonds
// alternate: only then can a structure have two Kekule forms that the
// aromaticity model takes for one. A ring of four or eight must be part of a
// larger system, or it isn't aromatic.
func (f *filler) alternates() bool {
	doubles := 0
	var double [MaxAtoms]int8 // partner of a vertex by a double bond
	for v := range f.core.n {
		double[v] = -1
	}
	for _, b := range f.st.bond[:len(f.core.a)] {
		if b.order == 2 {
			doubles++
			if double[b.a] >= 0 || double[b.b] >= 0 {
				// A cumulated atom is in no aromatic ring.
				double[b.a], double[b.b] = -2, -2
				continue
			}
			double[b.a], double[b.b] = int8(b.b), int8(b.a)
		}
	}
	if doubles < 2 || doubles < 3 && len(f.core.a) == f.core.n {
		return false
	}
	for v := range f.core.n {
		if w := double[v]; w > int8(v) && f.alternatesFrom(&double, v, int(w), 1<<v|1<<w, 1) {
			return true
		}
	}
	return false
}

// alternatesFrom goes on from the far end of a double bond by a single bond.
func (f *filler) alternatesFrom(double *[MaxAtoms]int8, start, at int, used uint64, doubles int) bool {
	for _, b := range f.st.bond[:len(f.core.a)] {
		var next int
		switch {
		case b.order != 1:
			continue
		case int(b.a) == at:
			next = int(b.b)
		case int(b.b) == at:
			next = int(b.a)
		default:
			continue
		}
		if next == start && doubles >= 2 {
			return true
		}
		partner := int(double[next])
		if partner < 0 || used&(1<<next|1<<partner) != 0 {
			continue
		}
		if f.alternatesFrom(double, start, partner, used|1<<next|1<<partner, doubles+1) {
			return true
		}
	}
	return false
}
