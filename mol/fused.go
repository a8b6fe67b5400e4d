package mol

import "math/bits"

// maxFused is the largest number of rings that are tried together, and
// maxFusedRing the largest ring that takes part, as in other perception
// programs; maxUnions bounds the number of combinations.
const (
	maxFused     = 6
	maxFusedRing = 24
	maxUnions    = 20000
)

// vastSystem is the number of bonds above which a ring system is treated by
// rings of up to 8 atoms only, which two paths of vastLimit bonds make.
const (
	vastSystem = 2048
	vastLimit  = 4
)

// perceiveFused marks the aromatic rings of a system of sp2 atoms that is no
// single ring.
func (m *Mol) perceiveFused(s *scratch, system, pi []int32, marks aromaticMarks) {
	place := s.filled(len(m.atoms), -1)
	f := fusion{m: m, cycleSpace: m.newCycleSpace(s, system, place), marks: marks}
	f.electrons = s.ints(len(f.atoms))
	for k, at := range f.atoms {
		f.electrons[k] = pi[at]
	}
	vast := len(f.bonds) > vastSystem
	if vast {
		f.search(vastLimit)
		for i := range f.found {
			f.found[i].relevant = true
		}
	} else {
		f.search(int32(len(f.atoms)))
		f.sift()
	}
	f.done = s.zeros(len(f.bonds))
	kept := f.found[:0]
	for _, c := range f.found {
		if !c.relevant {
			continue
		}
		kept = append(kept, c)
		electrons := int32(0)
		for _, at := range f.ring[c.first : c.first+c.size] {
			electrons += f.electrons[at]
		}
		if huckel(electrons) {
			f.mark(c)
		}
	}
	f.found = kept
	if !vast && f.left() {
		f.unions()
	}
}

// fusion is a fused system of sp2 atoms whose aromatic parts are looked for.
type fusion struct {
	m *Mol
	*cycleSpace
	electrons []int32 // by local atom
	done      []int32 // by local bond: 1 = aromatic
	marks     aromaticMarks
}

// left tells whether some bond isn't aromatic yet.
func (f *fusion) left() bool {
	for _, d := range f.done {
		if d == 0 {
			return true
		}
	}
	return false
}

// mark marks a single ring.
func (f *fusion) mark(c cycle) {
	for _, at := range f.ring[c.first : c.first+c.size] {
		f.marks.atoms[f.atoms[at]] = 1
	}
	for w, word := range f.set(c) {
		for ; word != 0; word &= word - 1 {
			f.markBond(int32(w*64 + bits.TrailingZeros64(word)))
		}
	}
}

func (f *fusion) markBond(local int32) {
	f.done[local] = 1
	f.marks.bonds[f.bonds[local]] = 1
}

// unions tries rings fused of two, three and more rings, each sharing one bond
// with another, until all bonds are aromatic.
func (f *fusion) unions() {
	n := len(f.found)
	neighbors := make([][]int32, n)
	for i := range n {
		for j := range i {
			if f.found[i].size <= maxFusedRing && f.found[j].size <= maxFusedRing && f.shared(i, j) == 1 {
				neighbors[i] = append(neighbors[i], int32(j))
				neighbors[j] = append(neighbors[j], int32(i))
			}
		}
	}
	// A union is grown from its first ring by later ones only, each neighbor
	// being either taken or excluded, so that none comes up twice.
	tried := 0
	for size := 2; size <= min(maxFused, n) && f.left(); size++ {
		u := union{fusion: f, neighbors: neighbors, size: size, state: make([]int8, n), seen: make([]int32, len(f.atoms)), tried: &tried}
		var results [][]int32
		for first := range n {
			u.grow(append(u.members[:0], int32(first)), &results)
			u.state[first] = excluded
		}
		for _, rings := range results {
			f.markUnion(rings)
		}
	}
}

