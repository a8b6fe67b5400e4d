package isomer

// A forest is what hangs on one atom: rooted trees, each with the bond to that
// atom. Forests of one composition and excess (orders of their bonds beyond
// the first, those to the root included) are a class, listed in an order in
// which the sums of their bonds to the root ascend.
type forest struct {
	// Entries start[b] to start[b+1]-1 have bonds to the root that sum up to b.
	start [6]int32
	// data has three bytes for each atom of each entry: kind; parent, 0 for the
	// root and 1 up for the atoms of the entry; order of the bond to it.
	data []uint8
}

const entryBytes = 3

// mostBonds is how many bonds the trees on an atom of a listed forest's root
// can have: one of four goes to the rest.
const mostBonds = 3

// list lists the classes of forests that can occur twice in a structure, or on
// the two halves of one without rings. Larger ones are made when they are
// wanted (grow), which costs less than to keep them.
func (p *problem) list() {
	p.forests = make([]forest, len(p.cells)*p.levels)
	p.forests[0].start = [6]int32{0, 1, 1, 1, 1, 1}
	bySize := make([][]int32, p.n+1)
	for cell, size := range p.size {
		bySize[size] = append(bySize[size], int32(cell))
	}
	p.judge(bySize[0])
	for size := 1; size <= p.n/2-1; size++ {
		l := lister{p: p}
		for _, cell := range bySize[size] {
			for excess := range p.levels {
				f := &p.forests[p.class(cell, excess)]
				l.data = nil
				for b := 1; b <= mostBonds; b++ {
					f.start[b] = int32(len(l.data) / (entryBytes * size))
					l.add(cell, excess, b, 1<<30, 0, 0)
				}
				end := int32(len(l.data) / (entryBytes * size))
				f.start[mostBonds+1], f.start[mostBonds+2] = end, end
				f.data = l.data
			}
		}
		p.limit = size
		p.judge(bySize[size])
	}
}

// lister puts a class's entries together, branch by branch.
type lister struct {
	p     *problem
	data  []uint8
	entry [entryBytes * MaxAtoms]uint8
}

// add completes the entry, whose first used atoms are there, in all ways with
// branches of the composition, excess and bonds left. No branch's class is
// greater than most, nor, within that class, its index than index.
func (l *lister) add(cell int32, excess, bonds int, most, index int32, used int) {
	p := l.p
	if bonds == 0 {
		if cell == 0 && excess == 0 {
			l.data = append(l.data, l.entry[:entryBytes*used]...)
		}
		return
	}
	each := func(sub int32, e, order int) {
		for k := range p.kinds {
			b, ok := p.branchOf(sub, e, k, order)
			if !ok || b.id > most {
				continue
			}
			first, end := p.entries(&b)
			if b.id == most {
				end = min(end, index+1)
			}
			for i := first; i < end; i++ {
				if !p.allowed(b.id, i) {
					continue
				}
				at := used * entryBytes
				l.entry[at], l.entry[at+1], l.entry[at+2] = b.kind, 0, b.order
				size := int(b.size) - 1
				data := p.forests[b.forest].data[int(i)*size*entryBytes:][:size*entryBytes]
				for j := 0; j < len(data); j += entryBytes {
					l.entry[at+3+j], l.entry[at+4+j], l.entry[at+5+j] = data[j], data[j+1]+uint8(used)+1, data[j+2]
				}
				l.add(cell-sub, excess-e, bonds-order, b.id, i, used+size+1)
			}
		}
	}
	for order := 1; order <= min(bonds, 3); order++ {
		if order == bonds {
			each(cell, excess, order)
			continue
		}
		for sub := int32(1); sub < cell; sub++ {
			if p.cells[cell].holds(p.cells[sub]) {
				for e := order - 1; e <= excess; e++ {
					each(sub, e, order)
				}
			}
		}
	}
}

// entries is the part of a branch's class of forests that goes with its root.
func (p *problem) entries(b *branch) (first, end int32) {
	f := &p.forests[b.forest]
	return f.start[b.least], f.start[b.most+1]
}
