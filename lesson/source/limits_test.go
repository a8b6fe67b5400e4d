package source

import (
	"strings"
	"testing"
	"testing/fstest"

	"ionwright/lesson/diag"
)

// parseAll parses hostile text; nothing but ending is asked of it.
func parseAll(text string) (*Lesson, diag.List) {
	return Parse(fstest.MapFS{Main: &fstest.MapFile{Data: []byte(text)}})
}

const frontMatter = "---\ntitle: T\ncompounds: { a: C }\n---\n\n"

// TestHostileSourcesEnd gives what makes parsers slow or deep; the test's own
// time limit is the check.
func TestHostileSourcesEnd(t *testing.T) {
	const many = maxParagraph/3 - 10 // the repeated pieces have one to six bytes
	for name, text := range map[string]string{
		"nothing":             "",
		"only hyphens":        strings.Repeat("---\n", many),
		"brackets in YAML":    "---\na: " + strings.Repeat("[", many) + "\n---\n",
		"braces in YAML":      "---\na: " + strings.Repeat("{a: ", many) + "\n---\n",
		"sequences in YAML":   "---\n" + strings.Repeat("- ", many) + "\n---\n",
		"quotations":          frontMatter + strings.Repeat(">", many) + "\n",
		"lists":               frontMatter + strings.Repeat("- ", many) + "\n",
		"brackets":            frontMatter + strings.Repeat("[", many) + strings.Repeat("]", many) + "\n",
		"open values":         frontMatter + strings.Repeat("{{ ", many) + "\n",
		"open checks":         frontMatter + strings.Repeat("[a]{= ", many/2) + "\n",
		"emphasis":            frontMatter + strings.Repeat("*a_", many) + "\n",
		"fences":              frontMatter + strings.Repeat("```claim\n\n", many),
		"a long line":         frontMatter + strings.Repeat("a", maxParagraph-1) + "\n",
		"a reserved word":     "---\ntitle: T\ncompounds: { \"if\": C, \"\": C, ? [a, b] : C }\n---\n",
		"not text":            "---\n\x00\xff\xfe",
		"bidirectional marks": frontMatter + "\u202e\u2066{{ a }}\n",
	} {
		t.Run(name, func(t *testing.T) { parseAll(text) })
	}
}

func TestTooLargeAFile(t *testing.T) {
	for _, text := range []string{strings.Repeat("words\n\n", maxFile/7), strings.Repeat("words ", maxParagraph/6+1)} {
		l, diags := parseAll(frontMatter + text)
		if l != nil || len(diags) != 1 || diags[0].Code != diag.TooLarge {
			t.Errorf("got %v, want one %s", diags, diag.TooLarge)
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, info := range diag.Codes() {
		f.Add(info.Example)
	}
	f.Fuzz(func(t *testing.T, text string) {
		l, diags := parseAll(text)
		for _, d := range diags {
			if d.File == "" || d.Message == "" {
				t.Errorf("a diagnostic without place or words: %+v", d)
			}
		}
		if l == nil && !diags.HasErrors() {
			t.Error("no lesson and no error")
		}
	})
}
