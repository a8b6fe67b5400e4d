package names

import (
	"errors"
	"slices"
	"strings"
	"testing"
)

// TestNotes checks that a structure says what it leaves out.
func TestNotes(t *testing.T) {
	const (
		dropped = "the stereodescriptors are not drawn"
		open    = "the table leaves stereo open: the name may say more than the structure shows"
	)
	for _, test := range []struct {
		name string
		want []string
	}{
		{"(2E)-hex-2-enal", []string{dropped}},       // stereo in the name
		{"cis-2-butene", []string{dropped}},          // older style
		{"(R)-limonene", []string{dropped}},          // before a name of the table
		{"5alpha-cholestan-3-ol", []string{dropped}}, // within the name
		{"2-hexenal (E)", []string{dropped}},         // after the name
		{"limonene", []string{open}},                 // a stereocenter, no descriptor
		{"maleic acid", []string{open}},              // a double bond, no descriptor
		{"toluene", nil},                             // nothing to draw
		{"butan-2-one", nil},                         // nothing to draw
		{"3-methylhexane", nil},                      // the name itself leaves it open
	} {
		result, err := Interpret(test.name)
		if err != nil {
			t.Errorf("%v", err)
			continue
		}
		if !slices.Equal(result.Notes, test.want) {
			t.Errorf("%s: notes %q, want %q", test.name, result.Notes, test.want)
		}
	}
}

// TestErrorText pins what an author reads: the place, the reason, the way out.
func TestErrorText(t *testing.T) {
	for _, test := range []struct{ name, want string }{
		{"3-methyl-7-chlorohexane", `reading the name "3-methyl-7-chlorohexane", character 10: hexane has no position 7`},
		{"2,2,2-trimethylbutane", `reading the name "2,2,2-trimethylbutane", character 5: position 2 of butane has no free hydrogen for another substituent`},
		{"1,2-trichloroethane", `reading the name "1,2-trichloroethane", character 1: 2 locants, but 3 substituents: their numbers must be equal`},
		{"pentan-5-one", `reading the name "pentan-5-one", character 7: a C=O at the end of a chain is an aldehyde (ending al), not a ketone`},
		{"propanol", "reading the name \"propanol\": it may mean OCCC, OC(C)C\n  give the locants, or parentheses around compound substituents"},
		{"tolluene", "reading the name \"tolluene\": unknown name\n  did you mean toluene?"},
		{"3-methylbutan-2-onne", "reading the name \"3-methylbutan-2-onne\": can't read \"onne\" at character 17\n  did you mean 3-methylbutan-2-one?"},
		{strings.Repeat("x", 1000), `reading the name "` + strings.Repeat("x", 60) + `...", character 1: longer than 400 characters`},
	} {
		_, err := Resolve(test.name)
		if err == nil {
			t.Errorf("%s: no error", test.name)
			continue
		}
		if err.Error() != test.want {
			t.Errorf("%s:\n got %s\nwant %s", test.name, err, test.want)
		}
	}
}

// TestSuggestions checks that a misspelled name leads to the right one.
func TestSuggestions(t *testing.T) {
	for _, test := range []struct{ name, want string }{ // from memory: common slips
		{"acetaminophine", "acetaminophen"},
		{"cafeine", "caffeine"},
		{"benzaldehide", "benzaldehyde"},
		{"cyclohexannone", "cyclohexanone"},
		{"napthalene", "naphthalene"},
		{"methyl salycilate", "methyl salicylate"},
		{"4-hydroxyacetophenon", "4-hydroxyacetophenone"},
		{"ethyl acetat", "ethyl acetate"},
	} {
		_, err := Resolve(test.name)
		var unknown *UnknownError
		if !errors.As(err, &unknown) {
			t.Errorf("%s: got %v, want an unknown name", test.name, err)
			continue
		}
		if !slices.Contains(unknown.Suggestions, test.want) {
			t.Errorf("%s: suggestions %q, want %s among them", test.name, unknown.Suggestions, test.want)
		}
	}
}

// TestSpelling checks that ways of writing don't matter where they say nothing.
func TestSpelling(t *testing.T) {
	for _, group := range [][]string{
		{"3-methylbutan-2-one", "3-METHYLBUTAN-2-ONE", "3-Methyl-2-butanone", " 3-methylbutan-2-one ", "3‑methylbutan‑2‑one", "butan-2-one, 3-methyl-"},
		{"α-pinene", "alpha-pinene", "Alpha-Pinene"},
		{"N,N-dimethylaniline", "N, N-dimethylaniline", "n,n-dimethylaniline"},
		{"bicyclo[2.2.1]heptane", "bicyclo(2.2.1)heptane", "bicyclo{2.2.1}heptane", "norbornane"},
		{"4'-methoxyacetophenone", "4′-methoxyacetophenone", "4’-methoxyacetophenone", "p-methoxyacetophenone"},
		{"1,2,4-trimethylbenzene", "1.2.4-trimethylbenzene", "1, 2, 4-trimethylbenzene"},
		{"o-chlorotoluene", "ortho-chlorotoluene", "ortho chlorotoluene", "2-chlorotoluene"},
		{"tert-butyl alcohol", "t-butyl alcohol", "tert butyl alcohol", "tertiary butyl alcohol"},
		{"methyl benzoate", "benzoic acid methyl ester", "benzoic acid, methyl ester"},
	} {
		want, err := SMILES(group[0])
		if err != nil {
			t.Errorf("%v", err)
			continue
		}
		for _, name := range group[1:] {
			if got, err := SMILES(name); err != nil || got != want {
				t.Errorf("%q: got %s, %v; want %s as for %q", name, got, err, want, group[0])
			}
		}
	}
}
