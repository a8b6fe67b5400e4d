package smiles

import (
	"strings"
	"testing"

	"ionwright/chem"
)

// Formulas are those of the named compounds.
func TestFormula(t *testing.T) {
	for _, c := range []struct{ smiles, formula string }{
		{"", ""},
		{"C", "CH4"},                                  // methane
		{"CCO", "C2H6O"},                              // ethanol
		{"[CH3][CH2][OH]", "C2H6O"},                   // the same, OpenSMILES "What is Normalization?"
		{"c1ccccc1", "C6H6"},                          // benzene
		{"C1=CC=CC=C1", "C6H6"},                       // the same in Kekule form
		{"c:1:c:c:c:c:c1", "C6H6"},                    // the same with bond symbols
		{"c1cc[nH]c1", "C4H5N"},                       // pyrrole
		{"c1ccncc1", "C5H5N"},                         // pyridine
		{"c1cc[n+]([O-])cc1", "C5H5NO"},               // pyridine N-oxide
		{"O=n1ccccc1", "C5H5NO"},                      // the same, five-valent
		{"o1cccc1", "C4H4O"},                          // furan
		{"s1cccc1", "C4H4S"},                          // thiophene
		{"[se]1cccc1", "C4H4Se"},                      // selenophene
		{"c1ccc2ccccc2c1", "C10H8"},                   // naphthalene
		{"c1ccccc1c1ccccc1", "C12H10"},                // biphenyl, without the bond symbol
		{"CN1C=NC2=C1C(=O)N(C(=O)N2C)C", "C8H10N4O2"}, // caffeine
		{"[2H]C([2H])([2H])O", "CH[2H]3O"},            // methanol-d3
		{"[H]O[H]", "H2O"},
		{"[H][H]", "H2"},
		{"[H+]", "H+"},
		{"[NH4+].[Cl-]", "ClH4N"}, // ammonium chloride
		{"[Cu++].[O-]S(=O)(=O)[O-]", "CuO4S"},
		{"C%12CCCCC%12", "C6H12"},
		{"C%(123)CCCCC%(123)", "C6H12"},
		{"C%00CCCCC0", "C6H12"},
		{"C%123CC%12CC3", "C5H8"}, // %12 and 3: OpenSMILES "Rings"
		{"C1.C12.C2", "C3H8"},     // propane, OpenSMILES "Other Uses of Ring Numbers"
		{"c1c2c3c4cc1.Br2.Cl3.Cl4", "C6H3BrCl2"},
		{"C1CC(.[Na+])CC1[O-]", "C5H9NaO"},
		{"OS(=O)(=S)O", "H2O3S2"}, // thiosulfuric acid
		{"CP(C)(C)=O", "C3H9OP"},
		{"FS(F)(F)(F)(F)F", "F6S"},
		{"CN(=O)=O", "CH3NO2"}, // nitromethane
		{"[Rh-](Cl)(Cl)(Cl)(Cl)$[Rh-](Cl)(Cl)(Cl)Cl", "Cl8Rh2-2"},
		{"C(C(C(C(C(C(C(C(C(C(C(C(C(C(C(C(C(C(C(C(C))))))))))))))))))))C", "C22H46"}, // OpenSMILES "Branches"
		{"CCO ethanol", "C2H6O"},
		{"CCO\tethanol\r\n", "C2H6O"},
	} {
		m, err := Parse(c.smiles)
		if err != nil {
			t.Errorf("Parse(%q): %v", c.smiles, err)
			continue
		}
		want, err := chem.ParseFormula(c.formula)
		if c.formula != "" && err != nil {
			t.Fatal(err)
		}
		if got := m.Formula(); got != want {
			t.Errorf("Parse(%q).Formula() = %s, want %s", c.smiles, got, c.formula)
		}
	}
}

