package groups_test

import (
	"slices"
	"strings"
	"testing"

	"ionwright/mol"
	"ionwright/mol/groups"
	"ionwright/mol/smarts"
	"ionwright/mol/smiles"
)

func parse(t testing.TB, text string) *mol.Mol {
	t.Helper()
	m, err := smiles.Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// Each row of the table is whole, its pattern compiles, and its own examples
// agree with it.
func TestRows(t *testing.T) {
	names := map[string]bool{}
	for _, g := range groups.All() {
		if names[g.Name] {
			t.Errorf("%s stands twice in the table", g.Name)
		}
		names[g.Name] = true
		if g.Means == "" || strings.ContainsAny(g.Means, "\n") || g.Name != strings.TrimSpace(g.Name) || g.Name == "" {
			t.Errorf("%q: the row isn't whole", g.Name)
		}
		p, err := smarts.Compile(g.SMARTS)
		if err != nil {
			t.Errorf("%s: %v", g.Name, err)
			continue
		}
		if !p.Match(parse(t, g.Has.SMILES)) {
			t.Errorf("%s: not found in its example %s, %s", g.Name, g.Has.Name, g.Has.SMILES)
		}
		if p.Match(parse(t, g.Lacks.SMILES)) {
			t.Errorf("%s: found in its counterexample %s, %s", g.Name, g.Lacks.Name, g.Lacks.SMILES)
		}
		if again, ok := groups.ByName(g.Name); !ok || again != g {
			t.Errorf("%s: ByName gives %v", g.Name, again)
		}
		if compiled, ok := groups.Pattern(g.Name); !ok || compiled.String() != g.SMARTS {
			t.Errorf("%s: Pattern gives %v", g.Name, compiled)
		}
	}
	if _, ok := groups.ByName("no such group"); ok {
		t.Error("ByName finds what isn't there")
	}
	if _, ok := groups.Pattern("no such group"); ok {
		t.Error("Pattern finds what isn't there")
	}
}

// The groups by which readings are scored: names and patterns as the scoring
// rules write them.
func TestCalled(t *testing.T) {
	want := [][2]string{
		{"alcohol", `[CX4][OX2H]`},
		{"phenol", `c[OX2H]`},
		{"ether", `[OD2]([#6;!$(C=O)])[#6;!$(C=O)]`},
		{"aldehyde", `[CX3H1](=O)[#6,#1]`},
		{"ketone", `[#6][CX3](=O)[#6]`},
		{"carboxylic acid", `[CX3](=O)[OX2H1]`},
		{"ester", `[CX3](=O)[OX2H0][#6]`},
		{"amide", `[NX3][CX3](=[OX1])[#6]`},
		{"primary amine", `[NX3;H2;!$(NC=O);!$(N[#7,#8,#16])][CX4]`},
		{"aliphatic amine", `[NX3;!$(NC=[O,S,N]);!$(N[#7,#8,#16,#15])]([CX4])`},
		{"aromatic amine", `[NX3;H2,H1,H0;!$(NC=O)]c`},
		{"nitrile", `[CX2]#N`},
		{"nitro", `[N+](=O)[O-]`},
		{"phenyl", `c1ccccc1`},
		{"benzyl", `[CH2]c1ccccc1`},
		{"benzoyl", `O=Cc1ccccc1`},
		{"methyl ketone", `[CH3]C(=O)[#6]`},
		{"acetyl", `[CH3]C(=O)`},
		{"sulfide or thiol", `[SX2]`},
		{"chlorine", `Cl`},
		{"bromine", `Br`},
		{"alkylsilyl", `[Si](C)(C)C`},
	}
	var got [][2]string
	for _, g := range groups.Called() {
		got = append(got, [2]string{g.Name, g.SMARTS})
	}
	if !slices.Equal(got, want) {
		t.Errorf("got %v, expected %v", got, want)
	}
}

// All groups of well-known compounds, read off their structures by hand.
var compounds = []struct{ name, smiles, groups string }{
	{"hexane", "CCCCCC", "straight chain"},
	{"acetone", "CC(C)=O", "carbonyl, ketone, methyl ketone, acetyl"},
	{"aspirin", "CC(=O)Oc1ccccc1C(=O)O", "phenyl, carbonyl, acetyl, benzoyl, carboxylic acid, ester, acetate"},
	{"vanillin", "COc1cc(C=O)ccc1O", "phenyl, phenol, ether, aryl ether, methoxy, carbonyl, aldehyde, benzoyl"},
	{"paracetamol", "CC(=O)Nc1ccc(O)cc1", "phenyl, phenol, carbonyl, acetyl, amide"},
	{"limonene", "CC1=CCC(CC1)C(C)=C", "alkene"},
	{"menthol", "CC(C)C1CCC(C)CC1O", "isopropyl, cyclohexane ring, alcohol, secondary alcohol"},
	{"citral", "CC(C)=CCCC(C)=CC=O", "alkene, carbonyl, aldehyde"},
	{"nicotine", "CN1CCCC1c1cccnc1", "tertiary amine, aliphatic amine, pyrrolidine ring, pyridine ring"},
	{"dopamine", "NCCc1ccc(O)c(O)c1", "phenyl, benzyl, phenol, primary amine, aliphatic amine"},
	{"ethyl butanoate", "CCCC(=O)OCC", "carbonyl, ester"},
	{"tetrahydrofuran", "C1CCOC1", "ether"},
	{"glucose", "OCC1OC(O)C(O)C(O)C1O", "alcohol, primary alcohol, secondary alcohol, 1,2-diol, ether, hemiacetal"},
	{"lidocaine", "CCN(CC)CC(=O)Nc1c(C)cccc1C", "phenyl, carbonyl, amide, tertiary amine, aliphatic amine"},
	{"DDT", "Clc1ccc(cc1)C(c1ccc(Cl)cc1)C(Cl)(Cl)Cl", "phenyl, chlorine, alkyl halide, aryl halide"},
	{"trinitrotoluene", "Cc1c(cc(cc1[N+](=O)[O-])[N+](=O)[O-])[N+](=O)[O-]", "phenyl, nitro"},
	{"glyceryl trinitrate", "O=[N+]([O-])OCC(CO[N+](=O)[O-])O[N+](=O)[O-]", "nitrate ester"},
	{"trimethylsilyl benzoate", "C[Si](C)(C)OC(=O)c1ccccc1", "phenyl, carbonyl, benzoyl, alkylsilyl, trimethylsilyl, silyl ether"},
	{"cysteine", "NC(CS)C(=O)O", "carbonyl, carboxylic acid, primary amine, aliphatic amine, sulfide or thiol, thiol"},
	{"tributyl phosphate", "CCCCOP(=O)(OCCCC)OCCCC", "phosphate"},
}

func TestCompounds(t *testing.T) {
	for _, c := range compounds {
		var names []string
		for _, f := range groups.Find(parse(t, c.smiles)) {
			names = append(names, f.Group.Name)
			if len(f.Atoms) == 0 {
				t.Errorf("%s: %s without a place", c.name, f.Group.Name)
			}
		}
		if got := strings.Join(names, ", "); got != c.groups {
			t.Errorf("%s, %s:\ngot      %s\nexpected %s", c.name, c.smiles, got, c.groups)
		}
	}
}

// What Find doesn't call by a name fits the name's pattern.
func TestNarrowings(t *testing.T) {
	for _, c := range []struct{ name, smiles string }{
		{"aromatic amine", "O=[N+]([O-])c1ccccc1"},
		{"ester", "CC(=O)OC(C)=O"},
		{"nitro", "CCO[N+](=O)[O-]"},
	} {
		m := parse(t, c.smiles)
		if p, _ := groups.Pattern(c.name); !p.Match(m) {
			t.Errorf("%s: the pattern doesn't fit %s", c.name, c.smiles)
		}
		for _, f := range groups.Find(m) {
			if f.Group.Name == c.name {
				t.Errorf("%s: Find finds it in %s", c.name, c.smiles)
			}
		}
	}
}

func TestFindGivesPlaces(t *testing.T) {
	found := groups.Find(parse(t, "OCCO"))
	var alcohol [][]int
	for _, f := range found {
		if f.Group.Name == "alcohol" {
			alcohol = f.Atoms
		}
	}
	// Carbon first, as the pattern has it; read off the structure by hand.
	if want := [][]int{{1, 0}, {2, 3}}; !slices.EqualFunc(alcohol, want, slices.Equal) {
		t.Errorf("got %v, expected %v", alcohol, want)
	}
}
