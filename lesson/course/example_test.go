package course

import (
	"bytes"
	"context"
	"maps"
	"testing"

	"ionwright/lesson"
	"ionwright/lesson/cache"
	"ionwright/lesson/diag"
	"ionwright/lesson/example"
	"ionwright/lesson/pack"
	"ionwright/practice"
	"ionwright/practice/cause"
)

// TestTheExampleCourse builds the course that the program carries, without a
// warning, and a second time from the cache.
func TestTheExampleCourse(t *testing.T) {
	c := read(t, example.Course())
	ctx := own(t)
	var before map[string][]byte
	for range 2 {
		p, diags, err := c.Build(ctx, pack.Options{})
		if err != nil || p == nil || diags.Count(diag.Warning) > 0 {
			t.Fatal(diags, err)
		}
		if before != nil && !maps.EqualFunc(p.Files, before, bytes.Equal) {
			t.Error("from the cache the course has other bytes")
		}
		before = p.Files
	}
	const first = "1-sector"
	files, err := lesson.Of(example.Course(), first)
	if err != nil {
		t.Fatal(err)
	}
	p, diags, err := lesson.Build(cache.With(context.Background(), nil), files, pack.Options{})
	if err != nil || p == nil {
		t.Fatal(diags, err)
	}
	for name, data := range p.Files {
		if !bytes.Equal(before[first+"/"+name], data) {
			t.Errorf("%s has other bytes when everything is computed again", name)
		}
	}
}

// TestTheExampleCourseAsks looks at the questions of the example course: at
// least four of at least three kinds a lesson, each with a hint; all kinds;
// and every cause that is documented is among the mistakes that some question
// foresees.
func TestTheExampleCourseAsks(t *testing.T) {
	kinds, causes := map[practice.Kind]bool{}, map[cause.Code]bool{}
	c := read(t, example.Course())
	for _, l := range c.Source.Lessons {
		files, err := lesson.Of(example.Course(), l.Folder.Value)
		if err != nil {
			t.Fatal(err)
		}
		report, diags, err := lesson.Check(own(t), files)
		if err != nil || report == nil || diags.HasErrors() {
			t.Fatal(diags, err)
		}
		inLesson := map[practice.Kind]bool{}
		for _, q := range report.Practice() {
			inLesson[q.Key.Kind()] = true
			if len(q.Hints) == 0 {
				t.Errorf("%s: the question %q has no hint", l.Folder.Value, q.ID)
			}
			for _, code := range foreseen(q) {
				causes[code] = true
			}
		}
		if len(report.Questions) < 4 || len(inLesson) < 3 {
			t.Errorf("%s: %d questions of %d kinds", l.Folder.Value, len(report.Questions), len(inLesson))
		}
		if len(report.Source.Hooks) != len(report.Source.Ideas) {
			t.Errorf("%s: %d hooks for %d ideas", l.Folder.Value, len(report.Source.Hooks), len(report.Source.Ideas))
		}
		maps.Copy(kinds, inLesson)
	}
	for _, k := range practice.Kinds() {
		if !kinds[k.Kind] {
			t.Errorf("no question of the kind %s", k.Name)
		}
	}
	for _, c := range cause.All() {
		if !causes[c.Code] {
			t.Errorf("no question foresees %s: %s", c.Code, c.Rule)
		}
	}
}

// foreseen are the causes behind the wrong answers that a question expects: by
// computation, by its choices, and by its marking scheme.
func foreseen(q *practice.Question) []cause.Code {
	var codes []cause.Code
	for _, m := range cause.Wrong(q.Facts) {
		codes = append(codes, m.Code)
	}
	var options []practice.Option
	switch k := q.Key.(type) {
	case practice.Choice:
		options = k.Options
	case practice.Choices:
		options = k.Options
	}
	for _, o := range options {
		if !o.Right && o.Cause != "" {
			codes = append(codes, o.Cause)
		}
	}
	for _, row := range q.Scheme.Reject {
		if row.Cause != "" {
			codes = append(codes, row.Cause)
		}
	}
	return codes
}
