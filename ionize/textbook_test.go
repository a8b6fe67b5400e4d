package ionize

import (
	"context"
	"slices"
	"testing"

	"ionwright/chem"
	"ionwright/internal/textbook"
	"ionwright/mol/smiles"
)

func predict(t *testing.T, s string) *Prediction {
	t.Helper()
	m, err := smiles.Parse(s)
	if err != nil {
		t.Fatal(err)
	}
	p, err := Predict(context.Background(), m, Settings{})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// TestTextbookFragmentations asks that the engine's dominant route to the most
// abundant ion at the m/z is the accepted one: the right composition, and a
// last step of an accepted kind.
func TestTextbookFragmentations(t *testing.T) {
	for _, row := range textbook.Rows() {
		p := predict(t, row.SMILES)
		said, right := "no ion", false
		if ions := p.At(row.MZ); len(ions) > 0 {
			said = p.Sentence(ions[0])
			route := p.Route(ions[0].ID)
			right = ions[0].Formula == chem.MustFormula(row.Ion) && slices.Contains(row.Kinds, route[len(route)-1].Kind.String())
		}
		if !right {
			t.Errorf("%s, m/z %d: want %s by %v (%s), got\n\t%s", row.Compound, row.MZ, row.Ion, row.Kinds, row.Source, said)
		}
	}
}
