package source

import (
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/yuin/goldmark/ast"
)

const forTwo = `---
title: T
compounds: { solvent: CCC(C)=O }
audiences:
  organic: organic chemists
  health: pre-health students
glossary:
  base peak: the strongest
    peak
  shadow: a second peak
---

For all.

~~~only
audience: health
says: For health.
~~~

~~~only
audience: [organic]
file: part.md
~~~

~~~glossary
terms: [shadow, Base Peak]
~~~
`

// said gives the words of a lesson's paragraphs.
func said(l *Lesson) string {
	var out []string
	l.Walk(func(p *Prose, n ast.Node) {
		if s, ok := Plain(p, n); ok {
			out = append(out, s.Words)
		}
	})
	return strings.Join(out, "|")
}

func TestAlternativesByAudience(t *testing.T) {
	files := fstest.MapFS{"lesson.md": {Data: []byte(forTwo)}, "part.md": {Data: []byte("From a file.\n")}}
	for _, test := range []struct{ key, audience, says string }{
		{"", "organic chemists", "For all.|From a file.|base peak: the strongest peak|shadow: a second peak"},
		{"organic", "organic chemists", "For all.|From a file.|base peak: the strongest peak|shadow: a second peak"},
		{"health", "pre-health students", "For all.|For health.|base peak: the strongest peak|shadow: a second peak"},
	} {
		var chosen fs.FS = files
		if test.key != "" {
			chosen = ForAudience(files, test.key)
		}
		l, found := Parse(chosen)
		if len(found) > 0 {
			t.Fatalf("%q: %v", test.key, found)
		}
		if got := said(l); got != test.says || l.Audience.Value != test.audience {
			t.Errorf("%q: for %q: %q, want %q", test.key, l.Audience.Value, got, test.says)
		}
	}
	_, found := Parse(ForAudience(files, "helth"))
	if len(found) != 1 || !strings.Contains(found[0].String(), `did you mean "health"?`) {
		t.Errorf("an unknown audience: %v", found)
	}
}
