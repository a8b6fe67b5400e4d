package ionize

import "encoding/binary"

// piece is a part of the molecule, whichever role it plays: the ion that
// breaks, the ion that comes out, the neutral that leaves.
type piece struct {
	skeleton skeleton
	whole    uint64 // equal for two skeletons that are the same piece made of different atoms of the molecule, such as the ethyl cations of triethylamine
	mass     int    // nominal, Da
	odd      bool   // odd-electron when it is a singly charged ion
	energies energies
	facts    facts
	kinds    [2]int32        // from where to where pieces.kinds has those of its atoms
	rows     [numParts]int32 // places of its corrections in pieces.rows, by part; 0 where not worked out
}

// pieces are all parts of one molecule met so far; what is worked out of one
// serves every step it takes part in.
type pieces struct {
	m       *molecule
	fitted  *Corrections // nil: handbook values alone
	list    []piece
	ions    []int32 // by piece: the node of the search that it is, -1 for none
	byShape shapes
	byWhole []int32    // by hash of piece.whole, open addressing: the piece; 0 is free, as hydrogen isn't here
	kinds   []atomKind // of all pieces, one piece after the other
	rows    []Row      // the first is no piece's
	around  surroundings
	codes   []uint32
	found   []int32 // places of rows in the fitted table
}

// The pieces every molecule has: a hydrogen atom, and a hydrogen molecule.
const (
	hydrogenAtom int32 = iota
	hydrogenMolecule
)

// start forgets the molecule before.
func (s *pieces) start(m *molecule, fitted *Corrections) {
	s.m, s.fitted = m, fitted
	s.list = append(s.list[:0],
		piece{energies: energies{radical: true}, facts: facts{whole: 1, formula: 1, hetero: 19}},
		piece{energies: energies{binding: sigma[iH][iH]}, facts: facts{whole: 2, formula: 2, hetero: 19}})
	s.ions = append(s.ions[:0], -1, -1)
	s.kinds = s.kinds[:0]
	s.rows = append(s.rows[:0], Row{})
	s.byShape.clear()
	if s.byWhole == nil {
		s.byWhole = make([]int32, 2048)
	}
	clear(s.byWhole)
}

// piece returns the piece with the skeleton, making it when it is new.
func (s *pieces) piece(shape *skeleton) int32 {
	at, ok := s.byShape.find(shape)
	if ok {
		return s.byShape.piece[at]
	}
	joined := &s.m.paired.joins
	s.m.join(shape, joined)
	s.m.lookJoined(shape, joined, &s.around)
	mass := s.m.massOf(shape)
	id := s.same(s.around.whole, mass)
	if id == 0 {
		id = int32(len(s.list))
		p := piece{skeleton: *shape, whole: s.around.whole, mass: mass, odd: s.m.oddElectron(shape), energies: s.m.energiesJoined(shape)}
		p.facts = s.m.factsOf(shape, &s.around, p.energies.site)
		first := len(s.kinds)
		s.kinds = atomKinds(s.kinds, shape, &s.around)
		p.kinds = [2]int32{int32(first), int32(len(s.kinds))}
		s.list = append(s.list, p)
		s.ions = append(s.ions, -1)
		s.note(id)
	}
	s.byShape.add(at, shape, id)
	return id
}

// same returns the piece that is the same, or 0.
func (s *pieces) same(whole uint64, mass int) int32 {
	mask := len(s.byWhole) - 1
	for at := int(whole) & mask; ; at = (at + 1) & mask {
		id := s.byWhole[at]
		if p := &s.list[id]; id == 0 || p.whole == whole && p.mass == mass {
			return id
		}
	}
}

// note makes the piece known to same.
func (s *pieces) note(id int32) {
	if 2*len(s.list) > len(s.byWhole) {
		s.byWhole = make([]int32, 2*len(s.byWhole))
		for id := range s.list[hydrogenMolecule+1:] {
			s.note(int32(id) + hydrogenMolecule + 1)
		}
		return
	}
	mask := len(s.byWhole) - 1
	at := int(s.list[id].whole) & mask
	for s.byWhole[at] != 0 {
		at = (at + 1) & mask
	}
	s.byWhole[at] = id
}

// lost returns the piece that the step leaves behind.
func (s *pieces) lost(p *proposal) int32 {
	switch p.gone {
	case 1:
		return hydrogenAtom
	case 2:
		return hydrogenMolecule
	}
	return s.piece(&p.neutral)
}

// row is the sum of the corrections of what the piece is made of, in the part
// that it plays; the pointer is good until the next call.
func (s *pieces) row(id int32, as part) *Row {
	place := &s.list[id].rows[as]
	if *place == 0 {
		*place = int32(len(s.rows))
		s.rows = append(s.rows, Row{})
		row := &s.rows[*place]
		s.found = s.fitted.find(s.found, s.codesOf(id, as))
		s.fitted.sum(row, s.found, PieceScale)
		var terms [NumProperties]Term
		n := 0
		for k, v := range s.m.properties(&s.list[id]) {
			if v != 0 {
				terms[n] = Term{v, &s.fitted.Dense[DenseOf(int(as))+k]}
				n++
			}
		}
		row.Add(terms[:n]...)
	}
	return &s.rows[*place]
}

// shapes is a table of skeletons by open addressing: a map takes several times
// as long for keys of this size, most of whose bytes are zero.
type shapes struct {
	place []int32 // of what hashes there in the lists below, plus one; 0 is free
	shape []skeleton
	piece []int32
}

func (t *shapes) clear() {
	if t.place == nil {
		t.place = make([]int32, 4096)
	}
	clear(t.place)
	t.shape, t.piece = t.shape[:0], t.piece[:0]
}

// find returns where the skeleton is in the lists or, when it isn't there,
// where to note that it is.
func (t *shapes) find(s *skeleton) (at int, ok bool) {
	mask := len(t.place) - 1
	for at = int(s.hash()) & mask; t.place[at] != 0; at = (at + 1) & mask {
		if k := int(t.place[at]) - 1; t.shape[k] == *s {
			return k, true
		}
	}
	return at, false
}

// add notes the skeleton at the place that find returned.
func (t *shapes) add(at int, s *skeleton, piece int32) {
	t.shape, t.piece = append(t.shape, *s), append(t.piece, piece)
	t.place[at] = int32(len(t.shape))
	if 2*len(t.shape) <= len(t.place) {
		return
	}
	t.place = make([]int32, 2*len(t.place))
	for k := range t.shape {
		at, _ := t.find(&t.shape[k])
		t.place[at] = int32(k) + 1
	}
}

// hash spreads skeletons over all bits.
func (s *skeleton) hash() uint64 {
	const odd = 0x9e3779b97f4a7c15
	h := (uint64(s.atoms)*odd ^ s.bonds[0]) * odd
	h = (h ^ h>>29 ^ s.bonds[1]) * odd
	for i := 0; s.atoms>>(8*i) != 0; i++ {
		h = (h ^ h>>31 ^ binary.LittleEndian.Uint64(s.hydrogens[8*i:])) * odd
	}
	return h >> 20
}
