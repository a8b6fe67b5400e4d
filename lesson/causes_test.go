package lesson_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"ionwright/internal/witness"
	"ionwright/practice"
	"ionwright/practice/cause"
)

// TestQuestionsAreDocumented looks for every kind, mistake and thing to ask for
// in the documentation of lessons.
func TestQuestionsAreDocumented(t *testing.T) {
	text, err := os.ReadFile(filepath.Join(witness.Root(), "docs", "lesson.md"))
	if err != nil {
		t.Fatal(err)
	}
	var want []string
	for _, k := range practice.Kinds() {
		want = append(want, fmt.Sprintf("| `%s` | ", k.Name))
	}
	for _, c := range cause.All() {
		want = append(want, fmt.Sprintf("| `%s` | %s |", c.Code, c.Rule))
	}
	for _, a := range cause.AsksNames() {
		want = append(want, "`"+a.Name+"`")
	}
	for _, w := range want {
		if !strings.Contains(string(text), w) {
			t.Errorf("docs/lesson.md lacks %q", w)
		}
	}
}
