package mol_test

import (
	"testing"

	"ionwright/mol"
	"ionwright/mol/smiles"
)

// BenchmarkEdit cuts one bond of ibuprofen.
func BenchmarkEdit(b *testing.B) {
	m, err := smiles.Parse("CC(C)Cc1ccc(cc1)C(C)C(=O)O")
	if err != nil {
		b.Fatal(err)
	}
	if m, err = m.Kekulize(); err != nil {
		b.Fatal(err)
	}
	cut, _ := m.BondBetween(3, 4)
	b.ReportAllocs()
	for b.Loop() {
		e := m.Edit()
		e.RemoveBond(cut)
		if _, err := e.Mol(); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkCanonical makes the canonical SMILES of a molecule of each kind.
func BenchmarkCanonical(b *testing.B) {
	for _, text := range []string{
		"CCCCCCO", "CC(C)Cc1ccc(cc1)C(C)C(=O)O", "CN1C=NC2=C1C(=O)N(C(=O)N2C)C", "c1ccc(cc1)-c1ccccc1", "C1C2CC3CC1CC(C2)C3",
		"O[C@H]1[C@H](O)[C@@H](O)[C@H](O)[C@H](O)[C@H]1O",
	} {
		b.Run(text, func(b *testing.B) {
			m, err := smiles.Parse(text)
			if err != nil {
				b.Fatal(err)
			}
			b.ReportAllocs()
			for b.Loop() {
				smiles.Canonical(m)
			}
		})
	}
}

// BenchmarkAromatize perceives indole and pyrene from their Kekule forms.
func BenchmarkAromatize(b *testing.B) {
	for _, text := range []string{"c1ccc2[nH]ccc2c1", "c1cc2ccc3cccc4ccc(c1)c2c34"} {
		b.Run(text, func(b *testing.B) {
			m, err := smiles.Parse(text)
			if err != nil {
				b.Fatal(err)
			}
			kekule, err := m.Kekulize()
			if err != nil {
				b.Fatal(err)
			}
			var last *mol.Mol
			b.ReportAllocs()
			for b.Loop() {
				last = kekule.Aromatize()
			}
			if last.NumAtoms() != m.NumAtoms() {
				b.Fatal("another molecule")
			}
		})
	}
}
