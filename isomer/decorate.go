package isomer

import "slices"

// option is what a core atom can be: a kind with a class of forests.
type option struct {
	kind   uint8
	size   uint8 // atoms, the core atom included
	comp   packed
	cell   int32
	excess int
	forest int32
	// The forest's bonds to the root sum up to least to most; its entries are
	// first to end-1.
	least, most int
	first, end  int32
	listed      bool
}

// offer lists the options of core atoms whose core bonds sum up to sum, small
// ones first.
func (p *problem) offer(sum int) {
	var all []option
	for cell := int32(1); cell < int32(len(p.cells)); cell++ {
		for k := range p.kinds {
			if p.kinds[k].valence < sum || p.kinds[k].double || !p.cells[cell].holds(unit(k)) {
				continue
			}
			for excess := range p.levels {
				below := cell - p.radix[k]
				o := option{kind: uint8(k), size: p.size[cell], comp: p.cells[cell], cell: cell, excess: excess,
					forest: p.class(below, excess), most: p.kinds[k].valence - sum}
				if p.kinds[k].bare {
					o.least = o.most
				}
				if !p.possible(below, excess, o.least, o.most) {
					continue
				}
				if o.listed = int(p.size[below]) <= p.limit; o.listed {
					f := &p.forests[o.forest]
					o.first, o.end = f.start[o.least], f.start[o.most+1]
				}
				all = append(all, o)
			}
		}
	}
	slices.SortStableFunc(all, func(a, b option) int { return int(a.size) - int(b.size) })
	p.options[sum] = all
	p.choice[sum] = make([]int32, len(p.cells)*p.levels*len(p.kinds))
	for i := range p.choice[sum] {
		p.choice[sum][i] = -1
	}
	for i, o := range all {
		p.choice[sum][int(p.class(o.cell, o.excess))*len(p.kinds)+int(o.kind)] = int32(i)
	}
}

// deal deals the problem's atoms out to the core atoms.
func (f *filler) deal(excess int) {
	n := f.core.n
	f.room[n] = 0
	for v := n - 1; v >= 0; v-- {
		f.room[v] = f.room[v+1] + highest - int(f.sum[v])
	}
	setOrbits(n, len(f.ordered), func(g, v int) uint8 { return f.group[f.ordered[g]][v] }, f.rank[:n], f.dealt)
	f.choose(0, f.p.all, excess)
}

// choose chooses the option of core atom v and those after it, of the
// composition and excess left.
func (f *filler) choose(v int, cell int32, excess int) {
	p := f.p
	sum := f.sum[v]
	most := int32(1 << 30)
	for _, earlier := range f.rank[v] {
		most = min(most, f.choice[earlier])
	}
	if v == f.core.n-1 {
		row := p.choice[sum][int(p.class(cell, excess))*len(p.kinds):][:len(p.kinds)]
		for _, i := range row {
			if i >= 0 && i <= most {
				f.choice[v] = i
				f.decorated()
			}
		}
		return
	}
	options := p.options[sum]
	if most < int32(len(options)) {
		options = options[:most+1]
	}
	after := f.core.n - 1 - v
	largest := int(p.size[cell]) - after
	closed := f.room[v+1] == 0 // the atoms after can have no trees
	comp := p.cells[cell]
	for i := range options {
		o := &options[i]
		if int(o.size) > largest || f.stopped {
			return
		}
		if o.excess > excess || !comp.holds(o.comp) || closed && (int(o.size) != largest || o.excess != excess) {
			continue
		}
		f.choice[v] = int32(i)
		f.choose(v+1, cell-o.cell, excess-o.excess)
	}
}

// decorated takes the options if no automorphism makes them greater, and goes
// on to their trees.
func (f *filler) decorated() {
	n := f.core.n
	f.dealt = f.dealt[:0]
automorphisms:
	for _, g := range f.ordered {
		image := &f.group[g]
		for v := range n {
			if x, y := f.choice[image[v]], f.choice[v]; x > y {
				return
			} else if x < y {
				continue automorphisms
			}
		}
		f.dealt = append(f.dealt, g)
	}
	f.nsites, f.huge = 0, nil
	base := n
	for v := range n {
		o := &f.p.options[f.sum[v]][f.choice[v]]
		f.st.kinds[v] = o.kind
		f.index[v] = 0
		switch {
		case o.size == 1:
		case o.listed:
			f.sites[f.nsites] = site{v, base, o, f.p.forests[o.forest].data, int(o.size) - 1}
			f.nsites++
			base += int(o.size) - 1
		default:
			f.huge, f.hugeAt = o, v
		}
	}
	f.vertices = base
	if f.visit == nil && (f.bound || !f.st.alternating && f.p.rules.free()) {
		f.count()
		return
	}
	f.expand(0)
}
