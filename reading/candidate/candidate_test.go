package candidate

import (
	"context"
	"slices"
	"strings"
	"testing"

	"ionwright/chem"
	"ionwright/internal/fixture"
	"ionwright/mol/smiles"
	"ionwright/reading"
	"ionwright/reading/infer"
	"ionwright/spectrum"
)

func structures(t testing.TB, list ...string) []Structure {
	t.Helper()
	var out []Structure
	for _, pair := range list {
		text, name, _ := strings.Cut(pair, " ")
		m, err := smiles.Parse(text)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, Structure{Name: name, Mol: m})
	}
	return out
}

// Measured spectra against isomers: the compound of the record comes first,
// and the peak that a textbook names is among those that decide.
func TestIsomers(t *testing.T) {
	for _, c := range []struct {
		record  string
		list    []string // the first is the compound
		decides int      // m/z
	}{
		{"2-pentanone", []string{"CCCC(C)=O pentan-2-one", "CCC(=O)CC pentan-3-one", "CC(C)C(C)=O 3-methylbutan-2-one"}, 58},                                       // 58 needs a gamma hydrogen: Bruice, Organic Chemistry, sec. 13.5
		{"3-pentanone", []string{"CCC(=O)CC pentan-3-one", "CCCC(C)=O pentan-2-one", "CC(C)C(C)=O 3-methylbutan-2-one"}, 57},                                       // 57: Bruice, sec. 13.5
		{"methylcyclohexane", []string{"CC1CCCCC1 methylcyclohexane", "CCC1CCCC1 ethylcyclopentane"}, 83},                                                          // OpenStax Organic Chemistry 10e, worked example 12.1
		{"ethylcyclopentane", []string{"CCC1CCCC1 ethylcyclopentane", "CC1CCCCC1 methylcyclohexane"}, 69},                                                          // the same
		{"2-pentanol", []string{"CCCC(C)O pentan-2-ol", "CCC(O)CC pentan-3-ol", "CCCCCO pentan-1-ol"}, 45},                                                         // OpenStax, sec. 12.3
		{"methyl butanoate", []string{"CCCC(=O)OC methyl butanoate", "CCC(=O)OCC ethyl propanoate", "CC(=O)OCCC propyl acetate", "CCCCC(=O)O pentanoic acid"}, 74}, // 74: lecture text on the McLafferty rearrangement
	} {
		t.Run(c.record, func(t *testing.T) {
			r, err := Rank(context.Background(), fixture.ByName(t, c.record).Spectrum(t), reading.Given{}, structures(t, c.list...))
			if err != nil {
				t.Fatal(err)
			}
			_, want, _ := strings.Cut(c.list[0], " ")
			if r.Ranked[0].Name != want {
				t.Errorf("first is %s, want %s", r.Ranked[0].Name, want)
			}
			if !slices.ContainsFunc(r.Deciding, func(d Deciding) bool { return d.MZ == c.decides && d.ForFirst }) {
				t.Errorf("m/z %d isn't among the deciding peaks: %+v", c.decides, r.Deciding)
			}
			sum := 0.0
			for _, x := range r.Ranked {
				sum += x.Probability
			}
			if sum < 0.999 || sum > 1.001 {
				t.Errorf("the probabilities sum to %v", sum)
			}
		})
	}
}

// A structure of another mass is told apart and told why.
func TestWrongMass(t *testing.T) {
	r, err := Rank(context.Background(), fixture.ByName(t, "toluene").Spectrum(t), reading.Given{}, structures(t, "CCc1ccccc1 ethylbenzene", "Cc1ccccc1 toluene"))
	if err != nil {
		t.Fatal(err)
	}
	if r.Ranked[0].Name != "toluene" || r.Ranked[0].Probability < 0.9 {
		t.Errorf("first is %s with %.2f", r.Ranked[0].Name, r.Ranked[0].Probability)
	}
	if !slices.ContainsFunc(r.Ranked[1].Against, func(s string) bool { return strings.Contains(s, "its mass is 106") }) { // IUPAC: nominal mass of C8H10
		t.Errorf("against ethylbenzene: %q", r.Ranked[1].Against)
	}
}

func TestRefusals(t *testing.T) {
	s := spectrum.MustParse("43:100 58:30")
	acetone := structures(t, "CC(C)=O acetone")
	canceled, cancel := context.WithCancel(context.Background())
	cancel()
	for _, c := range []struct {
		ctx  context.Context
		s    spectrum.Spectrum
		list []Structure
		want string
	}{
		{context.Background(), s, nil, "no structure"},
		{context.Background(), spectrum.MustParse("18:100"), acetone, "no peaks at m/z 29 or more"},
		{context.Background(), s, make([]Structure, Most+1), "at most 500"},
		{canceled, s, acetone, "canceled"},
	} {
		if _, err := Rank(c.ctx, c.s, reading.Given{}, c.list); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("got %v, want an error with %q", err, c.want)
		}
	}
	// What the engine doesn't cover is refused by name, the rest is ranked.
	r, err := Rank(context.Background(), s, reading.Given{Formula: chem.MustFormula("C3H6O")}, structures(t, "CC(C)=O acetone", "[Na+].[Cl-] salt"))
	if err != nil || len(r.Ranked) != 1 || len(r.Refused) != 1 || r.Refused[0].Name != "salt" || r.Refused[0].Reason == nil {
		t.Errorf("ranked %d, refused %+v, error %v", len(r.Ranked), r.Refused, err)
	}
}

func TestEveryGroupPatternCompiles(t *testing.T) {
	if got, want := len(patterns()), len(infer.Groups); got != want {
		t.Errorf("%d of %d patterns compile", got, want)
	}
}

// The sentences are whole: a verb of formatting left over or a missing name
// would be read aloud.
func TestSentences(t *testing.T) {
	r, err := Rank(context.Background(), fixture.ByName(t, "2-pentanone").Spectrum(t), reading.Given{}, structures(t, "CCCC(C)=O pentan-2-one", "CCC(=O)CC pentan-3-one"))
	if err != nil {
		t.Fatal(err)
	}
	texts := []string{r.Sentence}
	for _, d := range r.Deciding {
		texts = append(texts, d.Sentence)
	}
	for _, text := range texts {
		if strings.Contains(text, "%!") || !strings.HasSuffix(text, ".") || !strings.Contains(text, "pentan-2-one") {
			t.Errorf("%q", text)
		}
		t.Log(text)
	}
}

// The weights that are built in can be read; none counts against a structure,
// and the match of the computed spectrum weighs something. A table that isn't
// one is refused with its line.
func TestWeights(t *testing.T) {
	built, err := weights()
	if err != nil {
		t.Fatal(err)
	}
	for k, w := range built {
		if w < 0 || k == 0 && w == 0 {
			t.Errorf("%s weighs %v", PartNames[k], w)
		}
	}
	good := "# comment\nmatch\t1\nexplained\t2\ngroups\t3\nformula\t4\n"
	if got, err := parseWeights(good); err != nil || got != (Parts{1, 2, 3, 4}) {
		t.Errorf("%v, %v", got, err)
	}
	for text, where := range map[string]string{
		"match\t1\n": "1 of 4",
		strings.Replace(good, "groups\t3", "x", 1): "line 4",
		strings.Replace(good, "\t4", "\tNaN", 1):   "line 5",
		good + "match\t1\n":                        "line 6",
		strings.Replace(good, "\t1", "\t-1", 1):    "line 2",
	} {
		if _, err := parseWeights(text); err == nil || !strings.Contains(err.Error(), where) {
			t.Errorf("%q: %v, want %q", text, err, where)
		}
	}
}
