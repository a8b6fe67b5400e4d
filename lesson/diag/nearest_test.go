package diag

import "testing"

func TestNearest(t *testing.T) {
	names := []string{"basePeak", "molecularIon", "peak", "mass", "solvent"}
	for _, c := range []struct{ word, want string }{
		{"basPeak", "basePeak"}, // a letter left out
		{"basepeak", "basePeak"},
		{"baesPeak", "basePeak"}, // two letters swapped
		{"solvnet", "solvent"},
		{"mas", "mass"},
		{"ketone", ""},
		{"", ""},
		{"x", ""},
	} {
		got, ok := Nearest(c.word, names)
		if got != c.want || ok != (c.want != "") {
			t.Errorf("Nearest(%q) = %q, %v, want %q", c.word, got, ok, c.want)
		}
	}
}

func TestSortDropsRepetitions(t *testing.T) {
	at := func(line, col int) Span { return Span{File: "lesson.md", Line: line, Col: col} }
	l := List{New(ClaimFalse, at(9, 1), "late"), New(ClaimFalse, at(2, 7), "early"), New(ClaimFalse, at(2, 7), "early")}
	l.Sort()
	if len(l) != 2 || l[0].Line != 2 || l[1].Line != 9 {
		t.Errorf("sorted list is %v, want line 2 then line 9", l)
	}
}

func TestStringShowsClaimedBesideComputed(t *testing.T) {
	d := New(ClaimFalse, Span{File: "lesson.md", Line: 3, Col: 7}, "the claim %q is false", "a == 1").
		Against("1", "2").Noted("from the peaks of %s", "x").Suggesting("correct it")
	const want = `lesson.md:3:7: error: the claim "a == 1" is false [claim-false]
    claimed:  1
    computed: 2
    from the peaks of x
    hint: correct it`
	if got := d.String(); got != want {
		t.Errorf("text is\n%s\nwant\n%s", got, want)
	}
}
