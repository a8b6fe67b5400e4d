package isomer

import (
	"context"
	"math"
	"testing"

	"ionwright/mol/smarts"
)

// TestSample estimates numbers that are known from samples: how many isomers a
// formula has, and how many of them are alcohols, have a ring, or no multiple
// bond. An estimate may be off by four standard deviations of a count.
func TestSample(t *testing.T) {
	hydroxyl, ring, multiple := smarts.MustCompile("[OX2H1]"), smarts.MustCompile("[R]"), smarts.MustCompile("*=,#*")
	for _, formula := range []string{"C8H16O", "C7H8O", "C9H12"} {
		s := space(t, formula, Options{LowestValences: true})
		count := func(every uint64) (n [4]float64) {
			newWork := func() func(*Structure) ([4]bool, bool) {
				return func(st *Structure) ([4]bool, bool) {
					m := st.Mol()
					return [4]bool{true, hydroxyl.Match(m), ring.Match(m), !multiple.Match(m)}, true
				}
			}
			err := Run(context.Background(), s, Runner{Workers: 2, Every: every}, newWork, func(has [4]bool, _ Position) error {
				for i, x := range has {
					if x {
						n[i]++
					}
				}
				return nil
			})
			if err != nil {
				t.Fatal(err)
			}
			return n
		}
		whole := count(1)
		for _, every := range []uint64{3, 20, 100} {
			for i, found := range count(every) {
				estimate, deviation := found*float64(every), math.Sqrt(max(1, whole[i]*float64(every)))
				if math.Abs(estimate-whole[i]) > 4*deviation {
					t.Errorf("%s, one in %d, number %d: estimated %.0f ± %.0f, there are %.0f", formula, every, i, estimate, deviation, whole[i])
				}
				t.Logf("%s, one in %d, number %d: estimated %.0f ± %.0f, there are %.0f", formula, every, i, estimate, deviation, whole[i])
			}
		}
	}
}

// TestSampleGoesOn continues a sample where it was stopped.
func TestSampleGoesOn(t *testing.T) {
	s := space(t, "C7H14O", Options{LowestValences: true})
	newWork := func() func(*Structure) (string, bool) {
		return func(st *Structure) (string, bool) { return st.SMILES(), true }
	}
	var whole []string
	var after []Position
	err := Run(context.Background(), s, Runner{Workers: 2, Every: 5}, newWork, func(text string, p Position) error {
		whole, after = append(whole, text), append(after, p)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	at := len(whole) / 3
	rest := whole[: at+1 : at+1]
	err = Run(context.Background(), s, Runner{Workers: 1, Every: 5, From: after[at]}, newWork, func(text string, _ Position) error {
		rest = append(rest, text)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(rest) != len(whole) {
		t.Fatalf("%d structures with a stop, %d without", len(rest), len(whole))
	}
	for i := range whole {
		if whole[i] != rest[i] {
			t.Fatalf("structure %d is %s with a stop, %s without", i, rest[i], whole[i])
		}
	}
}
