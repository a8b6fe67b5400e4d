package ionize

import "encoding/binary"

// piece is a part of the molecule, whichever role it plays: the ion that
// breaks, the ion that comes out, the neutral that leaves.
type piece struct {
	skeleton skeleton
	mass     int  // nominal, Da
	odd      bool // odd-electron when it is a singly charged ion
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
	byWhole map[uint64]int32 // by identity
	kinds   []atomKind       // of all pieces, one piece after the other
	rows    []Row            // the first is no piece's
	around  surroundings
	codes   []uint32
	near    [1 << rowBits]rowPlace // rows asked for lately: few codes make up most of a molecule's
	found   []int32
}

// rowBits is the size of pieces.near.
const rowBits = 13

// The pieces every molecule has: a hydrogen atom, and a hydrogen molecule.
const (
	hydrogenAtom int32 = iota
	hydrogenMolecule
)

// start forgets the molecule before.
func (s *pieces) start(m *molecule, fitted *Corrections) {
	if s.fitted != fitted {
		clear(s.near[:])
	}
	s.m, s.fitted = m, fitted
	s.list = append(s.list[:0],
		piece{energies: energies{radical: true}, facts: facts{whole: 1, formula: 1, hetero: 19}},
		piece{energies: energies{binding: sigma[iH][iH]}, facts: facts{whole: 2, formula: 2, hetero: 19}})
	s.ions = append(s.ions[:0], -1, -1)
	s.kinds = s.kinds[:0]
	s.rows = append(s.rows[:0], Row{})
	s.byShape.clear()
	clear(s.byWhole)
}

// identity tells pieces apart: equal for two skeletons that are the same piece
// made of different atoms of the molecule, such as the ethyl cations of
// triethylamine. Whole is that of their surroundings.
func identity(whole uint64, mass int) uint64 { return whole + uint64(mass)<<32 }

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
	same := identity(s.around.whole, mass)
	id, known := s.byWhole[same]
	if !known {
		id = int32(len(s.list))
		p := piece{skeleton: *shape, mass: mass, odd: s.m.oddElectron(shape), energies: s.m.energiesJoined(shape)}
		p.facts = s.m.factsOf(shape, &s.around, p.energies.site)
		first := len(s.kinds)
		s.kinds = atomKinds(s.kinds, shape, &s.around)
		p.kinds = [2]int32{int32(first), int32(len(s.kinds))}
		s.list = append(s.list, p)
		s.ions = append(s.ions, -1)
		s.byWhole[same] = id
	}
	s.byShape.add(at, shape, id)
	return id
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
		row, _ := s.sum(s.codesOf(id, as))
		for h := range row {
			row[h] *= PieceScale
		}
		for k, v := range s.m.properties(&s.list[id]) {
			if v != 0 {
				row.plusTimes(v, &s.fitted.Dense[DenseOf(int(as))+k])
			}
		}
		*place = int32(len(s.rows))
		s.rows = append(s.rows, row)
	}
	return &s.rows[*place]
}

// sum adds up the rows of the codes; found is how many have one. At most
// mostSummed rows are added.
func (s *pieces) sum(codes []uint32) (x Row, found int) {
	// All places first, so that the waits for far memory overlap.
	s.found = s.found[:0]
	for _, code := range codes {
		near := &s.near[code>>(32-rowBits)]
		if near.code != code {
			*near = rowPlace{code, s.fitted.find(code)}
		}
		if near.row >= 0 && len(s.found) < mostSummed {
			s.found = append(s.found, near.row)
		}
	}
	t := s.fitted.total(s.found)
	return s.fitted.row(&t), t.n
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
