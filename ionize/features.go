package ionize

import "slices"

// What the fitted corrections know of a step: codes of the bond that breaks
// and of its surroundings on both sides, of the hydrogen that moves, of the
// ion and neutral that come out, and of the ion it starts from. A code the
// fit has seen often enough has a row in the parameter table; others add
// nothing, so that the step stays at its handbook value.

// maxFeatures bounds the codes of one step.
const maxFeatures = 32

// Dense quantities that a step has beside its codes: two of its own, then the
// properties of the pieces, by the part they play.
const (
	denseCritical = iota // handbook critical energy
	denseKept            // share of the atoms that the ion keeps
	NumStepDense
	NumDense = NumStepDense + int(numParts)*NumProperties
)

// DenseOf is where the properties of a piece in the part begin among the dense
// quantities.
func DenseOf(part int) int { return NumStepDense + part*NumProperties }

// description is the rest of what the fitted corrections see of a step.
type description struct {
	codes          [maxFeatures]uint32
	n              int
	critical, kept float32 // denseCritical and denseKept
}

// add adds a code where there is room.
func (d *description) add(code uint32) {
	if d.n < maxFeatures {
		d.codes[d.n] = code
		d.n++
	}
}

// slot is what the codes of one kind of fact begin with.
func slot(n uint32) uint32 { return mix(n, 0x51ed27) }

// facts are codes of a piece as a whole.
type facts struct {
	whole   uint32 // its structure, labels left out
	formula uint32 // its composition
	hetero  uint32 // its composition without carbon and hydrogen
	site    uint32 // surroundings of the charge or radical
	atoms   int    // hydrogens counted
}

func (m *molecule) factsOf(s *skeleton, around *surroundings, site int) facts {
	c := m.count(s)
	f := facts{formula: 17, hetero: 19}
	for k, n := range c {
		f.atoms += int(n)
		if k == iD {
			continue // labels don't change chemistry
		}
		number := uint32(n)
		if k == iH {
			number += uint32(c[iD])
		}
		f.formula = mix(f.formula, number)
		if k != iC && k != iH {
			f.hetero = mix(f.hetero, number)
		}
	}
	f.whole = around.plain
	if site >= 0 {
		f.site = around.near[site]
	}
	return f
}

// describe fills in the codes of the step p from the ion here; critical is the
// handbook critical energy in eV.
func (s *search) describe(d *description, here *node, around *surroundings, p *proposal, ion, neutral *facts, critical float64) {
	d.n = 0
	m := s.m
	k := uint32(p.kind)
	parity := uint32(0)
	if here.odd {
		parity = 1
	}
	if here.mass == s.nodes[0].mass {
		parity |= 2
	}
	before := &here.facts
	d.critical, d.kept = float32(critical)/3, float32(ion.atoms)/float32(before.atoms)-0.5

	// Where the bond or bonds break: sums, so that the order doesn't matter.
	var self, near, far [2]uint32 // of the ion's side, of the neutral's
	var pairSelf, pairNear, pairFar uint32
	for _, cut := range p.cut {
		if cut < 0 {
			continue
		}
		i, j := int(m.ends[cut][0]), int(m.ends[cut][1])
		if !p.ion.atoms.has(i) {
			i, j = j, i
		}
		for side, at := range [2]int{i, j} {
			self[side] += mix(around.self[at], 31)
			near[side] += mix(around.near[at], 32)
			far[side] += mix(around.far[at], 33)
		}
		pairSelf += mix(mix(around.self[i], 35), around.self[j])
		pairNear += mix(mix(around.near[i], 36), around.near[j])
		pairFar += mix(mix(around.far[i], 37), around.far[j])
	}
	if p.gone > 0 {
		for rest := here.skeleton.atoms; rest != 0; rest &= rest - 1 {
			i := rest.first()
			if here.skeleton.hydrogen(i) != p.ion.hydrogen(i) {
				self[0] += mix(around.self[i], 31)
				near[0] += mix(around.near[i], 32)
				far[0] += mix(around.far[i], 33)
			}
		}
	}
	moved, movedRing := uint32(0), uint32(0)
	for _, mv := range p.moves {
		if mv.count == 0 {
			continue
		}
		moved++
		movedRing = movedRing*16 + uint32(mv.ring)
		d.add(mix(mix(mix(mix(slot(1), k), uint32(mv.ring)), around.self[mv.from]), around.self[mv.to]))
		d.add(mix(mix(mix(slot(2), k), uint32(mv.ring)), around.near[mv.from]))
		d.add(mix(mix(mix(slot(3), k), uint32(mv.ring)), around.near[mv.to]))
	}
	way := k | moved<<8 | movedRing<<12
	d.add(mix(mix(slot(11), way), parity))
	d.add(mix(mix(mix(slot(13), way), parity), pairSelf))
	d.add(mix(mix(mix(slot(17), way), pairNear), parity))
	d.add(mix(mix(slot(18), way), far[0]))
	d.add(mix(mix(slot(19), way), far[1]))
	d.add(mix(mix(slot(20), moved), pairFar))
	d.add(mix(mix(mix(slot(23), way), self[0]), near[1]))
	d.add(mix(mix(mix(slot(24), way), near[0]), self[1]))
	// What comes out.
	d.add(mix(mix(slot(31), ion.formula), k))
	d.add(mix(mix(slot(33), neutral.formula), parity))
	d.add(mix(mix(slot(37), ion.whole), k))
	d.add(mix(mix(slot(38), ion.site), k))
	d.add(mix(mix(slot(40), ion.hetero), neutral.hetero))
	// Where it starts.
	d.add(mix(mix(slot(51), before.whole), neutral.formula))
	d.add(mix(mix(slot(52), before.formula), neutral.formula))
	d.add(mix(mix(mix(slot(53), before.hetero), neutral.formula), parity))
	d.add(mix(mix(slot(55), before.site), neutral.formula))
	d.add(mix(mix(slot(56), s.nodes[0].facts.hetero), way))
	closed := uint32(0)
	if p.formed >= 0 {
		closed = 1
	}
	d.add(mix(mix(slot(57), closed), way))
}

