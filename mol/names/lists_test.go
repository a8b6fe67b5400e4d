package names

import "testing"

// TestLists reads every row of the lists under data/ and reports all faults,
// not only the first one.
func TestLists(t *testing.T) {
	for _, list := range []struct {
		name string
		rows string
		read func([]string) ([]*entry, error)
	}{
		{"rings", ringRows, readRing}, {"parents", parentRows, readParent}, {"acids", acidRows, readAcid},
		{"oxoacids", oxoacidRows, readOxoacid}, {"radicals", radicalRows, readRadical},
	} {
		for cells := range rowsOf(list.rows) {
			if _, err := list.read(cells); err != nil {
				t.Errorf("%s.tsv, row %q: %v", list.name, cells[0], err)
			}
		}
	}
}
