package rival

import (
	"slices"
	"strings"
	"testing"

	"ionwright/chem"
	"ionwright/mol/smarts"
	"ionwright/reading/candidate"
)

// among is a search that ended with these rivals, all of which can't be told
// apart.
func among(t *testing.T, p Problem, answer string, rivals ...string) *search {
	t.Helper()
	s := &search{problem: p, answer: candidate.Structure{Mol: parse(t, answer)}, result: &Result{}}
	for _, text := range rivals {
		s.result.Rivals = append(s.result.Rivals, Rival{SMILES: canonical(t, text), Mol: parse(t, text), Verdict: Same})
	}
	return s
}

// TestMethyls describes the methyl groups by equivalence; counted by hand.
func TestMethyls(t *testing.T) {
	for text, want := range map[string]string{
		"CC(C)(C)C": "4", "CCC(C)(C)C": "3 + 1", "CC(C)C(C)C": "4", "CCCCCC": "2", "CCC(C)C": "2 + 1", "c1ccccc1": "none", "Cc1ccc(C)cc1": "2",
		"CC(C)=O": "2", "CC(=O)OC": "1 + 1",
	} {
		if got := methyls(parse(t, text)); got != want {
			t.Errorf("%s: methyl groups %s, want %s", text, got, want)
		}
	}
}

// TestDecide asks for the fewest facts that leave the answer alone, of the kinds
// that an instructor can give.
func TestDecide(t *testing.T) {
	formula := Problem{FormulaGiven: true}
	for _, row := range []struct {
		what           string
		problem        Problem
		answer, rivals string
		facts          int
		one            []string // names, one of which must be among the facts; any: none
	}{
		{"a group", formula, "CCC(C)=O", "CCCC=O CC(C)C=O", 1, []string{"group"}},
		{"equivalent methyl groups", Problem{FormulaGiven: true}, "CCCCCC", "CCC(C)CC", 1, []string{"group", "methyl groups", "equivalent methyl groups"}},
		{"places on the ring", formula, "Cc1ccc(C)cc1", "Cc1ccccc1C Cc1cccc(C)c1", 1, []string{"places on the ring", "kinds of carbon atom", "kinds of hydrogen atom"}},
		{"the exact mass", Problem{MassGiven: true}, "CCCCCCCC", "CCCCCCCC", 0, nil},
		{"no rivals", formula, "CCC(C)=O", "", 0, nil},
	} {
		s := among(t, row.problem, row.answer, strings.Fields(row.rivals)...)
		facts := s.decide(Same)
		if len(facts) != row.facts {
			t.Errorf("%s: %d facts, want %d: %v", row.what, len(facts), row.facts, facts)
			continue
		}
		if row.one != nil && !slices.ContainsFunc(facts, func(f Fact) bool { return slices.Contains(row.one, f.Name) }) {
			t.Errorf("%s: decided by %v", row.what, facts)
		}
		// What the facts say is true of the answer and of no rival.
		for _, r := range s.result.Rivals {
			if facts != nil && !slices.ContainsFunc(facts, func(f Fact) bool { return s.differs(f, r) }) {
				t.Errorf("%s: %v don't exclude %s", row.what, facts, r.SMILES)
			}
		}
	}
}

// differs tells whether a fact about the answer isn't true of a rival.
func (s *search) differs(f Fact, r Rival) bool {
	for _, p := range s.properties() {
		if own := p.value(s.answer.Mol); p.name == f.Name && p.says(own) == f.Says {
			return p.value(r.Mol) != own
		}
	}
	return false
}

// TestExactMass offers the exact mass where students don't know the formula: it
// tells C4H8O from C5H12, and says so in digits that do.
func TestExactMass(t *testing.T) {
	for _, given := range []bool{true, false} {
		s := among(t, Problem{FormulaGiven: given, MassGiven: true}, "CCC(C)=O", "CCCCC")
		offered := ""
		for _, p := range s.properties() {
			if p.name == "formula" {
				offered = p.says(p.value(s.answer.Mol))
				if p.value(s.result.Rivals[0].Mol) == p.value(s.answer.Mol) {
					t.Error("the exact mass doesn't tell C4H8O from C5H12")
				}
			}
		}
		if given != (offered == "") || !given && !strings.Contains(offered, "72.0575") { // from the atomic masses, by hand
			t.Errorf("formula given: %v; the exact mass is offered as %q", given, offered)
		}
	}
}

// TestThinkable leaves groups unsaid that the formula can't have.
func TestThinkable(t *testing.T) {
	for _, row := range []struct {
		formula, pattern string
		want             bool
	}{
		{"C8H10", "C=C", true}, {"C8H10", "[OX2H]", false}, {"C8H10", "C(=O)N", false}, {"C4H8O", "[OX2H]", true}, {"C4H8O", "[CX3](=O)[Cl]", true},
		{"C4H9Cl", "[Si]", false}, {"C4H9Cl", "Cl", true}, {"C4H4S", "[s]", true}, {"C4H4O", "c1ccccc1", true},
	} {
		s := &search{formulas: []chem.Formula{chem.MustFormula(row.formula)}}
		if got := s.thinkable(smarts.MustCompile(row.pattern)); got != row.want {
			t.Errorf("%s in %s: %v, want %v", row.pattern, row.formula, got, row.want)
		}
	}
}
