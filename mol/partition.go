package mol

import "slices"

// partition is an ordered partition of the atoms of one connected part into
// cells, and its refinement until atoms of one cell have equally many bonds of
// each order to each cell. Which cells arise and in which order depends on the
// structure only, not on the numbering. (Method: the splitting by counts of
// McKay, Congr. Numer. 30 (1981) 45, with Hopcroft's rule that the largest
// piece needn't be split by.)
type partition struct {
	m     *Mol
	lab   []int32 // atoms in the order of the cells
	pos   []int32 // by atom: its place in lab
	cell  []int32 // by atom: where its cell begins in lab
	size  []int32 // by beginning: size of the cell
	cells int

	count   []uint64 // by atom: bonds to the cell that is split by; all zero between steps
	hit     []int32  // by beginning of a cell: atoms with a count; all zero between steps
	cellHit []int32  // beginnings of cells with counts
	members []int32  // of the cell that is split by
	queue   []int32  // cells to split by
	queued  []int32  // by beginning: 1 = in the queue
	work    int      // bonds looked at so far
}

// weight is what a bond of an order adds to a count: the orders have separate
// bits.
var weight = [...]uint64{
	Single: 1 << 48, Double: 1, Triple: 1 << 12, Quadruple: 1 << 24, Aromatic: 1 << 36,
}

// newPartition makes a partition over atoms, all in one cell. The arrays by
// atom can serve one part after the other.
func newPartition(m *Mol, s *scratch) *partition {
	n := len(m.atoms)
	p := &s.partition
	*p = partition{
		m: m, pos: s.ints(n), cell: s.ints(n), count: s.zeroWords(n),
		lab: s.ints(n)[:0], size: s.ints(n), hit: s.zeros(n), cellHit: s.ints(n)[:0],
		members: s.ints(n)[:0], queue: s.ints(n)[:0], queued: s.zeros(n),
	}
	return p
}

// begin takes the atoms of a part, sorted into cells by their keys, which are
// by atom.
func (p *partition) begin(atoms []int32, keys []uint64) {
	p.lab = append(p.lab[:0], atoms...)
	if len(p.lab) <= smallSort {
		for i := 1; i < len(p.lab); i++ {
			at, k := p.lab[i], i
			for ; k > 0 && keys[p.lab[k-1]] > keys[at]; k-- {
				p.lab[k] = p.lab[k-1]
			}
			p.lab[k] = at
		}
	} else {
		slices.SortFunc(p.lab, func(a, b int32) int {
			switch {
			case keys[a] < keys[b]:
				return -1
			case keys[a] > keys[b]:
				return 1
			}
			return 0
		})
	}
	p.cells = 0
	p.queue = p.queue[:0]
	start := int32(0)
	for i, at := range p.lab {
		if i == 0 || keys[at] != keys[p.lab[i-1]] {
			start = int32(i)
			p.size[start] = 0
			p.cells++
			p.push(start)
		}
		p.size[start]++
		p.cell[at], p.pos[at] = start, int32(i)
	}
}

// smallSort is the length up to which insertion is the quickest sort.
const smallSort = 24

// discrete tells whether each atom has a cell of its own.
func (p *partition) discrete() bool { return p.cells == len(p.lab) }

func (p *partition) push(cell int32) {
	if p.queued[cell] == 0 {
		p.queued[cell] = 1
		p.queue = append(p.queue, cell)
	}
}

// refine splits until nothing more follows from the cells in the queue.
func (p *partition) refine() {
	for head := 0; head < len(p.queue); head++ {
		by := p.queue[head]
		p.queued[by] = 0
		if p.discrete() {
			continue
		}
		// Splitting moves atoms within lab, so the members are copied.
		p.members = append(p.members[:0], p.lab[by:by+p.size[by]]...)
		for _, at := range p.members {
			for _, nb := range p.m.neighbors[p.m.start[at]:p.m.start[at+1]] {
				p.add(nb.Atom, weight[p.m.bonds[nb.Bond].Order])
			}
			p.work += int(p.m.start[at+1] - p.m.start[at])
		}
		p.split()
		if head > 1024 && head*2 > len(p.queue) {
			p.queue = append(p.queue[:0], p.queue[head+1:]...)
			head = -1
		}
	}
	p.queue = p.queue[:0]
}

