package check

import (
	"context"
	"fmt"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"ionwright/lesson/diag"
)

// alarms are the codes that say that something is wrong. number-unchecked says
// of a number that nothing checks it, right or wrong, and isn't counted.
var alarms = map[diag.Code]bool{
	diag.ProseFalse: true, diag.TextFalse: true, diag.ClaimFalse: true, diag.TermDiscouraged: true, diag.BadExpression: true, diag.UnknownName: true,
}

// taughtLesson is a lesson with the taught compounds and one paragraph a
// statement, and gives the line on which each begins.
func taughtLesson(statements []string) (text string, lines []int) {
	var b strings.Builder
	b.WriteString("---\ntitle: Seeded\ncompounds:\n")
	for _, c := range taught {
		fmt.Fprintf(&b, "  %s: { name: %s, smiles: %s, computed: yes }\n", c.key, c.name, c.smiles)
	}
	b.WriteString("instruments:\n  marigold: { radius: 25 cm, voltage: 4 kV }\n---\n")
	for _, s := range statements {
		b.WriteString("\n")
		lines = append(lines, strings.Count(b.String(), "\n")+1)
		b.WriteString(s + "\n")
	}
	return b.String(), append(lines, strings.Count(b.String(), "\n")+2)
}

// alarmsIn checks a lesson of statements and gives the alarms of each.
func alarmsIn(t *testing.T, statements []string) [][]diag.Diagnostic {
	t.Helper()
	text, lines := taughtLesson(statements)
	_, found, err := Check(context.Background(), fstest.MapFS{"lesson.md": {Data: []byte(text)}})
	if err != nil {
		t.Fatal(err)
	}
	out := make([][]diag.Diagnostic, len(statements))
	for _, d := range found {
		if !alarms[d.Code] {
			continue
		}
		i := 0
		for i < len(statements) && d.Line >= lines[i+1] {
			i++
		}
		if i == len(statements) || d.Line < lines[0] {
			t.Errorf("outside of the statements: %s", d)
			continue
		}
		out[i] = append(out[i], d)
	}
	return out
}

// judged checks seeds with their wrong and with their right values, and gives
// how many of the mistakes were found.
func judged(t *testing.T, list []seed) (found int) {
	t.Helper()
	var right, wrong []string
	for _, s := range list {
		right, wrong = append(right, s.with(s.right)), append(wrong, s.with(s.wrong))
	}
	for i, ds := range alarmsIn(t, right) {
		for _, d := range ds {
			t.Errorf("false alarm in %q: %s", right[i], d)
		}
	}
	missed := map[string]int{}
	for i, ds := range alarmsIn(t, wrong) {
		if len(ds) > 0 {
			found++
			continue
		}
		missed[list[i].kind]++
		t.Logf("not found: %s: %s", list[i].kind, wrong[i])
	}
	t.Logf("%d of %d found; not found: %v", found, len(list), missed)
	return found
}

// TestSeededMistakes puts mistakes into lessons one by one.
func TestSeededMistakes(t *testing.T) {
	list := seeds()
	if len(list) < 200 {
		t.Fatalf("only %d seeds", len(list))
	}
	if found := judged(t, list); 100*found < 95*len(list) {
		t.Errorf("%d of %d mistakes found, want 95 %%", found, len(list))
	}
}

// rows reads a file of testdata with fields between bars.
func rows(t *testing.T, name string, fields int) [][]string {
	t.Helper()
	text, err := os.ReadFile("testdata/seeded/" + name)
	if err != nil {
		t.Fatal(err)
	}
	var out [][]string
	for line := range strings.Lines(string(text)) {
		row := strings.Split(strings.TrimSpace(line), " | ")
		if len(row) != fields {
			t.Fatalf("%s: %q has %d fields, want %d", name, line, len(row), fields)
		}
		out = append(out, row)
	}
	return out
}

// TestOtherWordings are seeds in wordings that the rules weren't written from:
// those of heldout.txt were written before, those of public.txt follow public
// texts (a textbook's answer page, glossaries, question banks). The counts are
// what was found when they were first tried, heldout.txt before the rules were
// widened and public.txt after; they may only grow.
func TestOtherWordings(t *testing.T) {
	for _, file := range []struct {
		name  string
		first int // found at the first try
	}{{"heldout.txt", 24}, {"public.txt", 22}} {
		var list []seed
		for _, row := range rows(t, file.name, 4) {
			list = append(list, seed{row[0], row[3], row[1], row[2]})
		}
		if found := judged(t, list); found < file.first {
			t.Errorf("%s: %d of %d found, and %d at the first try", file.name, found, len(list), file.first)
		}
	}
}

// TestRightStatements puts statements from textbooks and standards into
// lessons, each in our own words with the source's values: one by one, and all
// in one paragraph.
func TestRightStatements(t *testing.T) {
	var right []string
	for _, row := range rows(t, "right.txt", 2) {
		right = append(right, row[1])
	}
	if len(right) < 100 {
		t.Fatalf("only %d statements", len(right))
	}
	for i, ds := range alarmsIn(t, append(right, strings.Join(right, "\n"))) {
		for _, d := range ds {
			t.Errorf("false alarm in statement %d: %s", i+1, d)
		}
	}
}
