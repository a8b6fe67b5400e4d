package source

import (
	"testing"
	"testing/fstest"

	"github.com/yuin/goldmark/ast"

	"ionwright/lesson/diag"
)

// lesson parses a single-file lesson and fails on diagnostics.
func lesson(t *testing.T, text string) *Lesson {
	t.Helper()
	l, diags := Parse(fstest.MapFS{Main: &fstest.MapFile{Data: []byte(text)}})
	for _, d := range diags {
		t.Errorf("unexpected: %s", d)
	}
	if l == nil {
		t.Fatal("no lesson")
	}
	return l
}

// sees fails unless the text stands where the file says that word stands.
func sees(t *testing.T, what string, got Text, value string, line, col int) {
	t.Helper()
	span := got.Place()
	if got.Value != value || span.Line != line || span.Col != col {
		t.Errorf("%s is %q at %d:%d, want %q at %d:%d", what, got.Value, span.Line, span.Col, value, line, col)
	}
}

func TestPlacesInFrontMatter(t *testing.T) {
	l := lesson(t, "\ufeff---\r\ntitle: The bottles of Grünau # a comment\r\ncompounds:\r\n"+
		"  flow: { name: Bottle é7, smiles: CCC(C)=O }\r\n"+
		"  block:\r\n    smiles: \"CCO\"\r\n    measured: 'data/b.jdx'\r\n"+
		"  short: CCCCC\r\n"+
		"ideas:\r\n  folded: >\r\n    one sentence\r\n    on two lines\r\n  plain: words that\r\n    go on\r\n---\r\n")
	sees(t, "title", l.Title, "The bottles of Grünau", 2, 8)
	sees(t, "flow smiles", l.Compounds[0].SMILES, "CCC(C)=O", 4, 36)
	sees(t, "flow name", l.Compounds[0].Name, "Bottle é7", 4, 17)
	sees(t, "quoted smiles", l.Compounds[1].SMILES, "CCO", 6, 14)
	sees(t, "measured", l.Compounds[1].Measured, "data/b.jdx", 7, 16)
	sees(t, "short", l.Compounds[2].SMILES, "CCCCC", 8, 10)
	folded := l.Ideas[0].Statement.Text
	sees(t, "folded", folded, "one sentence on two lines", 11, 5)
	sees(t, "folded, second line", folded.Sub(13, 15), "on", 12, 5)
	plain := l.Ideas[1].Statement.Text
	sees(t, "plain, second line", plain.Sub(11, 13), "go", 14, 5)
}

func TestPlacesInTheBody(t *testing.T) {
	l := lesson(t, `---
title: T
compounds: { a: C }
---
Ünder {{ a.b }} and [43]{= x["}"] } with \{{ no }} and `+"`{{ code }}`"+` [link](https://example.org).

## Heading {{ h }}
## With an id {#idea}

> quoted
> {{ q }}

1. item

   ~~~claim
   that: >
     one ==
     two
   says: It *is* {{ s }}
   ~~~
`)
	type found struct{ text, kind string }
	var got []found
	places := map[string][2]int{}
	keep := func(kind string, x Text) {
		x = x.Trimmed()
		got = append(got, found{x.Value, kind})
		places[x.Value] = [2]int{x.Place().Line, x.Place().Col}
	}
	ids := 0
	l.Walk(func(_ *Prose, n ast.Node) {
		switch n := n.(type) {
		case *Value:
			keep("value", n.Expr)
		case *Checked:
			keep("words", n.Written)
			keep("checks", n.Expr)
		case *Fenced:
			keep("claim", n.Block.(*Claim).That)
		case *ast.Heading:
			if id, ok := n.AttributeString("id"); ok && string(id.([]byte)) == "idea" {
				ids++
			}
		}
	})
	want := []found{{"a.b", "value"}, {"43", "words"}, {`x["}"]`, "checks"}, {"h", "value"}, {"q", "value"},
		{"one == two", "claim"}, {"s", "value"}}
	if len(got) != len(want) {
		t.Fatalf("found %v, want %v", got, want)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("found %v, want %v", got[i], want[i])
		}
	}
	for text, at := range map[string][2]int{"a.b": {5, 10}, "43": {5, 22}, `x["}"]`: {5, 28}, "h": {7, 15}, "q": {11, 6},
		"one == two": {17, 6}, "s": {19, 21}} {
		if places[text] != at {
			t.Errorf("%q stands at %v, want %v", text, places[text], at)
		}
	}
	if ids != 1 {
		t.Errorf("%d headings have the id, want 1", ids)
	}
}

func TestSpanEndsWithItsLine(t *testing.T) {
	x := fileText("f", "ab\ncdé\n")
	for _, c := range []struct {
		from, to int
		want     diag.Span
	}{
		{0, 2, diag.Span{File: "f", Line: 1, Col: 1, EndCol: 3}},
		{1, 5, diag.Span{File: "f", Line: 1, Col: 2, EndCol: 3}}, // the line's end doesn't count
		{5, 7, diag.Span{File: "f", Line: 2, Col: 3, EndCol: 4}},
		{8, 8, diag.Span{File: "f", Line: 3, Col: 1}},
	} {
		if got := x.Span(c.from, c.to); got != c.want {
			t.Errorf("Span(%d, %d) = %+v, want %+v", c.from, c.to, got, c.want)
		}
	}
}
