package smarts

import "slices"

// atomSets is a set of sets of atoms: a hash table with open addressing that
// keeps its room from use to use.
type atomSets struct {
	words int      // of one set
	sets  []uint64 // the sets, words each, in the order of arrival
	table []int32  // 1 + index of a set, 0 where the place is free
	item  []uint64 // the set that is looked for
}

// reset makes it empty, for molecules of that many atoms.
func (a *atomSets) reset(atoms int) {
	a.words = (atoms + 63) / 64
	a.sets = a.sets[:0]
	a.item = resized(a.item, a.words)
	a.table = a.table[:min(len(a.table), smallTable)]
	clear(a.table)
}

func (a *atomSets) len() int {
	if a.words == 0 {
		return 0
	}
	return len(a.sets) / a.words
}

// add puts in the set of the atoms of the frames; false where it was there.
func (a *atomSets) add(frames []frame) bool {
	clear(a.item)
	for i := range frames {
		atom := frames[i].atom
		a.item[atom>>6] |= 1 << (atom & 63)
	}
	if 2*a.len() >= len(a.table) {
		a.grow()
	}
	for at := a.hash(a.item); ; at++ {
		place := &a.table[at&uint64(len(a.table)-1)]
		if *place == 0 {
			a.sets = append(a.sets, a.item...)
			*place = int32(a.len())
			return true
		}
		from := int(*place-1) * a.words
		if slices.Equal(a.sets[from:from+a.words], a.item) {
			return false
		}
	}
}

// smallTable is the size to which reset cuts the table, a power of two.
const smallTable = 32

// grow doubles the table.
func (a *atomSets) grow() {
	a.table = resized(a.table, max(smallTable, 2*len(a.table)))
	clear(a.table)
	for i := range a.len() {
		at := a.hash(a.sets[i*a.words : (i+1)*a.words])
		for ; a.table[at&uint64(len(a.table)-1)] != 0; at++ {
		}
		a.table[at&uint64(len(a.table)-1)] = int32(i + 1)
	}
}

func (a *atomSets) hash(set []uint64) uint64 {
	h := uint64(0)
	for _, w := range set {
		h = (h ^ w) * 0x9e3779b97f4a7c15 // Fibonacci hashing
		h ^= h >> 32
	}
	return h
}
