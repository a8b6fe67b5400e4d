package propose_test

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"ionwright/chem"
	"ionwright/isotope"
	"ionwright/mol"
	"ionwright/mol/smarts"
	"ionwright/mol/smiles"
	"ionwright/practice"
	"ionwright/practice/answer"
	"ionwright/practice/arrow"
	"ionwright/practice/cause"
	"ionwright/practice/mark"
	"ionwright/practice/propose"
)

// compounds are common ones of every class that the ideas are about.
var compounds = []propose.Compound{
	{"butan-2-one", "CCC(C)=O"}, {"pentan-2-one", "CCCC(C)=O"}, {"pentan-3-one", "CCC(=O)CC"}, {"hexan-2-one", "CCCCC(C)=O"},
	{"3-methylbutan-2-one", "CC(C)C(C)=O"}, {"4-methylpentan-2-one", "CC(C)CC(C)=O"}, {"3,3-dimethylbutan-2-one", "CC(=O)C(C)(C)C"}, {"hexan-3-one", "CCCC(=O)CC"},
	{"butanal", "CCCC=O"}, {"pentanal", "CCCCC=O"}, {"hexanal", "CCCCCC=O"}, {"2-methylpropanal", "CC(C)C=O"}, {"2,2-dimethylpropanal", "CC(C)(C)C=O"},
	{"butan-1-ol", "CCCCO"}, {"butan-2-ol", "CCC(C)O"}, {"pentan-2-ol", "CCCC(C)O"}, {"pentan-3-ol", "CCC(O)CC"}, {"2-methylbutan-2-ol", "CCC(C)(C)O"},
	{"diethyl ether", "CCOCC"}, {"dipropyl ether", "CCCOCCC"}, {"butyl methyl ether", "CCCCOC"}, {"ethyl propyl ether", "CCCOCC"},
	{"butan-1-amine", "CCCCN"}, {"butan-2-amine", "CCC(C)N"}, {"diethylamine", "CCNCC"}, {"triethylamine", "CCN(CC)CC"}, {"N-methylbutan-1-amine", "CCCCNC"},
	{"tetramethylethylenediamine", "CN(C)CCN(C)C"}, {"pyrazine", "c1cnccn1"}, {"1,2-diaminobenzene", "Nc1ccccc1N"}, {"pyridine", "c1ccncc1"}, {"aniline", "Nc1ccccc1"},
	{"methyl butanoate", "CCCC(=O)OC"}, {"ethyl butanoate", "CCCC(=O)OCC"}, {"propyl ethanoate", "CCCOC(C)=O"}, {"methyl pentanoate", "CCCCC(=O)OC"}, {"methyl 2-methylpropanoate", "COC(=O)C(C)C"},
	{"butanoic acid", "CCCC(=O)O"}, {"pentanoic acid", "CCCCC(=O)O"}, {"ethylbenzene", "CCc1ccccc1"}, {"propylbenzene", "CCCc1ccccc1"}, {"acetophenone", "CC(=O)c1ccccc1"},
	{"benzaldehyde", "O=Cc1ccccc1"}, {"propiophenone", "CCC(=O)c1ccccc1"}, {"methyl benzoate", "COC(=O)c1ccccc1"}, {"chlorobenzene", "Clc1ccccc1"}, {"bromobenzene", "Brc1ccccc1"},
	{"1-chlorobutane", "CCCCCl"}, {"1-bromobutane", "CCCCBr"}, {"2-chlorobutane", "CCC(C)Cl"}, {"1,2-dichloroethane", "ClCCCl"}, {"1,2-dibromoethane", "BrCCBr"}, {"1-bromo-2-chloroethane", "ClCCBr"},
	{"1,2-dichlorobenzene", "Clc1ccccc1Cl"}, {"1,4-dibromobenzene", "Brc1ccc(Br)cc1"}, {"1,3,5-trichlorobenzene", "Clc1cc(Cl)cc(Cl)c1"}, {"1-bromo-4-chlorobenzene", "Clc1ccc(Br)cc1"},
	{"naphthalene", "c1ccc2ccccc2c1"}, {"anthracene", "c1ccc2cc3ccccc3cc2c1"}, {"phenanthrene", "c1ccc2c(c1)ccc1ccccc12"}, {"1-methylnaphthalene", "Cc1cccc2ccccc12"}, {"biphenyl", "c1ccc(cc1)-c1ccccc1"}, {"2-methylnaphthalene", "Cc1ccc2ccccc2c1"},
	{"2-methylbutane", "CCC(C)C"}, {"hexane", "CCCCCC"}, {"3-methylpentane", "CCC(C)CC"}, {"cyclohexane", "C1CCCCC1"}, {"hex-1-ene", "CCCCC=C"},
}

