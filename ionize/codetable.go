package ionize

import "fmt"

// codeTable finds the row of a code: codes are hashes, so that the first bits
// of one say about where in the ascending list it is.
type codeTable struct {
	codes []uint32 // ascending, then the last one eight times more, as eight are compared at once
	first []uint32 // by the first bits: where in codes they begin; one more for the end
	shift uint     // how many bits of a code aren't among the first
}

// newCodeTable returns the table of the codes, which must ascend.
func newCodeTable(codes []uint32) (t codeTable, err error) {
	for i := 1; i < len(codes); i++ {
		if codes[i] <= codes[i-1] {
			return t, fmt.Errorf("code %d follows %d: they must ascend", codes[i], codes[i-1])
		}
	}
	t.shift = 32
	for len(codes)>>(32-t.shift) > 4 { // on the average, where few are more than eight
		t.shift--
	}
	t.first = make([]uint32, 1<<(32-t.shift)+1)
	for _, code := range codes {
		t.first[code>>t.shift+1]++
	}
	for k := range t.first[1:] {
		t.first[k+1] += t.first[k]
	}
	t.codes = append(t.codes, codes...)
	for i := 0; i < 8 && len(codes) > 0; i++ {
		t.codes = append(t.codes, codes[len(codes)-1])
	}
	return t, nil
}

// find returns the place of the code in the list, or -1.
func (t *codeTable) find(code uint32) int32 {
	k := code >> t.shift
	for at := t.first[k]; at < t.first[k+1]; at++ {
		if t.codes[at] == code {
			return int32(at)
		}
	}
	return -1
}
