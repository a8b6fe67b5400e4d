package ionize

import (
	"context"
	"testing"

	"ionwright/mol/smiles"
)

func BenchmarkPredict(b *testing.B) {
	m, err := smiles.Parse("CCCCC(CC)COC(C)=O")
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := Predict(context.Background(), m, Settings{}); err != nil {
			b.Fatal(err)
		}
	}
}
