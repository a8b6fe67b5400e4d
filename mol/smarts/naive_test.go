package smarts

import (
	"math/rand/v2"
	"testing"

	"ionwright/mol"
	"ionwright/mol/smiles"
)

// naive finds a pattern by trying every atom for every atom of the pattern,
// in the order in which they are written: no plan, program, census or memo.
type naive struct {
	t    *Target
	envs *environments
}

func (n *naive) search(q *query, lies []int, found func([]int) bool) bool {
	at := len(lies)
	if at == len(q.atoms) {
		return found(lies)
	}
	for atom := range n.t.atoms {
		if !n.fits(q, lies, at, atom) {
			continue
		}
		if n.search(q, append(lies, atom), found) {
			return true
		}
	}
	return false
}

func (n *naive) fits(q *query, lies []int, at, atom int) bool {
	for _, other := range lies {
		if other == atom {
			return false
		}
	}
	for _, b := range q.bonds {
		if b.b != at {
			continue
		}
		kind, ok := n.bond(lies[b.a], atom)
		if !ok || !b.mask.has(kind) {
			return false
		}
	}
	return n.holds(q.atoms[at].expr, atom)
}

func (n *naive) bond(i, j int) (bondKind, bool) {
	b, ok := n.t.mol.BondBetween(i, j)
	if !ok {
		return 0, false
	}
	kind := bondKind(n.t.mol.Bond(b).Order - mol.Single)
	if n.t.mol.RingBond(b) {
		kind += kindInRing
	}
	return kind, true
}

func (n *naive) holds(e *expr, atom int) bool {
	switch e.op {
	case opLiteral:
		return e.lit.holds(&n.t.atoms[atom])
	case opNot:
		return !n.holds(e.kids[0], atom)
	case opRecursive:
		q := n.envs.list[e.rec].query
		return n.holds(q.atoms[0].expr, atom) &&
			n.search(q, []int{atom}, func([]int) bool { return true })
	}
	for _, kid := range e.kids {
		if n.holds(kid, atom) != (e.op == opAnd) {
			return e.op == opOr
		}
	}
	return e.op == opAnd
}

// ways counts the ways in which a pattern lies on a target.
func (n *naive) ways(q *query) int {
	ways := 0
	n.search(q, nil, func([]int) bool { ways++; return false })
	return ways
}

// small are molecules for comparing with the naive search.
var small = []string{
	"CCO", "CC(C)=O", "c1ccccc1", "CC#N", "C[N+](=O)[O-]", "[2H]OC", "C1CC1C(=O)O", "NC(=O)c1ccco1",
	"C1CC2CC1C2", "Clc1cc[nH]c1", "C[Si](C)(C)OC", "[NH4+].[Cl-]", "CS(C)(=O)=O", "[13CH3]C=C", "BrCCI", "C",
}

func targets(t testing.TB) []*Target {
	var all []*Target
	for _, text := range small {
		m, err := smiles.Parse(text)
		if err != nil {
			t.Fatal(err)
		}
		target := Prepare(m)
		target.needSizes()
		all = append(all, target)
	}
	return all
}

// sameAsNaive compares all ways in which a pattern lies on the targets.
func sameAsNaive(t *testing.T, pattern string, all []*Target) {
	t.Helper()
	envs := &environments{byText: map[string]int{}}
	q, err := parse(pattern, envs)
	if err != nil {
		t.Fatal(err)
	}
	p := MustCompile(pattern)
	var mt Matcher
	for i, target := range all {
		mt.Use(target)
		n := naive{t: target, envs: envs}
		want, got := n.ways(q), mt.CountAll(p)
		if got != want {
			t.Errorf("%s in %s: lies in %d ways, the naive search says %d", pattern, small[i], got, want)
		}
		if mt.Match(p) != (want > 0) {
			t.Errorf("%s in %s: Match says %v, the naive search finds %d ways", pattern, small[i], !(want > 0), want)
		}
	}
}