// level is one at which each idea has enough of these compounds.
func level(idea string) int {
	if idea == "charge-two" {
		return 3
	}
	return 2
}

func request(idea string, versions int) propose.Request {
	return propose.Request{Idea: idea, Level: level(idea), Versions: versions, Seed: 1, Compounds: compounds}
}

func parse(t *testing.T, text string) *mol.Mol {
	t.Helper()
	m, err := smiles.Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func proposed(t *testing.T, r propose.Request) []propose.Version {
	t.Helper()
	made, err := propose.Propose(context.Background(), r)
	if err != nil {
		t.Fatalf("%s: %v", r.Idea, err)
	}
	return made
}

func value(q *practice.Question) float64 { return q.Key.(practice.Number).Value }

// decides are, for each idea, what must be true of a question so that the idea
// decides its answer. Spectra are the ones in the question's facts; the rest is
// worked out here from the structure.
var decides = map[string]func(t *testing.T, m *mol.Mol, q *practice.Question) string{
	"molecular-ion": func(_ *testing.T, m *mol.Mol, q *practice.Question) string {
		s := q.Facts.Spectrum
		base, _ := s.Base()
		if value(q) != float64(m.Formula().NominalMass()) {
			return "the key isn't the nominal mass"
		}
		if math.Round(base.MZ) == value(q) || math.Round(s.Peaks[len(s.Peaks)-1].MZ) == value(q) {
			return "the base peak or the last peak is right by chance"
		}
		return ""
	},
	"isotope-pattern": func(_ *testing.T, m *mol.Mol, q *practice.Question) string {
		f, k := m.Formula(), q.Key.(practice.Number)
		if p := isotope.Unit(f); math.Abs(100*p.At(f.NominalMass()+2)/p.At(f.NominalMass())-k.Value) > k.Tolerance {
			return "the key isn't the pattern's"
		}
		for _, other := range []string{"Cl", "Br", "Cl2", "Br2", "ClBr"} {
			g := chem.MustFormula(other)
			if g.Count(chem.Cl) == f.Count(chem.Cl) && g.Count(chem.Br) == f.Count(chem.Br) {
				continue
			}
			p := isotope.Unit(g)
			if math.Abs(100*p.At(g.NominalMass()+2)/p.At(g.NominalMass())-k.Value) <= k.Tolerance {
				return other + " would give the same height"
			}
		}
		return ""
	},
	"nitrogen-rule": func(_ *testing.T, m *mol.Mol, q *practice.Question) string {
		n := m.Formula().Count(chem.N)
		if value(q) != float64(n) || n < 1 || n > 2 {
			return "the key isn't the number of nitrogen atoms"
		}
		if (m.Formula().NominalMass()%2 == 1) != (n == 1) {
			return "the parity doesn't tell one from two"
		}
		return ""
	},
	"alpha-cleavage": func(t *testing.T, m *mol.Mol, q *practice.Question) string {
		// Next to C=O, or one bond away from O or N.
		ion := q.Key.(practice.Formula).Formula
		for _, pattern := range []string{"[#6]-[CX3]=O", "[H0,#6]-[CX4]-[OX2,NX3]"} {
			for _, hit := range smarts.MustCompile(pattern).Find(m) {
				for _, side := range halves(t, m, hit[0], hit[1]) {
					if side == ion.WithCharge(0) {
						return ""
					}
				}
			}
		}
		return fmt.Sprintf("no bond next to a carbonyl group or a heteroatom gives %s", ion)
	},
	"rearrangement": func(_ *testing.T, m *mol.Mol, q *practice.Question) string {
		// A hydrogen on the atom gamma to a carbonyl carbon; a ring of six.
		has := smarts.MustCompile("[CX3](=O)[CX4,OX2][CX4][*;!H0]").Match(m)
		if has != (value(q) > 0) {
			return "the key doesn't follow from the gamma hydrogen"
		}
		return ""
	},
	"two-meanings": func(_ *testing.T, _ *mol.Mol, q *practice.Question) string {
		ion := q.Key.(practice.Formula).Formula
		for _, f := range q.Foreseen(30) {
			if f.Mistake.Formula != nil && f.Cause.Code == cause.OneMeaning && f.Mistake.Formula.NominalMass() == ion.NominalMass() {
				return ""
			}
		}
		return "no other meaning of the peak is foreseen"
	},
	"loss": func(_ *testing.T, m *mol.Mol, q *practice.Question) string {
		lost := q.Key.(practice.Formula).Formula
		if _, ok := m.Formula().Minus(lost); !ok {
			return "more is lost than there is"
		}
		if lost.NominalMass() != m.Formula().NominalMass()-int(q.Facts.MZ) {
			return "the mass of the loss isn't the difference"
		}
		return ""
	},
	"charge-two": func(_ *testing.T, m *mol.Mol, q *practice.Question) string {
		if math.Abs(value(q)-float64(m.Formula().NominalMass())/2) > 0.01 {
			return "the key isn't half the mass"
		}
		return ""
	},
	"electron-arrows": func(t *testing.T, _ *mol.Mol, q *practice.Question) string {
		k := q.Key.(practice.Arrows)
		end, err := arrow.Lead(k.Drawn, k.Ways[0])
		if err != nil {
			t.Fatal(err)
		}
		ions, neutrals := 0, 0
		for _, atoms := range end.Components() {
			part, err := end.Induced(atoms)
			if err != nil {
				t.Fatal(err)
			}
			switch f := part.Formula(); {
			case f.Charge() == 1 && f.NominalMass() == int(q.Facts.MZ):
				ions++
			case f.Charge() == 0:
				neutrals++
			}
		}
		if ions != 1 || neutrals != 1 {
			return fmt.Sprintf("the arrows don't lead to m/z %g and a neutral", q.Facts.MZ)
		}
		return ""
	},
	"assignment": func(_ *testing.T, m *mol.Mol, q *practice.Question) string {
		for _, row := range q.Key.(practice.Assign).Rows {
			if row.Ions[0].NominalMass() != row.MZ || row.Ions[0].Charge() != 1 {
				return fmt.Sprintf("%s doesn't stand at m/z %d", row.Ions[0], row.MZ)
			}
			if _, ok := m.Formula().Minus(row.Ions[0].WithCharge(0)); !ok {
				return fmt.Sprintf("%s isn't a part of the compound", row.Ions[0])
			}
			if q.Facts.Spectrum.Relative(row.MZ) < 5 {
				return fmt.Sprintf("m/z %d is hardly seen", row.MZ)
			}
		}
		return ""
	},
	"unknown": func(_ *testing.T, m *mol.Mol, q *practice.Question) string {
		if len(q.Facts.Rivals) == 0 {
			return "there is no isomer to be told from"
		}
		for _, r := range q.Facts.Rivals {
			if len(r.Lacks) == 0 {
				return r.Name + " explains the spectrum as well"
			}
		}
		return ""
	},
}

// halves are the formulas of the two sides of a bond that isn't in a ring.
func halves(t *testing.T, m *mol.Mol, a, b int) []chem.Formula {
	t.Helper()
	bond, ok := m.BondBetween(a, b)
	if !ok || m.RingBond(bond) {
		return nil
	}
	edit := m.Edit()
	edit.RemoveBond(bond)
	cut, err := edit.Mol()
	if err != nil {
		t.Fatal(err)
	}
	var out []chem.Formula
	for _, atoms := range cut.Components() {
		part, err := cut.Induced(atoms)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, part.Formula())
	}
	return out
}

