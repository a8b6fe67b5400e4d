package source

import (
	"strings"
	"testing"
	"testing/fstest"

	"ionwright/lesson/notation"
)

func TestNotation(t *testing.T) {
	for _, test := range []struct {
		says  string
		name  string
		noDot bool
		wrong string // in the diagnostic; empty: none
	}{
		{"", "", false, ""},
		{"notation: iupac", notation.IUPAC, false, ""},
		{"notation: exam-board", notation.ExamBoard, true, ""},
		{"notation: { profile: exam-board, dot: yes }", notation.ExamBoard, false, ""},
		{"notation: { profile: exam-board, dot: maybe }", notation.ExamBoard, true, `must be yes or no, not "maybe"`},
		{"notation: exam-bord", "", false, `did you mean "exam-board"?`},
		{"notation: { dots: no }", notation.IUPAC, false, `did you mean "dot"?`},
		{"notation: [iupac]", notation.IUPAC, false, "the notation needs keys"},
	} {
		l, diags := Parse(fstest.MapFS{Main: {Data: []byte("---\ntitle: T\ncompounds: { a: CC }\n" + test.says + "\n---\n")}})
		text := ""
		for _, d := range diags {
			text += d.String() + "\n"
		}
		if test.wrong == "" && text != "" || !strings.Contains(text, test.wrong) {
			t.Errorf("%s: %q, want %q", test.says, text, test.wrong)
		}
		if l.Notation.Name != test.name || l.Notation.NoDot != test.noDot {
			t.Errorf("%s: %+v", test.says, l.Notation)
		}
	}
}
