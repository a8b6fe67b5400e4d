package compose

import (
	"testing"

	"ionwright/chem"
)

func TestRules(t *testing.T) {
	tests := []struct {
		rule, formula string
		holds         bool
	}{
		// Senior's theorem, worked by hand with the highest valences.
		{"senior", "CH4", true},
		{"senior", "CH5", false},     // odd number of odd valences
		{"senior", "C2H8", false},    // sum of valences 16, nine bonds need 18
		{"senior", "CH4O6S", true},   // sum of valences 26, eleven bonds need 22
		{"senior", "H2O4S", true},    // sulfuric acid
		{"senior", "HBr", true},      // the lowest valence of bromine
		{"senior", "CO", false},      // carbon needs four bonds, oxygen has two: a molecule that the rule rejects
		{"senior", "NaCl", true},     // two atoms
		{"senior", "He", true},       // one atom
		{"senior", "NaH3", false},    // sum of valences 4, three bonds need 6
		{"senior", "C2H6+", true},    // an ion may have either parity
		{"senior", "C2H5+", true},    // the same
		{"senior", "C6H15O4P", true}, // triethyl phosphate
		{"senior", "HF2", false},     // three monovalent atoms can't hang together
		{"senior", "F2", true},       // sum of valences 2
		// Kind and Fiehn 2007, table 1.
		{"counts", "C39H30", true},
		{"counts", "C40H18", false},    // below 500 Da at most 39 carbon atoms
		{"counts", "C29H72", true},     // 72 hydrogen atoms are allowed
		{"counts", "C40H60", true},     // above 500 Da
		{"counts", "H2Br5", true},      // five bromine atoms below 500 Da
		{"counts", "C79H2", false},     // below 1000 Da at most 78 carbon atoms
		{"counts", "C163H1000", false}, // below 3000 Da at most 162
		{"counts", "C300H300", true},   // above 3000 Da nothing is asked
		// Table 2, extended and common.
		{"hydrogen", "CH4", true},
		{"hydrogen", "C8HN5", true}, // 0.125, named in the paper
		{"hydrogen", "CH7", false},
		{"hydrogen", "C11H", false},
		{"hydrogen", "N2", true},            // without carbon
		{"hydrogen-common", "CH6N2", false}, // methylhydrazine, named in the paper as an exception
		{"hydrogen-common", "C10H31", true},
		{"hydrogen-common", "C10H32", false},
		{"heteroatoms", "CN4", true},
		{"heteroatoms", "CN5", false},
		{"heteroatoms", "C2F12", true},
		{"heteroatoms", "C2F13", false},
		{"heteroatoms", "CCl2", true},
		{"heteroatoms", "CCl4", false}, // carbon tetrachloride, one of the 0.01 %
		{"heteroatoms-common", "C10O12", true},
		{"heteroatoms-common", "C10O13", false},
		{"heteroatoms-common", "C10Si5", true},
		{"heteroatoms-common", "C10Si6", false},
		// Table 3, its own examples.
		{"combinations", "C15H34N9O8PS", true},
		{"combinations", "C22H44N4O14P2S2", false}, // 4 N and 2 S: breaks the rule it is printed beside
		{"combinations", "C20H28N10O21P4", true},
		{"combinations", "C20H28N11O21P4", false},
		{"combinations", "C59H64N18O14S7", false}, // 14 O where fewer than 14 are allowed, as printed
		{"combinations", "C59H64N18O13S7", true},
		{"combinations", "C16H36O4P3S2", false},
		{"combinations", "C6H12O6", true},
	}
	for _, test := range tests {
		rule, ok := RuleNamed(test.rule)
		if !ok {
			t.Fatalf("no rule %q", test.rule)
		}
		if got := rule.Holds(chem.MustFormula(test.formula)); got != test.holds {
			t.Errorf("%s holds for %s: %v, want %v", test.rule, test.formula, got, test.holds)
		}
	}
}

func TestRulesAreDocumented(t *testing.T) {
	seen := map[string]bool{}
	for _, rule := range Rules() {
		if rule.Name == "" || rule.Doc == "" || rule.Source == "" || rule.Holds == nil || seen[rule.Name] {
			t.Errorf("rule %q: doc %q, source %q", rule.Name, rule.Doc, rule.Source)
		}
		seen[rule.Name] = true
	}
	if _, ok := RuleNamed("none"); ok {
		t.Error("a rule that doesn't exist is found")
	}
}

// The rules are for formulas of molecules: of the common compounds here none
// is rejected.
func TestRulesKeepCommonCompounds(t *testing.T) {
	for _, text := range []string{"CH4", "C2H6O", "C3H6O", "C6H6", "C7H8", "C8H10N4O2", "C9H8O4", "C6H12O6", "C10H15N", "C4H10S", "C6H5Cl", "C2H5Br", "C27H46O", "C10H16", "C17H21NO4"} {
		for _, rule := range Rules() {
			if rule.Name == "hydrogen-common" && text == "CH4" {
				continue // 4 hydrogen atoms for one carbon atom
			}
			if !rule.Holds(chem.MustFormula(text)) {
				t.Errorf("%s rejects %s", rule.Name, text)
			}
		}
	}
}
