package fit

// codeTable counts in how many structures each code occurs. Codes are hashes
// already, so that their low bits serve as the place; Go's own map takes
// several times as long for the hundreds of millions of look-ups here.
type codeTable struct {
	codes  []uint32
	counts []int32 // structures; 0 marks a free place
	last   []int32 // structure that was counted last
	row    []int32
	used   int
}

func newCodeTable() *codeTable {
	t := &codeTable{}
	t.alloc(1 << 20)
	return t
}

func (t *codeTable) alloc(n int) {
	t.codes, t.counts, t.last, t.row = make([]uint32, n), make([]int32, n), make([]int32, n), make([]int32, n)
}

// place is where the code is or would be.
func (t *codeTable) place(code uint32) int {
	mask := len(t.codes) - 1
	at := int(code) & mask
	for t.counts[at] != 0 && t.codes[at] != code {
		at = (at + 1) & mask
	}
	return at
}

// count notes that the structure (1 and up) has the code.
func (t *codeTable) count(code uint32, structure int32) {
	at := t.place(code)
	if t.counts[at] == 0 {
		if 2*t.used > len(t.codes) {
			t.grow()
			at = t.place(code)
		}
		t.codes[at] = code
		t.used++
	}
	if t.last[at] != structure {
		t.last[at] = structure
		t.counts[at]++
	}
}

func (t *codeTable) grow() {
	old := *t
	t.alloc(2 * len(old.codes))
	for i, n := range old.counts {
		if n != 0 {
			at := t.place(old.codes[i])
			t.codes[at], t.counts[at], t.last[at], t.row[at] = old.codes[i], n, old.last[i], old.row[i]
		}
	}
}

// vocabulary numbers the codes that occur in at least least structures, in the
// order of the data, so that runs agree; seen is in how many.
func vocabulary(samples []*Sample, least int) (index map[uint32]int32, seen []int32) {
	table := newCodeTable()
	structures := map[string]int32{}
	for _, s := range samples {
		structure, ok := structures[s.SMILES]
		if !ok {
			structure = int32(len(structures) + 1)
			structures[s.SMILES] = structure
		}
		for codes := range s.Network.Codes() {
			for _, code := range codes {
				table.count(code, structure)
			}
		}
	}
	index = map[uint32]int32{}
	for _, s := range samples {
		for codes := range s.Network.Codes() {
			for _, code := range codes {
				at := table.place(code)
				if table.row[at] == 0 && table.counts[at] >= int32(least) {
					index[code] = int32(len(index))
					table.row[at] = 1
					seen = append(seen, table.counts[at])
				}
			}
		}
	}
	return index, seen
}