// TestIdeasDecide asks of every idea that its questions are decided by it, and
// that the key's own answer has all marks and every foreseen mistake fewer,
// with its cause named.
func TestIdeasDecide(t *testing.T) {
	for _, idea := range propose.Ideas() {
		if decides[idea.Name] == nil {
			t.Fatalf("%s: there is no test of what decides", idea.Name)
		}
		for _, v := range proposed(t, request(idea.Name, 2)) {
			q := v.Question
			if why := decides[idea.Name](t, parse(t, v.Compound.SMILES), q); why != "" {
				t.Errorf("%s, %s: %s", idea.Name, v.Compound.Name, why)
			}
			if q.Idea != idea.Name || len(q.Solution) == 0 || !strings.HasSuffix(q.ID, "_"+v.Letter) {
				t.Errorf("%s, %s: idea %q, id %q, %d lines of solution", idea.Name, v.Compound.Name, q.Idea, q.ID, len(q.Solution))
			}
			r, err := mark.Question(context.Background(), q, q.Key.Solved())
			if err != nil {
				t.Fatal(err)
			}
			if r.Verdict != mark.Right {
				t.Errorf("%s, %s: the key's answer %q is %s: %s", idea.Name, v.Compound.Name, q.Key.Solved(), r.Verdict, r.Reason)
			}
			for _, f := range q.Foreseen(12) {
				r, err := mark.Question(context.Background(), q, answer.Of(f.Text))
				if err != nil {
					t.Fatal(err)
				}
				if r.Verdict == mark.Right || !slices.Contains(r.Causes, f.Cause.Code) {
					t.Errorf("%s, %s: the foreseen mistake %q (%s) is %s with the causes %v", idea.Name, v.Compound.Name, f.Text, f.Cause.Code, r.Verdict, r.Causes)
				}
			}
		}
	}
}

