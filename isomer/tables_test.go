package isomer

import (
	"fmt"
	"testing"

	"ionwright/mol/smarts"
)

// series is a published table of the numbers of isomers of a class of
// compounds, by number of carbon atoms.
type series struct {
	source  string
	first   int // carbon atoms of the first number
	counts  []int
	formula func(n int) string
	options Options
}

func exactly(n int, pattern string) Occurs {
	return Occurs{smarts.MustCompile(pattern), Range{n, n}}
}

// published are tables seen in the On-Line Encyclopedia of Integer Sequences;
// those for alkanes, alcohols, all hydrocarbons and hydronitrogens stand in
// published_test.go.
func published() []series {
	formula := func(pattern string, perCarbon, more int) func(int) string {
		return func(n int) string {
			h := ""
			if count := perCarbon*n + more; count == 1 {
				h = "H"
			} else if count > 1 {
				h = fmt.Sprintf("H%d", count)
			}
			return fmt.Sprintf(pattern, n, h)
		}
	}
	acyclic := &Range{0, 0}
	return []series{
		{"A000598, alkyl chlorides", 1, []int{1, 1, 2, 4, 8, 17, 39, 89, 211, 507, 1238}, formula("C%d%sCl", 2, 1), Options{}},
		{"A000635, alkanes with two different substituents", 1, []int{1, 2, 5, 12, 31, 80, 210, 555, 1479}, formula("C%d%sBrCl", 2, 0), Options{}},
		{"A022014, alkanes with two equal substituents and another", 1, []int{1, 3, 9, 27, 81, 240, 711, 2094}, formula("C%d%sBrCl2", 2, -1), Options{}},
		{"A000631, alkenes", 2, []int{1, 1, 3, 5, 13, 27, 66, 153, 377}, formula("C%d%s", 2, 0), Options{Rings: acyclic}},
		{"A000642, alkynes", 2, []int{1, 1, 2, 3, 7, 14, 32, 72, 171}, formula("C%d%s", 2, -2), Options{Rings: acyclic, Occurs: []Occurs{exactly(1, "C#C")}}},
		{"A000632, esters", 2, []int{1, 2, 4, 9, 20, 45, 105}, formula("C%d%sO2", 2, 0), Options{Occurs: []Occurs{exactly(1, "[CX3;H1,$(C[#6])](=O)O[#6]")}}},
		{"A000600, tertiary alcohols", 4, []int{1, 1, 3, 7, 17, 40}, formula("C%d%sO", 2, 2), Options{Occurs: []Occurs{exactly(1, "[OX2H1][CX4;H0]")}}},
	}
}

// TestTables makes every structure of the published tables; those that have
// one number for a formula, without a condition, are counted too.
func TestTables(t *testing.T) {
	for _, s := range published() {
		for i, want := range s.counts {
			formula := s.formula(s.first + i)
			if testing.Short() && want > 300 {
				break
			}
			if got := made(t, formula, s.options); got != want {
				t.Errorf("%s: made %d of %s, want %d", s.source, got, formula, want)
			}
			if s.options.Rings == nil && s.options.Occurs == nil {
				if got := countOf(t, formula, s.options); got != want {
					t.Errorf("%s: counted %d of %s, want %d", s.source, got, formula, want)
				}
			}
		}
	}
}

// TestAcyclicHydrocarbons adds up all hydrocarbons without rings of a number
// of carbon atoms.
func TestAcyclicHydrocarbons(t *testing.T) {
	published := []int{1, 3, 4, 12, 27, 84, 247, 826} // OEIS A002986, n = 1 to 8
	for i, want := range published {
		n, all := i+1, 0
		for h := 0; h <= 2*n+2; h += 2 {
			if n == 1 && h < 4 {
				continue // carbon and methylene
			}
			all += made(t, hydride("C", n, h), Options{Rings: &Range{0, 0}})
		}
		if all != want {
			t.Errorf("%d carbon atoms: %d, want %d", n, all, want)
		}
	}
}

// TestStereoAlkanes adds up the stereoisomers of all alkanes.
func TestStereoAlkanes(t *testing.T) {
	published := []int{1, 1, 1, 2, 3, 5, 11, 24, 55, 136, 345, 900} // OEIS A000628, n = 1 to 12
	for i, want := range published {
		all := 0
		for text := range list(t, space(t, hydride("C", i+1, 2*i+4), Options{})) {
			n, err := Stereoisomers(parse(t, text))
			if err != nil {
				t.Fatal(err)
			}
			all += n
		}
		if all != want {
			t.Errorf("%d carbon atoms: %d, want %d", i+1, all, want)
		}
	}
}
