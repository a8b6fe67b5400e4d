package names

import (
	_ "embed"
	"strings"
	"sync"
)

//go:embed data/compounds.tsv
var compoundRows string

// Row is one compound of the table.
type Row struct {
	Names   []string // the first is the usual one
	SMILES  string   // without stereo
	Formula string   // Hill order, written independently of the SMILES
	Source  string   // where names and structure come from
}

// table holds the compounds by name.
type table struct {
	rows   []Row
	byName map[string]*Row // by the name in reading form
}

// compounds reads the table once.
var compounds = sync.OnceValue(func() *table {
	t := &table{byName: map[string]*Row{}}
	for cells := range rowsOf(compoundRows) {
		t.rows = append(t.rows, Row{
			Names: strings.Split(cells[0], "|"), SMILES: cells[1], Formula: cells[2], Source: cells[3],
		})
	}
	for i := range t.rows {
		for _, name := range t.rows[i].Names {
			if key, ok := newText(name); ok {
				t.byName[key.s] = &t.rows[i]
			}
		}
	}
	return t
})

// find returns the row of a name in reading form.
func (t *table) find(name string) (*Row, bool) {
	row, ok := t.byName[name]
	return row, ok
}

// Table returns the compounds of the table in the order of its file. The slice
// is a copy, its strings are shared.
func Table() []Row {
	return append([]Row(nil), compounds().rows...)
}
