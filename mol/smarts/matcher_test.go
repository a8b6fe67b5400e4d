package smarts_test

import (
	"errors"
	"math"
	"slices"
	"sync"
	"testing"

	"ionwright/mol"
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

func TestFindOrder(t *testing.T) {
	p := smarts.MustCompile("C(C)O")
	m := parse(t, "OC(C)CC(C)O")
	// Atoms of the pattern in the pattern's order, places in lexical order;
	// read off the structure by hand.
	want := [][]int{{1, 2, 0}, {1, 3, 0}, {4, 3, 6}, {4, 5, 6}}
	if got := p.Find(m); !slices.EqualFunc(got, want, slices.Equal) {
		t.Errorf("got %v, expected %v", got, want)
	}
}

// Of the ways in which a pattern lies on the same atoms Find gives the first.
func TestFindGivesFirstWay(t *testing.T) {
	p := smarts.MustCompile("CC")
	m := parse(t, "CC")
	if got := p.Find(m); !slices.EqualFunc(got, [][]int{{0, 1}}, slices.Equal) {
		t.Errorf("got %v, expected the one pair", got)
	}
	var mt smarts.Matcher
	mt.Load(m)
	if got := mt.FindAll(p); !slices.EqualFunc(got, [][]int{{0, 1}, {1, 0}}, slices.Equal) {
		t.Errorf("got %v, expected both directions", got)
	}
	if got := mt.CountAll(p); got != 2 {
		t.Errorf("CountAll says %d, expected both directions", got)
	}
	if got := mt.Count(p); got != 1 {
		t.Errorf("Count says %d, expected the one pair", got)
	}
}

// The sets of atoms are told apart whatever the size of the molecule, and
// however many there are.
func TestCountInLargeMolecules(t *testing.T) {
	chain := func(n int) string { return string(slices.Repeat([]byte("C"), n)) }
	p := smarts.MustCompile("C~C~C")
	any2 := smarts.MustCompile("C.C")
	var mt smarts.Matcher
	for _, n := range []int{3, 63, 64, 65, 128, 129, 300} {
		mt.Load(parse(t, chain(n)))
		if got := mt.Count(p); got != n-2 {
			t.Errorf("a chain of %d: %d triples, expected %d", n, got, n-2)
		}
		if got := mt.Count(any2); got != n*(n-1)/2 {
			t.Errorf("a chain of %d: %d pairs, expected %d", n, got, n*(n-1)/2)
		}
	}
}

func TestClass(t *testing.T) {
	p := smarts.MustCompile("[CH3:2]O[*:12]")
	if p.NumAtoms() != 3 || p.Class(0) != 2 || p.Class(1) != 0 || p.Class(2) != 12 {
		t.Errorf("classes %d %d %d of %d atoms", p.Class(0), p.Class(1), p.Class(2), p.NumAtoms())
	}
}

// A search that takes too long is given up, and says so.
func TestLimit(t *testing.T) {
	// A ring of 21 in a sheet of hexagons, which has even rings only: the number
	// of chains to try grows exponentially with their length.
	sheet := parse(t, "c1cc2ccc3ccc4ccc5ccc6ccc1c7c2c3c4c5c67")
	p := smarts.MustCompile("*~1~*~*~*~*~*~*~*~*~*~*~*~*~*~*~*~*~*~*~*~*~1")
	mt := smarts.Matcher{Limit: 1000}
	mt.Load(sheet)
	if mt.Match(p) {
		t.Error("found what isn't there")
	}
	if !errors.Is(mt.Err(), smarts.ErrLimit) {
		t.Errorf("the error is %v", mt.Err())
	}
	mt.Load(sheet)
	if mt.Err() != nil {
		t.Errorf("a new molecule still has the error %v", mt.Err())
	}
	if !mt.Match(smarts.MustCompile("c1ccccc1")) || mt.Err() != nil {
		t.Errorf("an easy pattern isn't found after one that was given up: %v", mt.Err())
	}
	// What an environment would have said before it was given up must not
	// count as an answer.
	not := smarts.MustCompile("[!$(*~1~*~*~*~*~*~*~*~*~*~*~*~*~*~*~*~*~*~*~*~*~1)]")
	if mt.Match(not) || mt.Err() == nil {
		t.Errorf("an environment that was given up counts as absent: %v", mt.Err())
	}
}

func TestNoAllocations(t *testing.T) {
	var all []string
	all = append(append(all, scored...), odd...)
	set, err := smarts.CompileSet(all...)
	if err != nil {
		t.Fatal(err)
	}
	molecules := []*mol.Mol{
		parse(t, "CC(=O)Oc1ccccc1C(=O)O"), parse(t, "CN1C=NC2=C1C(=O)N(C(=O)N2C)C"), parse(t, "CC12CCC3C(CCC4=CC(=O)CCC34C)C1CCC2O"),
	}
	for _, m := range molecules {
		m.Rings() // kept by the molecule
	}
	var mt smarts.Matcher
	run := func() {
		for _, m := range molecules {
			mt.Load(m)
			for i := range set.Len() {
				p := set.Pattern(i)
				mt.Match(p)
				mt.Count(p)
				for range mt.All(p) {
					break
				}
			}
		}
	}
	run()
	if n := testing.AllocsPerRun(10, run); n != 0 {
		t.Errorf("%v allocations in matching molecules that have been seen before", n)
	}
}

// Patterns and targets serve many goroutines at once (run with -race).
func TestConcurrent(t *testing.T) {
	set, err := smarts.CompileSet(odd...)
	if err != nil {
		t.Fatal(err)
	}
	target := smarts.Prepare(parse(t, "CC12CCC3C(CCC4=CC(=O)CCC34C)C1CCC2O"))
	counts := make([][]int, 8)
	var group sync.WaitGroup
	for g := range counts {
		group.Go(func() {
			var mt smarts.Matcher
			mt.Use(target)
			for i := range set.Len() {
				counts[g] = append(counts[g], mt.Count(set.Pattern(i)))
			}
		})
	}
	group.Wait()
	for g := range counts {
		if !slices.Equal(counts[g], counts[0]) {
			t.Errorf("goroutine %d counts %v, another %v", g, counts[g], counts[0])
		}
	}
}

// What a set's patterns learn from environments doesn't leak from molecule to
// molecule, or from set to set.
func TestMemoForgets(t *testing.T) {
	ketone := smarts.MustCompile("[$(C=O)]")
	other := smarts.MustCompile("[$(CO)]")
	var mt smarts.Matcher
	for range 3 {
		for _, c := range []struct {
			smiles        string
			ketone, other int
		}{{"CC(C)=O", 1, 0}, {"CC(C)O", 0, 1}, {"CC(O)=O", 1, 1}, {"CCCC", 0, 0}} {
			mt.Load(parse(t, c.smiles))
			if k, o := mt.Count(ketone), mt.Count(other); k != c.ketone || o != c.other {
				t.Errorf("%s: %d and %d, expected %d and %d", c.smiles, k, o, c.ketone, c.other)
			}
		}
	}
}

// Ring sizes are those of the molecule that is loaded, whichever pattern asked
// for them first.
func TestSizesFollowTheMolecule(t *testing.T) {
	five, six := smarts.MustCompile("[r5]"), smarts.MustCompile("[$([R1]~[r6])]")
	var mt smarts.Matcher
	for range 2 {
		for _, c := range []struct {
			smiles    string
			five, six int
		}{{"C1CCCC1", 5, 0}, {"C1CCCCC1", 0, 6}, {"CCCCCCCC", 0, 0}, {"C1CCC2CCCCC12", 5, 4}} {
			mt.Load(parse(t, c.smiles))
			if f, s := mt.Count(five), mt.Count(six); f != c.five || s != c.six {
				t.Errorf("%s: %d and %d, expected %d and %d", c.smiles, f, s, c.five, c.six)
			}
		}
	}
}

func TestMatcherWithoutMolecule(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("a Matcher without a molecule doesn't panic")
		}
	}()
	mt := smarts.Matcher{Limit: math.MaxInt}
	mt.Match(smarts.MustCompile("C"))
}