// The character is 1-based; what stands there is quoted.
func TestErrors(t *testing.T) {
	for _, c := range []struct {
		smiles    string
		character int
		token     string
		says      string
	}{
		{"C*", 2, "*", "wildcard"},
		{"C[*]", 3, "*", "wildcard"},
		{"CX", 2, "X", "an atom is expected"},
		{"CZnC", 2, "Zn", "write [Zn]"},
		{"Cä", 2, "ä", "an atom is expected"},
		{"HCl", 1, "H", "needs brackets"},
		{"D[CH3]", 1, "D", "needs brackets"}, // OpenSMILES "Nonstandard Forms"
		{"[D]", 2, "D", "mass number"},
		{"CC]", 3, "]", "no bracket is open"},
		{"C[CH3", 2, "[CH3", "never closed"},
		{"[", 1, "[", "never closed"},
		{"[Cx]", 3, "x", "can't stand here"},
		{"[CH3+2:]", 7, ":]", "a number must follow"},
		{"[C-H3]", 4, "H", "can't stand here"},
		{"[HH]", 3, "H", "hydrogen count"}, // OpenSMILES "Hydrogens"
		{"[C+100]", 3, "+100", "out of range"},
		{"[1000C]", 2, "1000", "three digits"},
		{"[0S]", 2, "0", "mass number 0"},
		{"[40H]", 1, "[40H", "no nuclide"},
		{"[C@TH3H](F)(Cl)Br", 3, "@TH3", "no such number"},
		{"[Pt@SP4](F)(Cl)(Br)I", 4, "@SP4", "no such number"},
		{"C1CCC", 2, "1", "never closed"},                      // OpenSMILES "Rings"
		{"C-1CCCCC=1", 9, "=1", "double here"},                 // OpenSMILES "Rings"
		{"C12CCCCC12", 10, "2", "bound already"},               // OpenSMILES "Rings"
		{"C12C2CCC1", 5, "2", "bound already"},                 // OpenSMILES "Rings"
		{"C11", 3, "1", "itself"},                              // OpenSMILES "Rings"
		{"C.1CCCCC.1", 3, "1", "ring number can't stand here"}, // OpenSMILES "Disconnected Structures"
		{"C%1CC", 2, "%1C", "two digits"},
		{"C%(CC", 2, "%(C", "one to five digits"},
		{"C(C)1CC1", 5, "1", "can't follow a branch"},
		{"C((C))O", 3, "(", "a branch can't begin here"}, // OpenSMILES "Nonstandard Forms"
		{"(N1CCCC1)", 1, "(", "a branch can't begin here"},
		{"C()C", 2, "()", "empty"},
		{"C(C", 2, "(", "never closed"},
		{"CC)C", 3, ")", "no branch is open"},
		{"C(C=)C", 5, ")", "an atom is expected"},
		{"[Na+]..[Cl-]", 7, ".", "dot can't stand"}, // OpenSMILES "Nonstandard Forms"
		{".CCO", 1, ".", "dot can't stand"},
		{"CCO.", 4, ".", "an atom is expected"},
		{"CC=", 3, "=", "an atom is expected"},
		{"C==C", 3, "=", "bond symbol can't stand"},
		{"=CC", 1, "=", "bond symbol can't stand"},
		{"C/C=C", 2, "/", "no partner"}, // OpenSMILES "Nonstandard Forms"
		{"C/C=CC", 2, "/", "no partner"},
		{"C/C(\\F)=C/C", 5, "\\", "same side"}, // OpenSMILES "Cis/Trans configuration"
		{"CC(C)(C)(C)C", 2, "C", "carbon has bonds of order 5"},
		{"C[C](C)(C)(C)C", 2, "[C]", "carbon has bonds of order 5"},
		{"ON(C)(C)C", 2, "N", "[N+]"},
		{"FClF", 2, "Cl", "chlorine has bonds of order 2"},
		{"CccccC", 2, "c", "isn't in a ring"}, // OpenSMILES "Nonstandard Forms"
		{"c1ccnc1", 5, "n", "[nH]"},
		{"Ccc", 2, "c", "isn't in a ring"},
	} {
		m, err := Parse(c.smiles)
		if err == nil {
			t.Errorf("Parse(%q) succeeded: %s", c.smiles, Write(m))
			continue
		}
		e, ok := err.(*Error)
		if !ok {
			t.Errorf("Parse(%q): error of type %T", c.smiles, err)
			continue
		}
		if e.Position() != c.character || e.Token != c.token || !strings.Contains(e.Problem+"\n"+e.Hint, c.says) {
			t.Errorf("Parse(%q): character %d, %q, %q; want character %d, %q, ...%s...\n%v", c.smiles, e.Position(), e.Token, e.Problem, c.character, c.token, c.says, err)
		}
		if !strings.HasPrefix(err.Error(), "reading SMILES ") {
			t.Errorf("Parse(%q): %v", c.smiles, err)
		}
	}
}

// Unpaired electrons of open valences, as RDKit 2022.09 counts them too (see
// the witness test).
func TestUnpaired(t *testing.T) {
	for _, c := range []struct {
		smiles   string
		unpaired uint8 // of the first atom
	}{
		{"C", 0}, {"[CH3]", 1}, {"[CH2]", 2}, {"[C]", 4}, {"[CH3+]", 0}, {"[CH3-]", 0}, {"[O]", 2}, {"[OH]", 1}, {"[O-]C", 0},
		{"[NH]", 2}, {"[N]=O", 1}, {"[Na]", 1}, {"[Na+]", 0}, {"[Mg]", 2}, {"[Cl]", 1}, {"[He]", 0}, {"[H]", 1}, {"[SH3]", 1},
		{"[c]1ccccc1", 1}, {"[CH2]c1ccccc1", 1}, {"[nH]1cccc1", 0}, {"[Fe]", 0}, {"[NH4+]", 0}, {"[CH4+]", 1},
	} {
		m, err := Parse(c.smiles)
		if err != nil {
			t.Errorf("%v", err)
		} else if got := m.Atom(0).Radical; got != c.unpaired {
			t.Errorf("%s: %d unpaired electrons, want %d", c.smiles, got, c.unpaired)
		}
	}
}

