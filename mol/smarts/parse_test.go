package smarts

import (
	"errors"
	"strings"
	"testing"
)

// What is refused, where, and why: our own wording throughout.
var refused = []struct {
	pattern  string
	position int
	problem  string
}{
	{"", 1, "the pattern is empty"},
	{"C(", 3, "expected an atom, found the end"},
	{"C(C", 2, "the branch that opens here isn't closed"},
	{"C)", 2, `this ")" closes nothing`},
	{"C()C", 3, "the branch is empty"},
	{"C((C))C", 3, "a branch can't start with another branch"},
	{"C(.C)C", 3, `a branch can't start with "."`},
	{"C(C.C)C", 4, `a "." within a branch`},
	{"C(C=)C", 5, `expected an atom, found ")"`},
	{"(C).(C)", 1, "grouping of components by parentheses isn't supported"},
	{"C.(C)", 3, "grouping of components by parentheses isn't supported"},
	{"[$((C)C)]", 4, "an environment can't start with a branch"},
	{"C..C", 3, `expected an atom, found "."`},
	{".C", 1, `expected an atom, found "."`},
	{"C.", 3, "expected an atom, found the end"},
	{"C>>C", 2, "reactions aren't supported"},
	{"C->C", 2, "dative bonds aren't supported"},
	{"F/C=C/F", 2, "bonds with a direction aren't supported"},
	{`F\C=C/F`, 2, "bonds with a direction aren't supported"},
	{"C!C", 3, `expected a bond, found "C"`},
	{"C-,C", 4, `expected a bond, found "C"`},
	{"C1CC", 2, `ring closure 1 of "C1CC" isn't closed`},
	{"C12CC1", 3, `ring closure 2 of "C12CC1" isn't closed`},
	{"[$(C1CC)]", 5, `ring closure 1 of "C1CC" isn't closed`},
	{"C11", 3, "ring closure 1 binds an atom to itself"},
	{"C1C1", 4, "ring closure 1 binds two atoms that have a bond already"},
	{"C12CC12", 7, "ring closure 2 binds two atoms that have a bond already"},
	{"C=1CC#1", 7, "ring closure 1 has one bond at one end and another at the other"},
	{"C%1CC%1", 2, `"%" without two digits`},
	{"C%(1CC", 2, `"%(" without a number and ")"`},
	{"C%(99999)", 4, "a number too large"},
	{"H", 1, `"H" outside brackets`},
	{"CX", 2, `"X" isn't an atom that may stand without brackets`},
	{"Si", 2, `"i" isn't an atom that may stand without brackets`},
	{"C C", 2, `expected an atom, found " "`},
	{"Cé", 2, `expected an atom, found "é"`},
	{"[", 1, "the brackets that open here aren't closed"},
	{"[]", 1, "the brackets are empty"},
	{"[C", 1, "the brackets that open here aren't closed"},
	{"[!", 1, "the brackets that open here aren't closed"},
	{"[C;]", 4, `"]" is no property of an atom`},
	{"[,C]", 2, `"," is no property of an atom`},
	{"[C&]", 4, `"]" is no property of an atom`},
	{"[C:]", 4, `expected the number of the atom after ":", found "]"`},
	{"[C12]", 3, "a number that belongs to nothing"},
	{"[C@H]", 3, "chirality isn't supported"},
	{"[C^2]", 3, `"^" isn't supported`},
	{"[D{2-3}]", 3, `"{" isn't supported`},
	{"[(C)]", 2, `"(" is no property of an atom`},
	{"[G]", 2, `"G" is no property of an atom`},
	{"[#]", 2, `"#" without a number`},
	{"[#119]", 2, `"#119" is no element`},
	{"[C+200]", 3, "a charge too large"},
	{"[D12345]", 3, "a number too large"},
	{"[$C]", 2, `"$" without "("`},
	{"[$()]", 2, "the environment is empty"},
	{"[$(C]", 5, `expected an atom, found "]"`},
	{"[$(C", 2, "the environment that opens here isn't closed"},
	{"[$(C(C", 5, "the branch that opens here isn't closed"},
	{"[$(C)", 1, "the brackets that open here aren't closed"},
}

func TestRefused(t *testing.T) {
	for _, c := range refused {
		_, err := Compile(c.pattern)
		var e *Error
		if !errors.As(err, &e) {
			t.Errorf("%q: compiles, expected at %d: %s", c.pattern, c.position, c.problem)
			continue
		}
		if e.Position != c.position || e.Problem != c.problem {
			t.Errorf("%q: got position %d, %s; expected position %d, %s", c.pattern, e.Position, e.Problem, c.position, c.problem)
		}
		if e.Hint == "" {
			t.Errorf("%q: the error has no hint", c.pattern)
		}
		if e.Pattern != c.pattern {
			t.Errorf("%q: the error quotes %q", c.pattern, e.Pattern)
		}
	}
}

func TestErrorText(t *testing.T) {
	_, err := Compile("CC(C")
	const want = "compiling SMARTS \"CC(C\": at character 3: the branch that opens here isn't closed\nhint: close it with \")\""
	if err == nil || err.Error() != want {
		t.Errorf("got %v, expected %s", err, want)
	}
	long := strings.Repeat("C", 200) + "!" + strings.Repeat("N", 200)
	_, err = Compile(long)
	if err == nil || len(err.Error()) > 300 || !strings.Contains(err.Error(), `…"CCCC`) {
		t.Errorf("a long pattern isn't cut to the place of the problem: %v", err)
	}
}

// Hostile patterns are refused, or compiled, in a moment and in little room.
func TestLimits(t *testing.T) {
	repeat := strings.Repeat
	for name, c := range map[string]struct {
		pattern string
		refused bool
	}{
		"long":             {repeat("C", maxLength+1), true},
		"many atoms":       {repeat("C", maxAtoms+1), true},
		"most atoms":       {repeat("C", maxAtoms), false},
		"most parts":       {repeat("C.", maxAtoms-1) + "C", false},
		"many negations":   {"[" + repeat("!", 30000) + "C]", false},
		"many branches":    {repeat("C(", 4000) + "C" + repeat(")", 4000), false},
		"open branches":    {repeat("C(", 4000), true},
		"deep":             {repeat("[$(", maxNesting) + "C" + repeat(")]", maxNesting), false},
		"too deep":         {repeat("[$(", maxNesting+1) + "C" + repeat(")]", maxNesting+1), true},
		"open and deep":    {repeat("[$(", 10000), true},
		"many properties":  {"[" + repeat("C,", 16000) + "C]", false},
		"deep and wide":    {repeat("[$(", maxNesting) + "[" + repeat("#6,", 10000) + "C]" + repeat(")]", maxNesting), false},
		"many closures":    {"C" + closures(4000) + "C" + closures(4000), true},
		"many bonds":       {"C" + repeat("!-,", 10000) + "=C", false},
		"many environment": {"[" + repeat("$(C),", 6000) + "C]", false},
	} {
		_, err := Compile(c.pattern)
		if (err != nil) != c.refused {
			t.Errorf("%s: refused: %v, expected %v: %.200v", name, err != nil, c.refused, err)
		}
	}
}

func closures(n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString("%(")
		b.WriteString(string(rune('0'+i/1000)) + string(rune('0'+i/100%10)) + string(rune('0'+i/10%10)) + string(rune('0'+i%10)))
		b.WriteByte(')')
	}
	return b.String()
}
