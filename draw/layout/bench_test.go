package layout_test

import (
	"slices"
	"testing"

	"ionwright/draw/layout"
	"ionwright/internal/witness"
	"ionwright/mol"
)

// BenchmarkShared lays out the shared structures in turn; their rings are
// known beforehand.
func BenchmarkShared(b *testing.B) {
	var texts []string
	for _, r := range witness.Records(b, "train") {
		texts = append(texts, r.SMILES)
	}
	slices.Sort(texts)
	var all []*mol.Mol
	for _, s := range slices.Compact(texts) {
		m := parse(b, s)
		m.Rings()
		all = append(all, m)
	}
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		layout.Coordinates(all[i*7%len(all)])
	}
}