// TestDistractors asks of choices that each wrong one comes from a cause, is
// marked wrong with this cause, and that no two are the same.
func TestDistractors(t *testing.T) {
	choices := 0
	for _, idea := range []string{"molecular-ion", "isotope-pattern", "nitrogen-rule", "alpha-cleavage", "two-meanings", "loss", "unknown"} {
		r := request(idea, 1)
		r.Level = 1
		for _, v := range proposed(t, r) {
			k, ok := v.Question.Key.(practice.Choice)
			if !ok {
				continue // fewer than two mistakes are foreseen
			}
			choices++
			seen := map[string]bool{}
			for _, o := range k.Options {
				if seen[o.Text] {
					t.Errorf("%s, %s: %q is offered twice", idea, v.Compound.Name, o.Text)
				}
				seen[o.Text] = true
				if o.Right {
					continue
				}
				if _, known := cause.Named(o.Cause); !known {
					t.Errorf("%s, %s: the wrong choice %q has no cause", idea, v.Compound.Name, o.Text)
				}
				marked, err := mark.Question(context.Background(), v.Question, answer.Of(o.Letter))
				if err != nil {
					t.Fatal(err)
				}
				if marked.Verdict == mark.Right || !slices.Contains(marked.Causes, o.Cause) {
					t.Errorf("%s, %s: the wrong choice %q is %s with the causes %v", idea, v.Compound.Name, o.Text, marked.Verdict, marked.Causes)
				}
			}
		}
	}
	const least = 4
	if choices < least {
		t.Errorf("only %d ideas gave choices", choices)
	}
}

