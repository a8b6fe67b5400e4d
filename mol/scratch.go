package mol

import "sync"

// scratch is working memory that one computation borrows at a time. Slices
// come from an arena that is reset when the scratch is taken, so a
// computation that has run before allocates nothing.
type scratch struct {
	arena     []int32
	used      int
	want      int // what the last computation would have liked
	arena64   []uint64
	used64    int
	cycleList []cycle  // buffers of cycleSpace
	cycleSets []uint64 //
	cycleRing []int32  //
	partition partition
}

// pool holds idle scratches; it carries no state from one computation to the
// next.
var pool = sync.Pool{New: func() any { return &scratch{arena: make([]int32, 4096), arena64: make([]uint64, 256)} }}

func acquire() *scratch {
	s := pool.Get().(*scratch)
	s.used, s.want, s.used64 = 0, 0, 0
	return s
}

// release gives the scratch back. What came from it must not be used again.
func (s *scratch) release() {
	if s.want > len(s.arena) && s.want <= maxArena {
		s.arena = make([]int32, s.want+s.want/2)
	}
	pool.Put(s)
}

// maxArena bounds what an idle scratch keeps (4 MB).
const maxArena = 1 << 20

// ints returns n integers of any value.
func (s *scratch) ints(n int) []int32 {
	s.want += n
	if s.used+n > len(s.arena) {
		return make([]int32, n)
	}
	piece := s.arena[s.used : s.used+n : s.used+n]
	s.used += n
	return piece
}

// zeros returns n zeros.
func (s *scratch) zeros(n int) []int32 {
	piece := s.ints(n)
	clear(piece)
	return piece
}

// filled returns n times value.
func (s *scratch) filled(n int, value int32) []int32 {
	piece := s.ints(n)
	for i := range piece {
		piece[i] = value
	}
	return piece
}

// words returns n words of any value.
func (s *scratch) words(n int) []uint64 {
	if s.used64+n > len(s.arena64) {
		return make([]uint64, n)
	}
	piece := s.arena64[s.used64 : s.used64+n : s.used64+n]
	s.used64 += n
	return piece
}

// zeroWords returns n zero words.
func (s *scratch) zeroWords(n int) []uint64 {
	piece := s.words(n)
	clear(piece)
	return piece
}