// What isn't a plain count stays an atom.
func TestHydrogenAtoms(t *testing.T) {
	for _, c := range []struct {
		smiles string
		atoms  int
	}{
		{"[H]C", 1}, {"[H]C([H])([H])[H]", 1}, {"[2H]C", 2}, {"[H][H]", 2}, {"[2H][H]", 2}, {"[H+]", 1}, {"[H-].[Na+]", 2},
		{"[H:1]C", 2}, {"[H]N=CC", 3}, {"[H]/N=C/C", 4}, {"B1[H]B[H]1", 4},
	} {
		m, err := Parse(c.smiles)
		if err != nil {
			t.Errorf("%v", err)
		} else if m.NumAtoms() != c.atoms {
			t.Errorf("%s: %d atoms, want %d", c.smiles, m.NumAtoms(), c.atoms)
		}
	}
}

// The specification's normalizations, right column from wrong.
func TestStandardForm(t *testing.T) {
	for _, c := range []struct{ written, standard string }{
		{"[CH3][CH3]", "CC"}, {"[CH3-1]", "[CH3-]"}, {"C[13CH1](C)C", "C[13CH](C)C"}, {"[H][C-]([H])[H]", "[CH3-]"},
		{"C-C", "CC"}, {"c:1:c:c:c:c:c:1", "c1ccccc1"}, {"c1ccccc1c2ccccc2", "c1ccccc1-c2ccccc2"}, {"C1=CC=CC=C1", "c1ccccc1"},
		{"c1ccccc1C1CCCC1", "C1CCCC1c2ccccc2"}, {"CC=1CCCCC=1", "CC1=CCCCC1"}, {"C%01CCCCC%01", "C1CCCCC1"}, {"C0CCCCC0", "C1CCCCC1"},
		{"c1cc(CO)ccc1", "OCc1ccccc1"}, {"CC(CCCCCC)C", "CCCCCCC(C)C"}, {"CCCO", "OCCC"}, {"C1.C1", "CC"}, {"CCO", "OCC"}, {"c1ccccc1O", "Oc1ccccc1"},
		{"Br[C@H](Br)C", "BrC(C)Br"}, {"FC(F)=CF", "FC(F)=CF"}, {"[Cl-].[Na+]", "[Cl-].[Na+]"}, {"[Na+].[Cl-]", "[Cl-].[Na+]"},
		{"CN(=O)=O", "[O-][N+](C)=O"},
	} {
		m, err := Parse(c.written)
		if err != nil {
			t.Errorf("%v", err)
		} else if got := Canonical(m); got != c.standard {
			t.Errorf("Canonical(%s) = %s, want %s", c.written, got, c.standard)
		}
	}
}

// A text or graph beyond the limits is refused, a large one within them read:
// without deep recursion and without more than linear memory.
func TestLimits(t *testing.T) {
	for _, c := range []struct {
		name, text string
		ok         bool
	}{
		{"1 MB chain", strings.Repeat("C", 1<<20), false},
		{"1 MB of parentheses", strings.Repeat("C(", 1<<19), false},
		{"too many hydrogens", strings.Repeat("C", 40000), false},
		{"too many atoms", strings.Repeat("[U]", 65000) + "[U]", true},
		{"100,000 characters", strings.Repeat("[CH](F)", 15000), true}, // OpenSMILES "Programming Practices"
		{"deep branches", strings.Repeat("C(", 20000) + "C" + strings.Repeat(")", 20000), true},
		{"1,000 rings", strings.Repeat("C1CC1", 1000), true}, // OpenSMILES "Programming Practices"
		{"10,000 parts", strings.Repeat("O.", 10000) + "O", true},
		{"long ring", "C1" + strings.Repeat("C", 20000) + "1", true},
		{"star", "[U]" + strings.Repeat("(F)", 20000) + "F", true},
		{"many arrangements", strings.Repeat("[C@](F)(Cl)", 5000), true},
		{"polyene", "F" + strings.Repeat("/C=C", 10000) + "/F", true},
		{"cumulene", strings.Repeat("C=", 20000) + "C", true},
		{"cages", strings.Repeat("C(C12CC3CC(CC(C3)C1)C2)", 1000), true},
	} {
		m, err := Parse(c.text)
		if (err == nil) != c.ok {
			t.Errorf("%s: error %v", c.name, err)
			continue
		}
		if err != nil {
			if len(err.Error()) > 500 {
				t.Errorf("%s: the error message has %d bytes", c.name, len(err.Error()))
			}
			continue
		}
		again, err := Parse(Canonical(m))
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
		} else if again.Formula() != m.Formula() || again.NumBonds() != m.NumBonds() {
			t.Errorf("%s: read again it is another graph", c.name)
		}
	}
}

// Parts and ring closures don't bind what a dot separates.
func TestParts(t *testing.T) {
	for _, c := range []struct {
		smiles string
		parts  int
	}{{"C", 1}, {"C.C", 2}, {"C1.C1", 1}, {"[Na+].[Cl-].O", 3}, {"", 0}} {
		m, err := Parse(c.smiles)
		if err != nil {
			t.Fatal(err)
		}
		if m.NumParts() != c.parts || len(m.Components()) != c.parts {
			t.Errorf("%s: %d parts, %d components, want %d", c.smiles, m.NumParts(), len(m.Components()), c.parts)
		}
	}
}