// TestVersions asks for versions A to D of different compounds of nearly equal
// difficulty, the same for the same seed, and others for another.
func TestVersions(t *testing.T) {
	ideas := []string{"nitrogen-rule", "two-meanings", "loss", "molecular-ion"}
	var fixed []string // ideas for which another seed gives the same compounds: few may suit
	for _, idea := range ideas {
		r := request(idea, 4)
		made := proposed(t, r)
		if len(made) != 4 {
			t.Fatalf("%s: %d versions", idea, len(made))
		}
		compounds, asked := map[string]bool{}, map[string]bool{}
		least, most := math.Inf(1), math.Inf(-1)
		for i, v := range made {
			if v.Letter != string(rune('A'+i)) {
				t.Errorf("%s: version %d is called %s", idea, i, v.Letter)
			}
			compounds[smiles.Canonical(parse(t, v.Compound.SMILES))] = true
			asked[v.Question.ID] = true
			least, most = min(least, v.Question.Difficulty), max(most, v.Question.Difficulty)
		}
		if len(compounds) != 4 || len(asked) != 4 {
			t.Errorf("%s: %d compounds and %d names in 4 versions", idea, len(compounds), len(asked))
		}
		if most-least > propose.EqualWithin {
			t.Errorf("%s: the difficulties reach from %.2f to %.2f", idea, least, most)
		}
		again := proposed(t, r)
		for i := range made {
			if made[i].Compound != again[i].Compound || made[i].Question.Ask != again[i].Question.Ask {
				t.Errorf("%s: the same seed gives %s and %s", idea, made[i].Compound.Name, again[i].Compound.Name)
			}
		}
		r.Seed = 2
		other := proposed(t, r)
		same := true
		for i := range made {
			same = same && made[i].Compound == other[i].Compound
		}
		if same {
			fixed = append(fixed, idea)
		}
	}
	if len(fixed) > len(ideas)/2 {
		t.Errorf("another seed gives the same compounds for %v", fixed)
	}
}

// TestHints asks for hints in three depths: each says more than the one before,
// and the first doesn't give the answer away.
func TestHints(t *testing.T) {
	deep := 0
	for _, idea := range propose.Ideas() {
		for _, v := range proposed(t, request(idea.Name, 1)) {
			q := v.Question
			for i := 1; i < len(q.Hints); i++ {
				if len(q.Hints[i]) <= len(q.Hints[i-1]) {
					t.Errorf("%s, %s: hint %d says less than the one before:\n%s\n%s", idea.Name, v.Compound.Name, i+1, q.Hints[i-1], q.Hints[i])
				}
			}
			if len(q.Hints) == 3 {
				deep++
			}
			if key := q.Key.Solved().String(); len(q.Hints) > 0 && len(key) > 2 && strings.Contains(q.Hints[0], key) {
				t.Errorf("%s, %s: the first hint %q tells the answer %q", idea.Name, v.Compound.Name, q.Hints[0], key)
			}
		}
	}
	const least = 6
	if deep < least {
		t.Errorf("only %d ideas have hints in three depths", deep)
	}
}

func TestRefused(t *testing.T) {
	for _, row := range []struct {
		change func(r *propose.Request)
		says   string
	}{
		{func(r *propose.Request) { r.Idea = "nonsense" }, `no idea "nonsense"`},
		{func(r *propose.Request) { r.Level = 4 }, "there are 1, 2 and 3"},
		{func(r *propose.Request) { r.Versions = 27 }, "there can be 1 to 26"},
		{func(r *propose.Request) { r.Compounds = compounds[:1] }, "of the compounds suit"},
	} {
		r := request("nitrogen-rule", 1)
		row.change(&r)
		if _, err := propose.Propose(context.Background(), r); err == nil || !strings.Contains(err.Error(), row.says) {
			t.Errorf("%v, want %q", err, row.says)
		}
	}
}
