package isomer

// Structures without rings hang on their centroid: the atom whose removal
// leaves trees of less than half of the atoms each, or else the bond between
// two halves (Jordan 1869; the count of alkanes by it: Polya, Acta Math. 68
// (1937) 145, both from memory).

// runTrees makes every structure of the problem without rings.
func (f *filler) runTrees(p *problem) {
	f.begin(p)
	f.core, f.dealt, f.huge = nil, nil, nil
	f.st.bonds, f.shift, f.st.alternating = p.n-1, -1, false
	f.heaviest = (p.n - 1) / 2
	counting := f.visit == nil && (f.bound || p.rules.free())
	for k := range p.kinds {
		kind := &p.kinds[k]
		if kind.double || !p.cells[p.all].holds(unit(k)) {
			continue
		}
		least := 0
		if kind.bare {
			least = kind.valence
		}
		f.st.kinds[0] = uint8(k)
		f.vertices = 1
		for b := least; b <= kind.valence && !f.stopped; b++ {
			below := p.all - p.radix[k]
			if counting {
				f.total = add(f.total, p.countForests(below, p.excess, b, 1<<30, f.heaviest))
				continue
			}
			f.grow(0, below, p.excess, b, 1<<30, 0)
		}
	}
	if p.n%2 == 0 {
		f.halves(p, counting)
	}
}

// halves makes the structures without rings that have a central bond.
func (f *filler) halves(p *problem, counting bool) {
	for cell := int32(1); cell < p.all; cell++ {
		if int(p.size[cell]) != p.n/2 || !p.cells[p.all].holds(p.cells[cell]) {
			continue
		}
		for order := 1; order <= min(3, p.excess+1); order++ {
			for e := range p.excess - (order - 1) + 1 {
				for k := range p.kinds {
					for l := range p.kinds {
						a, ok := p.branchOf(cell, e+order-1, k, order)
						b, okToo := p.branchOf(p.all-cell, p.excess-e, l, order)
						if !ok || !okToo || a.id < b.id || f.stopped {
							continue
						}
						f.pair(p, &a, &b, counting)
					}
				}
			}
		}
	}
}

// pair joins each branch of class a with each of class b.
func (f *filler) pair(p *problem, a, b *branch, counting bool) {
	firstA, endA := p.entries(a)
	firstB, endB := p.entries(b)
	if counting {
		if n := p.countBranch(a); a.id == b.id {
			f.total = add(f.total, multisets(n, 2))
		} else {
			f.total = add(f.total, multiply(n, p.countBranch(b)))
		}
		return
	}
	half := p.n / 2
	f.st.kinds[0], f.st.kinds[half] = a.kind, b.kind
	f.st.bond[half-1] = bond{0, uint8(half), a.order}
	size := (half - 1) * entryBytes
	dataA, dataB := p.forests[a.forest].data, p.forests[b.forest].data
	for i := firstA; i < endA; i++ {
		if !p.allowed(a.id, i) {
			continue
		}
		f.put(dataA[int(i)*size:][:size], 0, 1)
		end := endB
		if a.id == b.id {
			end = i + 1
		}
		for j := firstB; j < end && !f.stopped; j++ {
			if p.allowed(b.id, j) {
				f.put(dataB[int(j)*size:][:size], half, half+1)
				f.emit()
			}
		}
	}
}