// add adds to the count of an atom. Atoms with a count gather at the end of
// their cell.
func (p *partition) add(at int32, what uint64) {
	cell := p.cell[at]
	if p.size[cell] == 1 {
		return
	}
	if p.count[at] == 0 {
		if p.hit[cell] == 0 {
			p.cellHit = append(p.cellHit, cell)
		}
		p.hit[cell]++
		p.swap(p.pos[at], cell+p.size[cell]-p.hit[cell])
	}
	p.count[at] += what
}

// swap exchanges two places of lab.
func (p *partition) swap(i, j int32) {
	if i == j {
		return
	}
	a, b := p.lab[i], p.lab[j]
	p.lab[i], p.lab[j] = b, a
	p.pos[a], p.pos[b] = j, i
}

// split splits the cells that have counts, in their order, and clears the
// counts.
func (p *partition) split() {
	cells := p.cellHit
	for i := 1; i < len(cells); i++ {
		cell, k := cells[i], i
		for ; k > 0 && cells[k-1] > cell; k-- {
			cells[k] = cells[k-1]
		}
		cells[k] = cell
	}
	for _, cell := range cells {
		p.splitCell(cell)
	}
	p.cellHit = cells[:0]
}

// splitCell splits one cell by the counts of its atoms.
func (p *partition) splitCell(cell int32) {
	size, hit := p.size[cell], p.hit[cell]
	p.hit[cell] = 0
	from := cell + size - hit
	tail := p.lab[from : cell+size]
	if len(tail) > 1 {
		p.sortTail(tail)
		for i, at := range tail {
			p.pos[at] = from + int32(i)
		}
	}
	// The piece that keeps the cell's beginning is the one without count, or
	// else the one with the lowest.
	wasQueued := p.queued[cell] != 0
	largest, largestSize := cell, from-cell
	begin := from
	for i := 0; i < len(tail); {
		count := p.count[tail[i]]
		end := i
		for end < len(tail) && p.count[tail[end]] == count {
			p.count[tail[end]] = 0
			end++
		}
		pieceSize := int32(end - i)
		if begin != cell {
			for _, at := range tail[i:end] {
				p.cell[at] = begin
			}
			p.cells++
		}
		p.size[begin] = pieceSize
		if pieceSize > largestSize {
			largest, largestSize = begin, pieceSize
		}
		begin += pieceSize
		i = end
	}
	if from > cell {
		p.size[cell] = from - cell
	}
	if p.size[cell] == size {
		return // not split
	}
	for piece := cell; piece < cell+size; piece += p.size[piece] {
		if piece == cell && wasQueued || piece == largest && !wasQueued {
			continue
		}
		p.push(piece)
	}
}

// sortTail sorts atoms by their counts.
func (p *partition) sortTail(tail []int32) {
	if len(tail) > smallSort {
		slices.SortFunc(tail, func(a, b int32) int {
			switch {
			case p.count[a] < p.count[b]:
				return -1
			case p.count[a] > p.count[b]:
				return 1
			}
			return 0
		})
		return
	}
	for i := 1; i < len(tail); i++ {
		at, k := tail[i], i
		for ; k > 0 && p.count[tail[k-1]] > p.count[at]; k-- {
			tail[k] = tail[k-1]
		}
		tail[k] = at
	}
}

// individualize gives an atom a cell of its own, behind the rest of its cell.
func (p *partition) individualize(at int32) {
	cell := p.cell[at]
	size := p.size[cell]
	if size == 1 {
		return
	}
	last := cell + size - 1
	p.swap(p.pos[at], last)
	p.size[cell]--
	p.size[last] = 1
	p.cell[at] = last
	p.cells++
	p.push(last)
}