// randomPattern writes a pattern of a few atoms, some in brackets with logic,
// some with environments.
func randomPattern(r *rand.Rand, depth int) string {
	pick := func(from ...string) string { return from[r.IntN(len(from))] }
	primitive := func() string {
		if depth > 0 && r.IntN(6) == 0 {
			return "$(" + randomPattern(r, depth-1) + ")"
		}
		return pick("C", "c", "N", "O", "#6", "#7", "#8", "#1", "*", "a", "A", "D1", "D2", "D3", "X2", "X3", "X4", "H0", "H1", "H2", "H3",
			"h", "h1", "v2", "v3", "v4", "R", "R0", "R1", "R2", "r3", "r4", "r5", "r6", "x2", "x", "+0", "+", "-", "2*", "0*", "Cl", "Si")
	}
	atom := func() string {
		if r.IntN(3) == 0 {
			return pick("C", "C", "c", "*", "N", "O", "A", "a")
		}
		text := "["
		for i := range 1 + r.IntN(4) {
			if i > 0 {
				text += pick("&", ",", ";", ";", "")
				if text[len(text)-1] >= '0' && text[len(text)-1] <= '9' || text[len(text)-1] >= 'A' {
					text += ";"
				}
			}
			text += pick("", "", "!", "!!") + primitive()
		}
		return text + "]"
	}
	bond := func() string {
		return pick("", "", "", "", "-", "=", "#", ":", "~", "~", "@", "!@", "-,=", "!-", "~;!@", "=,#;!@")
	}
	text, closing := atom(), r.IntN(4) == 0
	if closing {
		text += bond() + "1"
	}
	for range r.IntN(4) {
		switch r.IntN(6) {
		case 0:
			text += "(" + bond() + atom() + ")"
		case 1:
			if !closing {
				text += "." + atom()
			}
		default:
			text += bond() + atom()
		}
	}
	if closing {
		text += "~" + atom() + "~" + atom() + "1"
	}
	return text
}

// The search agrees with the naive one on random patterns.
func TestSameAsNaive(t *testing.T) {
	all := targets(t)
	r := rand.New(rand.NewPCG(1, 2))
	compiled, matched := 0, 0
	for range 5000 {
		pattern := randomPattern(r, 2)
		if _, err := Compile(pattern); err != nil {
			continue // two primitives that read as a third, or bonds that clash
		}
		compiled++
		sameAsNaive(t, pattern, all)
		for i := range all {
			if MustCompile(pattern).Match(all[i].mol) {
				matched++
			}
		}
		if t.Failed() {
			return
		}
	}
	t.Logf("%d patterns compiled, %d matches", compiled, matched)
	if compiled < 3000 || matched < 3000 {
		t.Errorf("the random patterns test too little: %d compiled, %d matches", compiled, matched)
	}
}

// The normal form of an expression means the same as the expression.
func TestNormalForm(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	var random func(depth int) *expr
	random = func(depth int) *expr {
		o := op(r.IntN(5))
		if depth == 0 || o == opLiteral || o == opRecursive {
			fields := []field{fieldElement, fieldAromatic, fieldInRing, fieldCharge, fieldHs, fieldIsotope, fieldSmallest}
			return primitive(is(fields[r.IntN(len(fields))], r.IntN(3)))
		}
		if o == opNot {
			return not(random(depth - 1))
		}
		var kids []*expr
		for range 1 + r.IntN(4) {
			kids = append(kids, random(depth-1))
		}
		return join(o, kids)
	}
	for range 3000 {
		e := random(4)
		normal, negated := e.normal(false), e.normal(true)
		var code program
		entry := code.add(normal, accept, reject)
		possible := normal.possible(fieldHs, nil)
		for range 50 {
			a := features{}
			for _, f := range []field{fieldElement, fieldAromatic, fieldInRing, fieldCharge, fieldHs, fieldIsotope, fieldSmallest} {
				a = a.with(f, r.IntN(3))
			}
			n := naive{t: &Target{atoms: []features{a}}}
			want := n.holds(e, 0)
			s := search{mt: &Matcher{target: n.t}, plan: &plan{code: code}}
			switch {
			case n.holds(normal, 0) != want:
				t.Fatalf("the normal form of %+v differs", e)
			case n.holds(negated, 0) == want:
				t.Fatalf("the negated normal form of %+v differs", e)
			case s.passes(entry, 0) != want:
				t.Fatalf("the program of %+v differs", e)
			case normal.might(&a, nil) != want:
				t.Fatalf("might of %+v differs", e)
			case want && !possible.has(a.get(fieldHs)):
				t.Fatalf("possible of %+v lacks %d", e, a.get(fieldHs))
			}
		}
	}
}