// shared is the number of bonds that two rings share.
func (f *fusion) shared(i, j int) int {
	count := 0
	other := f.set(f.found[j])
	for w, word := range f.set(f.found[i]) {
		count += bits.OnesCount64(word & other[w])
	}
	return count
}

// union enumerates the connected sets of rings of one size.
type union struct {
	*fusion
	neighbors [][]int32
	size      int
	members   []int32
	state     []int8
	seen      []int32 // by local atom: in how many rings of the union
	tried     *int
}

const (
	free     = 0
	taken    = 1
	excluded = 2
)

// grow extends members to unions of the wanted size and collects those that
// are aromatic. Its depth is at most maxFused.
func (u *union) grow(members []int32, results *[][]int32) {
	last := members[len(members)-1]
	u.state[last] = taken
	defer func() { u.state[last] = free }()
	if len(members) == u.size {
		if *u.tried++; *u.tried <= maxUnions && u.aromatic(members) {
			*results = append(*results, append([]int32(nil), members...))
		}
		return
	}
	if *u.tried > maxUnions {
		return
	}
	var banned []int32
	for _, at := range members {
		for _, next := range u.neighbors[at] {
			if u.state[next] == free {
				u.grow(append(members[:len(members):len(members)], next), results)
				u.state[next] = excluded
				banned = append(banned, next)
			}
		}
	}
	for _, ring := range banned {
		u.state[ring] = free
	}
}

// aromatic tells whether the atoms of the rings, without those inside that
// three of them share, have 4n+2 electrons.
func (u *union) aromatic(rings []int32) bool {
	clear(u.seen)
	for _, r := range rings {
		c := u.found[r]
		for _, at := range u.ring[c.first : c.first+c.size] {
			u.seen[at]++
		}
	}
	electrons := int32(0)
	for at, times := range u.seen {
		if times == 1 || times == 2 {
			electrons += u.electrons[at]
		}
	}
	return huckel(electrons)
}

// markUnion marks a fused ring: its atoms, the bonds round it, and the bonds
// inside that are double in some Kekule form of its atoms.
func (f *fusion) markUnion(rings []int32) {
	times := make([]int8, len(f.bonds))
	for _, r := range rings {
		c := f.found[r]
		for _, at := range f.ring[c.first : c.first+c.size] {
			f.marks.atoms[f.atoms[at]] = 1
		}
		for w, word := range f.set(c) {
			for ; word != 0; word &= word - 1 {
				times[w*64+bits.TrailingZeros64(word)]++
			}
		}
	}
	for local, t := range times {
		if t == 1 || t > 1 && f.canBeDouble(int32(local)) {
			f.markBond(int32(local))
		}
	}
}

// canBeDouble tells whether a bond is double in some Kekule form of the
// system that pairs the same atoms: it is, or the partners of its ends can be
// joined by an alternating path.
func (f *fusion) canBeDouble(local int32) bool {
	m := f.m
	bond := &m.bonds[f.bonds[local]]
	if bond.kekule == Double {
		return true
	}
	n := len(m.atoms)
	k := matcher{m: m, open: make([]int32, len(m.bonds)), need: make([]int32, n), mate: make([]int32, n)}
	for i := range k.mate {
		k.mate[i] = -1
	}
	for _, b := range f.bonds {
		k.open[b] = 1
		if ends := &m.bonds[b]; ends.kekule == Double {
			k.mate[ends.Begin], k.mate[ends.End] = ends.End, ends.Begin
			k.need[ends.Begin], k.need[ends.End] = needsOne, needsOne
		}
	}
	left, right := k.mate[bond.Begin], k.mate[bond.End]
	if left < 0 || right < 0 {
		return false
	}
	for _, at := range [2]int32{bond.Begin, bond.End} {
		k.mate[at], k.need[at] = -1, needsNone
	}
	k.mate[left], k.mate[right] = -1, -1
	s := acquire()
	defer s.release()
	return newBlossom(&k, s).augment(left)
}
