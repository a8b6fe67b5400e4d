package smarts_test

import (
	"testing"

	"ionwright/mol/smarts"
	"ionwright/mol/smiles"
)

// meanings give, for a pattern and a molecule, the number of distinct sets of
// atoms on which the pattern lies. The counts follow from the definitions in
// Daylight's SMARTS theory manual, read off the structures by hand; the
// witness test runs the table through RDKit too.
var meanings = []struct {
	pattern, smiles string
	count           int
}{
	// Symbols and atomic numbers.
	{`C`, "CCO", 2},
	{`C`, "c1ccccc1", 0},
	{`c`, "c1ccccc1", 6},
	{`[#6]`, "Cc1ccccc1", 7},
	{`*`, "CCO", 3},
	{`A`, "Cc1ccccc1", 1},
	{`a`, "Cc1ccccc1", 6},
	{`Cl`, "ClCCl", 2},
	{`[Sc]`, "[Sc]", 1},
	{`[Cl,Br]`, "ClCBr", 2},
	{`[se]`, "c1cc[se]c1", 1},
	{`[Se]`, "C[Se]C", 1},
	// Hydrogen, the atom and the count.
	{`[H]`, "CCO", 0},
	{`[H]`, "[2H]OC", 1},
	{`[2H]`, "[2H]OC", 1},
	{`[3H]`, "[2H]OC", 0},
	{`[H+]`, "[H+]", 1},
	{`[#1]`, "[2H]OC", 1},
	{`[H2]`, "CCO", 1},
	{`[CH3]`, "CCO", 1},
	{`[OH]`, "CCO", 1},
	{`[OH]`, "[2H]OC", 1},
	{`[Oh]`, "[2H]OC", 0},
	{`[h]`, "CC(=O)O", 2},
	{`[h0]`, "CC(=O)O", 2},
	{`[CH]`, "CC(C)C", 1},
	{`[*H]`, "CC(C)C", 1},
	{`[!H]`, "CC(C)C", 3},
	{`[!H0]`, "CC(=O)O", 2},
	// Neighbors and valence.
	{`[D1]`, "CC(C)C", 3},
	{`[D]`, "CC(C)C", 3},
	{`[D3]`, "CC(C)C", 1},
	{`[D0]`, "C", 1},
	{`[D2]`, "[2H]OC", 1},
	{`[X4]`, "CC(C)=O", 2},
	{`[X3]`, "CC(C)=O", 1},
	{`[X1]`, "CC(C)=O", 1},
	{`[X2]`, "CC#N", 1},
	{`[v4]`, "CC(C)=O", 3},
	{`[v2]`, "CC(C)=O", 1},
	{`[v3]`, "c1ccncc1", 1},
	{`[v3]`, "c1cc[nH]c1", 1},
	{`[v4]`, "c1ccc2ccccc2c1", 10},
	{`[v2]`, "c1ccoc1", 1},
	{`[v6]`, "CS(C)(=O)=O", 1},
	{`[v4;#7]`, "C[N+](C)(C)C", 1},
	// Rings.
	{`[R]`, "C1CC1C", 3},
	{`[R0]`, "C1CC1C", 1},
	{`[!R]`, "C1CC1C", 1},
	{`[R1]`, "c1ccc2ccccc2c1", 8},
	{`[R2]`, "c1ccc2ccccc2c1", 2},
	{`[r]`, "C1CC1C", 3},
	{`[r0]`, "C1CC1C", 1},
	{`[r3]`, "C1CC1C", 3},
	{`[r4]`, "C1CC1C", 0},
	{`[r5]`, "C1CCC2CCCC2C1", 5},
	{`[r6]`, "C1CCC2CCCC2C1", 4},
	{`[x2]`, "C1CCC2CCCC2C1", 7},
	{`[x3]`, "C1CCC2CCCC2C1", 2},
	{`[x]`, "C1CC1C", 3},
	{`[x0]`, "C1CC1C", 1},
	// Charge, isotope, author's number.
	{`[+]`, "[NH4+].[Cl-]", 1},
	{`[-]`, "[NH4+].[Cl-]", 1},
	{`[+0]`, "[NH4+].[Cl-].C", 1},
	{`[++]`, "[Ca+2].[Cl-].[Cl-]", 1},
	{`[+2]`, "[Ca+2].[Cl-].[Cl-]", 1},
	{`[--]`, "[O-2].[Ca+2]", 1},
	{`[O-]`, "CC(=O)[O-]", 1},
	{`[13C]`, "[13CH3]C", 1},
	{`[13]`, "[13CH3]C", 1},
	{`[0C]`, "[13CH3]C", 1},
	{`[C:3]O`, "CCO", 1},
	// Bonds.
	{`CC`, "CCO", 1},
	{`CC`, "C=C", 0},
	{`cc`, "c1ccccc1", 6},
	{`cc`, "c1ccccc1-c1ccccc1", 13},
	{`c-c`, "c1ccccc1-c1ccccc1", 1},
	{`c:c`, "c1ccccc1-c1ccccc1", 12},
	{`C=C`, "C=CC", 1},
	{`C=C`, "c1ccccc1", 0},
	{`C#N`, "CC#N", 1},
	{`C~*`, "CC#N", 2},
	{`*@*`, "C1CC1C", 3},
	{`*!@*`, "C1CC1C", 1},
	{`C=,#*`, "C=CC#N", 2},
	{`C-;@C`, "C1CC1C", 3},
	{`C!-C`, "C=CC#C", 2},
	{`C-!@C`, "C1CC1C", 1},
	{`C!!-C`, "CC", 1},
	{`*-,=;@*`, "C1CC1=C", 3},
	{`[Re]$[Re]`, "[Re]$[Re]", 1},
	// Shapes.
	{`CCC`, "CCCC", 2},
	{`CCC`, "CC(C)C", 3},
	{`C(C)(C)C`, "CC(C)(C)C", 4},
	{`C1CC1`, "C1CC1", 1},
	{`C1CC1`, "C1CCC1", 0},
	{`CCC`, "C1CC1", 1},
	{`C1CCCCC1`, "C1CCCCC1", 1},
	{`C%12CC%12`, "C1CC1", 1},
	{`C%(123)CC%(123)`, "C1CC1", 1},
	{`C=1CC1`, "C1=CC1", 1},
	{`C1CC=1`, "C1=CC1", 1},
	{`C=1CC=1`, "C1=CC1", 1},
	{`c1ccccc1`, "c1ccc2ccccc2c1", 2},
	{`C.O`, "CCO", 2},
	{`C.C.C`, "CC", 0},
	{`O.O`, "OCCO", 1},
	{`N.Cl`, "CN.Cl", 1},
	// Environments.
	{`[$(C=O)]`, "CC(C)=O", 1},
	{`[!$(C=O)]`, "CC(C)=O", 3},
	{`[C;!$(C=O)]`, "CC(C)=O", 2},
	{`[$(*C)]`, "CCO", 3},
	{`[$(CO),$(CN)]`, "NCCO", 2},
	{`[$(C[$(CO)])]`, "CCCO", 1},
	{`[$(c1ccccc1)]`, "Cc1ccccc1", 6},
	{`[$(C)]C`, "CC", 1},
	{`C[$(C=O)]C`, "CC(C)=O", 1},
	{`[$([CH3]C)][$(C(C)=O)]`, "CC(C)=O", 2},
	{`[$(O.N)]`, "OCCN", 1},
	// Logic binds ! before & before , before ;.
	{`[C,N;R]`, "C1CC1N", 3},
	{`[N,C&R]`, "C1CC1N", 4},
	{`[!C&!N]`, "CCNO", 1},
	{`[!C;!N]`, "CCNO", 1},
	{`[!C!N]`, "CCNO", 1},
	{`[C&N]`, "CN", 0},
	{`[C&H3,N&H2]`, "CCN", 2},
	{`[CH3,NH2]`, "CCN", 2},
	{`[C,N;H3]`, "CCN", 1},
	{`[!!C]`, "CCN", 2},
	{`[!*]`, "CCN", 0},
	{`[*,N]`, "CCN", 3},
}

func TestMeanings(t *testing.T) {
	for _, c := range meanings {
		p, err := smarts.Compile(c.pattern)
		if err != nil {
			t.Error(err)
			continue
		}
		m, err := smiles.Parse(c.smiles)
		if err != nil {
			t.Error(err)
			continue
		}
		if got := p.Count(m); got != c.count {
			t.Errorf("%s in %s: found %d times, expected %d", c.pattern, c.smiles, got, c.count)
		}
		if got := p.Match(m); got != (c.count > 0) {
			t.Errorf("%s in %s: Match says %v", c.pattern, c.smiles, got)
		}
		if got := len(p.Find(m)); got != c.count {
			t.Errorf("%s in %s: Find finds %d, expected %d", c.pattern, c.smiles, got, c.count)
		}
	}
}
