package mol

// markRings marks the bonds that are part of a ring and counts the connected
// parts: a depth-first search in which a tree bond is in no ring exactly if no
// back bond spans it (Tarjan, SIAM J. Comput. 1 (1972) 146).
func (m *Mol) markRings(s *scratch) {
	n := len(m.atoms)
	m.parts = 0
	number := s.zeros(n)  // visiting number from 1, 0 = not visited
	low := s.ints(n)      // lowest number reached from below
	cursor := s.ints(n)   // next neighbor to look at
	entered := s.ints(n)  // bond by which the atom was reached, -1 = root
	path := s.ints(n)[:0] // atoms from the root to here
	count := int32(0)
	for root := range m.atoms {
		if number[root] != 0 {
			continue
		}
		m.parts++
		count++
		number[root], low[root], cursor[root], entered[root] = count, count, m.start[root], -1
		path = append(path, int32(root))
		for len(path) > 0 {
			at := path[len(path)-1]
			if cursor[at] < m.start[at+1] {
				nb := m.neighbors[cursor[at]]
				cursor[at]++
				switch {
				case nb.Bond == entered[at]:
				case number[nb.Atom] == 0:
					count++
					number[nb.Atom], low[nb.Atom], cursor[nb.Atom], entered[nb.Atom] = count, count, m.start[nb.Atom], nb.Bond
					path = append(path, nb.Atom)
				default:
					m.bonds[nb.Bond].ring = true
					low[at] = min(low[at], number[nb.Atom])
				}
				continue
			}
			path = path[:len(path)-1]
			if len(path) == 0 {
				break
			}
			up := path[len(path)-1]
			if low[at] <= number[up] {
				m.bonds[entered[at]].ring = true
			}
			low[up] = min(low[up], low[at])
		}
	}
}

// NumParts returns the number of connected parts.
func (m *Mol) NumParts() int { return m.parts }

// Components returns the connected parts as the indexes of their atoms,
// ascending, in the order of their first atom.
func (m *Mol) Components() [][]int {
	part := make([]int, len(m.atoms))
	for i := range part {
		part[i] = -1
	}
	parts := make([][]int, 0, m.parts)
	var queue []int
	for root := range m.atoms {
		if part[root] >= 0 {
			continue
		}
		p := len(parts)
		part[root] = p
		queue = append(queue[:0], root)
		for len(queue) > 0 {
			at := queue[0]
			queue = queue[1:]
			for _, nb := range m.Neighbors(at) {
				if part[nb.Atom] < 0 {
					part[nb.Atom] = p
					queue = append(queue, int(nb.Atom))
				}
			}
		}
		parts = append(parts, nil)
	}
	for i, p := range part {
		parts[p] = append(parts[p], i)
	}
	return parts
}