// part is what a piece plays in a step; a piece is described to the fit once
// for each part it plays, however many steps it plays it in.
type part uint32

const (
	asMolecule part = iota // the molecular ion every route starts from
	asSource               // the ion that breaks
	asProduct              // the ion that comes out
	asNeutral              // what is lost
	numParts
)

// atomKind is a kind of atom in a piece, by its code in surroundings.self, and
// how many atoms are of it.
type atomKind struct{ code, n uint32 }

// atomKinds appends the kinds of the atoms of s.
func atomKinds(kinds []atomKind, s *skeleton, around *surroundings) []atomKind {
	for rest := s.atoms; rest != 0; {
		own := around.self[rest.first()]
		n := uint32(0)
		for same := rest; same != 0; same &= same - 1 {
			if i := same.first(); around.self[i] == own {
				rest = rest.without(i)
				n++
			}
		}
		kinds = append(kinds, atomKind{own, n})
	}
	return kinds
}

// codesOf is what the piece is made of, in the part that it plays: its
// composition and whole structure, and each kind of atom in it with a rough
// count; for an ion that breaks, the kinds of surroundings too. Those of what
// comes out and of what is lost were left out without harm to the fit. The
// slice is good until the next call.
func (s *pieces) codesOf(id int32, as part) []uint32 {
	p := &s.list[id]
	salt := 70 + uint32(as)
	s.codes = append(s.codes[:0], mix(mix(salt, 1), p.facts.whole), mix(mix(salt, 2), p.facts.formula), mix(mix(salt, 3), p.facts.hetero),
		mix(mix(salt, 4), uint32(p.facts.atoms)/4))
	if as == asMolecule || as == asSource {
		s.surroundingsOf(&p.skeleton, as)
	}
	kind := mix(salt, 8)
	for _, k := range s.kinds[p.kinds[0]:p.kinds[1]] {
		s.codes = append(s.codes, mix(mix(kind, k.code), min(k.n, 4)))
	}
	return s.codes
}

// surroundingsOf appends each kind of surroundings in the piece to the codes.
func (s *pieces) surroundingsOf(piece *skeleton, as part) {
	s.m.look(piece, &s.around)
	salt := 70 + uint32(as)
	start := len(s.codes)
	once := func(code uint32) {
		if !slices.Contains(s.codes[start:], code) {
			s.codes = append(s.codes, code)
		}
	}
	for rest := piece.atoms; rest != 0; rest &= rest - 1 {
		i := rest.first()
		once(mix(mix(salt, 5), s.around.near[i]))
		once(mix(mix(salt, 6), s.around.far[i]))
		if as == asMolecule {
			once(mix(mix(salt, 7), s.around.deep[i]))
		}
	}
}
