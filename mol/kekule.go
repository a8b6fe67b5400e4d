package mol

import "fmt"

// KekuleError says at which atom no Kekule form is possible.
type KekuleError struct {
	Atom int // index
}

func (e *KekuleError) Error() string {
	return fmt.Sprintf("atom %d: the aromatic bonds have no Kekule form, no double bond is left for this atom", e.Atom+1)
}

// kekulize settles the Kekule orders of the aromatic bonds: a maximum
// matching of the atoms that lack one bond (Edmonds, Can. J. Math. 17 (1965)
// 449), begun greedily.
func (m *Mol) kekulize() error {
	open := false
	for i := range m.bonds {
		b := &m.bonds[i]
		b.kekule = b.Order
		if b.Order == Aromatic {
			b.kekule = Single
			open = true
		}
	}
	if !open {
		return nil
	}
	s := acquire()
	defer s.release()
	n := len(m.atoms)
	k := matcher{m: m, open: s.zeros(len(m.bonds)), need: s.zeros(n), mate: s.filled(n, -1), free: s.zeros(n)}
	for i := range m.bonds {
		if m.bonds[i].Order == Aromatic {
			k.open[i] = 1
		}
	}
	for i := range m.atoms {
		k.need[i] = m.lack(i)
	}
	for i := range m.atoms {
		if k.need[i] != 0 {
			for _, nb := range m.Neighbors(i) {
				if k.joins(nb) {
					k.free[i]++
				}
			}
		}
	}
	k.greedy(s.ints(n)[:0])
	if atom := k.augmentAll(s); atom >= 0 {
		return &KekuleError{Atom: atom}
	}
	for i := range m.bonds {
		b := &m.bonds[i]
		if b.Order == Aromatic && k.mate[b.Begin] == b.End {
			b.kekule = Double
		}
	}
	return nil
}

// What an atom needs of the matching.
const (
	needsNone = 0
	needsOne  = 1 // must have a double bond among its aromatic bonds
	mayHave   = 2 // can have one: its open valences are unpaired electrons or more hydrogens left out
)

// lack tells whether atom i must, may or can't have a double bond among its
// aromatic bonds.
func (m *Mol) lack(i int) int32 {
	a := &m.atoms[i]
	sum, aromatic := int(a.Hydrogens)+int(a.Radical), false
	for _, nb := range m.Neighbors(i) {
		b := &m.bonds[nb.Bond]
		if b.Order == Aromatic {
			sum, aromatic = sum+1, true
		} else {
			sum += int(b.Order)
		}
	}
	if !aromatic {
		return needsNone
	}
	valence, ok := NextValence(a.Element, int(a.Charge), sum)
	switch {
	case !ok || valence == sum:
		return needsNone
	case valence == sum+1:
		return needsOne
	}
	return mayHave
}

// matcher pairs atoms along open bonds.
type matcher struct {
	m    *Mol
	open []int32 // by bond: 1 = pairs may be made along it
	need []int32
	mate []int32 // partner, -1 = none
	free []int32 // number of partners still possible
}

// joins tells whether nb is a bond along which its atom can be paired.
func (k *matcher) joins(nb Neighbor) bool {
	return k.open[nb.Bond] != 0 && k.need[nb.Atom] != needsNone
}

// greedy pairs first the atoms with one possible partner, which is never
// wrong, and otherwise the next atom with its neighbor of fewest choices.
func (k *matcher) greedy(forced []int32) {
	for next := 0; ; {
		var at int32
		if len(forced) > 0 {
			at = forced[len(forced)-1]
			forced = forced[:len(forced)-1]
		} else {
			if next == len(k.mate) {
				return
			}
			at = int32(next)
			next++
		}
		if k.need[at] == needsNone || k.mate[at] >= 0 || k.free[at] == 0 {
			continue
		}
		best := int32(-1)
		for _, nb := range k.m.Neighbors(int(at)) {
			if k.joins(nb) && k.mate[nb.Atom] < 0 && (best < 0 || k.better(nb.Atom, best)) {
				best = nb.Atom
			}
		}
		if best < 0 {
			continue
		}
		k.mate[at], k.mate[best] = best, at
		for _, end := range [2]int32{at, best} {
			for _, nb := range k.m.Neighbors(int(end)) {
				if k.joins(nb) {
					k.free[nb.Atom]--
					if k.free[nb.Atom] == 1 && k.mate[nb.Atom] < 0 && len(forced) < cap(forced) {
						forced = append(forced, nb.Atom)
					}
				}
			}
		}
	}
}

// better tells whether atom a should be paired before atom b.
func (k *matcher) better(a, b int32) bool {
	if k.need[a] != k.need[b] {
		return k.need[a] == needsOne
	}
	return k.free[a] < k.free[b]
}

// augmentAll pairs the atoms that greedy left over by augmenting paths, those
// that must be paired first. It returns an atom for which it is impossible, or
// -1.
func (k *matcher) augmentAll(s *scratch) int {
	var search *blossom
	failed := -1
	for _, need := range [2]int32{needsOne, mayHave} {
		for i := range k.mate {
			if k.need[i] != need || k.mate[i] >= 0 {
				continue
			}
			if search == nil {
				search = newBlossom(k, s)
			}
			if !search.augment(int32(i)) && need == needsOne && failed < 0 {
				failed = i
			}
		}
	}
	return failed
}
