package ionize

import "ionwright/chem"

// settle makes a form of what an event or a change of charge has left: pi
// bonds in excess at an atom break, open bonds pair up along the shortest ways.
// The result differs from what it started as by as little as possible, so that
// few arrows lead from one to the other. Where an atom with a bond too many has
// several pi bonds, each choice is offered.
func (f *frame) settle(l *lewis, offer func(*lewis)) {
	for i := range f.atoms {
		if f.left(l, i) >= 0 {
			continue
		}
		for _, h := range f.at[i] {
			if l.joined[h.pair] && l.pi[h.pair] > 0 {
				other := l.clone()
				other.pi[h.pair]--
				f.settle(other, offer)
			}
		}
		return
	}
	f.pairUp(l)
	f.fillCarbenes(l)
	if f.possible(l) {
		offer(l)
	}
}

// longestWay is the number of pi bonds that may shift when two open bonds far
// from each other pair up.
const longestWay = 4

// pairUp pairs open bonds up, near ones first.
func (f *frame) pairUp(l *lewis) {
	for most := int8(1); most <= 2; most++ {
		for length := 0; length <= longestWay; length++ {
			for i := range f.atoms {
				for f.left(l, i) > 0 {
					seen := make([]bool, len(f.atoms))
					seen[i] = true
					if !f.shift(l, i, length, most, seen) {
						break
					}
				}
			}
		}
	}
}

// shift gives atom i a pi bond along a way over the given number of other pi
// bonds; most is the number of them that a pair may hold afterwards.
func (f *frame) shift(l *lewis, i, length int, most int8, seen []bool) bool {
	for _, h := range f.at[i] {
		j := h.to
		if !l.joined[h.pair] || seen[j] || l.pi[h.pair] >= most || l.half == h.pair || f.atoms[j].element == chem.H {
			continue
		}
		if length == 0 {
			if f.left(l, j) > 0 {
				l.pi[h.pair]++
				return true
			}
			continue
		}
		if f.left(l, j) > 0 {
			continue // nearer, and tried already
		}
		seen[j] = true
		for _, next := range f.at[j] {
			if !l.joined[next.pair] || l.pi[next.pair] == 0 || seen[next.to] || next.pair == h.pair {
				continue
			}
			seen[next.to] = true
			l.pi[next.pair]--
			l.pi[h.pair]++
			if f.shift(l, next.to, length-1, most, seen) {
				return true
			}
			l.pi[h.pair]--
			l.pi[next.pair]++
			seen[next.to] = false
		}
		seen[j] = false
	}
	return false
}

// fillCarbenes lets a carbon with two open bonds and one neighbour take the
// neighbour's lone pair into a triple bond: carbon monoxide, isocyanides.
func (f *frame) fillCarbenes(l *lewis) {
	for i := range f.atoms {
		if f.atoms[i].element != chem.C || l.charge[i] != 0 || f.atoms[i].hydrogens > 0 || f.left(l, i) != 2 || f.degree(l, i) != 1 {
			continue
		}
		for _, h := range f.at[i] {
			o := &f.atoms[h.to]
			if !l.joined[h.pair] || l.charge[h.to] != 0 || o.element != chem.O && o.element != chem.N || l.pi[h.pair] != 1 || f.left(l, h.to) != 0 {
				continue
			}
			l.charge[i], l.valence[i] = -1, 3
			l.charge[h.to], l.valence[h.to] = 1, o.hole(1)
			l.pi[h.pair]++
		}
	}
}
