package isomer

// Compositions of a problem are numbered: cell = sum of count x radix. As long
// as no count exceeds the total's, cells add and subtract as compositions do.

const maxKinds = 16

// packed holds a count of up to 127 of each kind in a byte of its own.
type packed struct{ low, high uint64 }

const guard = 0x8080808080808080

// holds tells whether p has at least q of each kind.
func (p packed) holds(q packed) bool {
	return ((p.low|guard)-q.low)&((p.high|guard)-q.high)&guard == guard
}

func (p packed) plus(q packed) packed { return packed{p.low + q.low, p.high + q.high} }

// unit is one of kind k.
func unit(k int) packed {
	if k < 8 {
		return packed{low: 1 << (8 * k)}
	}
	return packed{high: 1 << (8 * (k - 8))}
}

// compositions lists every part of a problem's atoms.
type compositions struct {
	radix []int32  // by kind
	cells []packed // by cell
	size  []uint8  // atoms, by cell
	sum   []int16  // of the valences, by cell
}

// maxCells bounds the tables of a problem.
const maxCells = 200_000

func numberOfCells(counts []int) int {
	n := 1
	for _, c := range counts {
		if n *= c + 1; n > maxCells {
			return n
		}
	}
	return n
}

func newCompositions(kinds []kind, counts []int) compositions {
	n := numberOfCells(counts)
	c := compositions{radix: make([]int32, len(kinds)), cells: make([]packed, n), size: make([]uint8, n), sum: make([]int16, n)}
	radix := int32(1)
	for k := range kinds {
		c.radix[k] = radix
		radix *= int32(counts[k] + 1)
	}
	for cell := 1; cell < n; cell++ {
		// The cell is another one with an atom more of its last kind.
		k := len(kinds) - 1
		for int32(cell) < c.radix[k] {
			k--
		}
		before := int32(cell) - c.radix[k]
		c.cells[cell] = c.cells[before].plus(unit(k))
		c.size[cell] = c.size[before] + 1
		c.sum[cell] = c.sum[before] + int16(kinds[k].valence)
	}
	return c
}
