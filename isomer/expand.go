package isomer

// write puts entry i of a site's forest into the structure.
func (f *filler) write(s *site, i int32) {
	f.index[s.vertex] = i
	size := entryBytes * s.size
	f.put(s.data[int(i)*size:][:size], s.vertex, s.base)
}

// put writes the atoms of a forest entry from vertex base on, and their bonds.
func (f *filler) put(data []uint8, root, base int) {
	shift := f.shift
	for j := 0; j+2 < len(data); j += entryBytes {
		at := base + j/entryBytes
		f.st.kinds[at] = data[j]
		parent := root
		if data[j+1] != 0 {
			parent = base + int(data[j+1]) - 1
		}
		f.st.bond[at+shift] = bond{uint8(parent), uint8(at), data[j+2]}
	}
}

// expand fills in the trees of site i and those after it.
func (f *filler) expand(i int) {
	if i >= f.nsites {
		if len(f.dealt) > 0 && !f.greatest() {
			return
		}
		if f.huge != nil {
			f.root(f.hugeAt, f.huge)
			return
		}
		f.emit()
		return
	}
	s := &f.sites[i]
	if i == f.nsites-1 && len(f.dealt) == 0 && f.huge == nil {
		for e := s.option.first; e < s.option.end && !f.stopped; e++ {
			f.write(s, e)
			f.emit()
		}
		return
	}
	for e := s.option.first; e < s.option.end && !f.stopped; e++ {
		f.write(s, e)
		f.expand(i + 1)
	}
}

// greatest tells whether no automorphism makes the choice of trees greater.
func (f *filler) greatest() bool {
	for _, g := range f.dealt {
		image := &f.group[g]
		for v := range f.core.n {
			if x, y := f.index[image[v]], f.index[v]; x > y {
				return false
			} else if x < y {
				break
			}
		}
	}
	return true
}

// root fills in a forest that isn't listed, on core atom v.
func (f *filler) root(v int, o *option) {
	below := o.cell - f.p.radix[o.kind]
	for b := o.least; b <= o.most && !f.stopped; b++ {
		f.grow(v, below, o.excess, b, 1<<30, 0)
	}
}

// grow adds trees of the composition, excess and bonds left to vertex at. No
// branch's class is greater than most, nor, within that class, its index than
// index. The tree whose own forest isn't listed, if there is one, comes last.
func (f *filler) grow(at int, cell int32, excess, bonds int, most, index int32) {
	p := f.p
	if f.stopped {
		return
	}
	if bonds == 0 {
		if cell != 0 || excess != 0 {
			return
		}
		if !f.waits {
			f.emit()
			return
		}
		f.waits = false
		d := f.deferred
		for b := d.least; b <= d.most; b++ {
			f.grow(f.parent, d.cell, d.excess, b, 1<<30, 0)
		}
		f.deferred, f.waits = d, true
		return
	}
	for order := 1; order <= min(bonds, 3); order++ {
		if order == bonds {
			if int(p.size[cell]) <= f.heaviest {
				f.growBranch(at, cell, excess, order, cell, excess, bonds, most, index)
			}
			continue
		}
		for sub := int32(1); sub < cell; sub++ {
			if int(p.size[sub]) <= f.heaviest && p.cells[cell].holds(p.cells[sub]) {
				for e := order - 1; e <= excess; e++ {
					f.growBranch(at, sub, e, order, cell, excess, bonds, most, index)
				}
			}
		}
	}
}

// growBranch adds each tree of the composition sub, excess e and order of its
// bond, and goes on.
func (f *filler) growBranch(at int, sub int32, e, order int, cell int32, excess, bonds int, most, index int32) {
	p := f.p
	shift := f.shift
	for k := range p.kinds {
		b, ok := p.branchOf(sub, e, k, order)
		if !ok || b.id > most {
			continue
		}
		root := f.vertices
		f.st.kinds[root] = b.kind
		f.st.bond[root+shift] = bond{uint8(at), uint8(root), b.order}
		if int(b.size)-1 > p.limit {
			f.vertices++
			parent := f.parent
			f.deferred, f.parent, f.waits = b, root, true
			f.grow(at, cell-sub, excess-e, bonds-order, b.id-1, 0)
			f.parent, f.waits = parent, false
			f.vertices--
			continue
		}
		first, end := p.entries(&b)
		if b.id == most {
			end = min(end, index+1)
		}
		f.vertices += int(b.size)
		size := (int(b.size) - 1) * entryBytes
		data := p.forests[b.forest].data
		for i := first; i < end && !f.stopped; i++ {
			if p.allowed(b.id, i) {
				f.put(data[int(i)*size:][:size], root, root+1)
				f.grow(at, cell-sub, excess-e, bonds-order, b.id, i)
			}
		}
		f.vertices -= int(b.size)
	}
}
