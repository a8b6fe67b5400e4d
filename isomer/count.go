package isomer

import (
	"math"
	"math/bits"
)

// Counts stop at the largest uint64, which stands for "at least that".

func add(a, b uint64) uint64 {
	if s, carry := bits.Add64(a, b, 0); carry == 0 {
		return s
	}
	return math.MaxUint64
}

func multiply(a, b uint64) uint64 {
	if high, low := bits.Mul64(a, b); high == 0 {
		return low
	}
	return math.MaxUint64
}

// multisets is the number of multisets of k out of n, for k up to 4.
func multisets(n uint64, k int) uint64 {
	result := uint64(1)
	for i := range uint64(k) {
		// The product of i+1 consecutive numbers is divisible by (i+1)!.
		high, low := bits.Mul64(result, n+i)
		if high > i {
			return math.MaxUint64
		}
		result, _ = bits.Div64(high, low, i+1)
	}
	return result
}

// countForests is the number of forests of a composition, excess and bonds to
// the root whose branches are of classes less than most and of at most
// heaviest atoms each.
func (p *problem) countForests(cell int32, excess, bonds int, most int32, heaviest int) uint64 {
	if bonds == 0 {
		if cell == 0 && excess == 0 {
			return 1
		}
		return 0
	}
	total := uint64(0)
	for order := 1; order <= min(bonds, 3); order++ {
		for sub := int32(1); sub <= cell; sub++ {
			if order == bonds && sub != cell || int(p.size[sub]) > heaviest || !p.cells[cell].holds(p.cells[sub]) {
				continue
			}
			for e := order - 1; e <= excess; e++ {
				if order == bonds && e != excess {
					continue
				}
				for k := range p.kinds {
					b, ok := p.branchOf(sub, e, k, order)
					if !ok || b.id >= most {
						continue
					}
					total = add(total, p.countRuns(&b, sub, e, cell, excess, bonds, heaviest))
				}
			}
		}
	}
	return total
}

// countRuns counts the forests whose greatest class of branches is b.
func (p *problem) countRuns(b *branch, sub int32, e int, cell int32, excess, bonds, heaviest int) uint64 {
	n := p.countBranch(b)
	if n == 0 {
		return 0
	}
	total := uint64(0)
	for run := 1; ; run++ {
		if bonds < int(b.order) || excess < e || !p.cells[cell].holds(p.cells[sub]) {
			return total
		}
		bonds, excess, cell = bonds-int(b.order), excess-e, cell-sub
		if rest := p.countForests(cell, excess, bonds, b.id, heaviest); rest > 0 {
			total = add(total, multiply(multisets(n, run), rest))
		}
	}
}

// countBranch is the number of branches of a class.
func (p *problem) countBranch(b *branch) uint64 {
	if int(b.size)-1 <= p.limit {
		first, end := p.entries(b)
		n := uint64(end - first)
		for _, bad := range p.bad[b.id] {
			if bad {
				n--
			}
		}
		return n
	}
	return p.countClass(b.cell, b.excess, b.least, b.most)
}

// countClass is the number of forests of a class that isn't listed.
func (p *problem) countClass(cell int32, excess, least, most int) uint64 {
	total := uint64(0)
	for b := least; b <= most; b++ {
		key := p.class(cell, excess)*8 + int32(b)
		n, ok := p.counted.Load(key)
		if !ok {
			n = p.countForests(cell, excess, b, 1<<30, p.n)
			p.counted.Store(key, n)
		}
		total = add(total, n.(uint64))
	}
	return total
}

// count adds the number of ways to fill in the trees of the options dealt: by
// Burnside's lemma, the mean over the automorphisms of how many ways each
// keeps.
func (f *filler) count() {
	var length [MaxAtoms]uint64
	all := uint64(1)
	for v := range f.core.n {
		length[v] = 1
	}
	for i := range f.nsites {
		s := &f.sites[i]
		length[s.vertex] = uint64(s.option.end - s.option.first)
		all = multiply(all, length[s.vertex])
	}
	huge := uint64(1)
	if o := f.huge; o != nil {
		huge = f.p.countClass(o.cell-f.p.radix[o.kind], o.excess, o.least, o.most)
	}
	sum := multiply(all, huge)
	for _, g := range f.dealt {
		kept := huge
		var seen uint64
		for v := range f.core.n {
			if seen&(1<<v) != 0 {
				continue
			}
			for w := v; seen&(1<<w) == 0; w = int(f.group[g][w]) {
				seen |= 1 << w
			}
			kept = multiply(kept, length[v])
		}
		sum = add(sum, kept)
	}
	f.total = add(f.total, sum/uint64(len(f.dealt)+1))
}
