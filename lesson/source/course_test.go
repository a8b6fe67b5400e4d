package source

import (
	"strings"
	"testing"
	"testing/fstest"

	"ionwright/lesson/diag"
)

func TestACourseNamesItsLessons(t *testing.T) {
	lessons := fstest.MapFS{"one/lesson.md": {Data: []byte("x")}, "two/lesson.md": {Data: []byte("x")}}
	parse := func(text string) (*Course, diag.List) {
		files := fstest.MapFS{CourseMain: {Data: []byte(text)}}
		for name, f := range lessons {
			files[name] = f
		}
		return ParseCourse(files)
	}
	c, diags := parse("---\ntitle: T\naudience: A\nlessons:\n  two: Second first.\n  one: Then the first.\n---\n\nHello.\n")
	if len(diags) > 0 || c == nil {
		t.Fatal(diags)
	}
	if len(c.Lessons) != 2 || c.Lessons[0].Folder.Value != "two" || c.Lessons[1].About.Value != "Then the first." || c.Title.Value != "T" || c.Audience.Value != "A" {
		t.Errorf("%+v", c)
	}
	for text, want := range map[string]struct {
		code  diag.Code
		place string
		words string
	}{
		"# No front matter":                                               {diag.FrontMatter, "course.md:1:1", "begins with front matter"},
		"---\ntitle: T\n---\n":                                            {diag.MissingKey, "course.md:2:1", `needs "lessons"`},
		"---\nlessons: { one: A. }\n---\n":                                {diag.MissingKey, "course.md:2:1", `needs "title"`},
		"---\ntitle: T\nlessons: { on: A. }\n---\n":                       {diag.MissingFile, "course.md:3:12", `there is no lesson "on"`},
		"---\ntitle: T\nlessons: { ../one: A. }\n---\n":                   {diag.OutsidePath, "course.md:3:12", "outside of the course's folder"},
		"---\ntitle: T\nlessons: { one: [A, B] }\n---\n":                  {diag.WrongType, "course.md:3:12", "needs a sentence"},
		"---\ntitle: T\nlessons: { one: A. }\npace: 3\n---\n":             {diag.UnknownKey, "course.md:4:1", `has no key "pace"`},
		"---\ntitle: T\nlessons: { one: A. }\n---\n\n{{ mass(\"C\") }}\n": {diag.BadExpression, "course.md:6:3", "holds no computed values"},
		"---\ntitle: T\nlessons: { one: A. }\n---\n\n<b>x</b>\n":          {diag.RawHTML, "course.md:6:1", "HTML"},
	} {
		_, diags := parse(text)
		if len(diags) == 0 || diags[0].Code != want.code || !strings.HasPrefix(diags[0].Span.String(), want.place) || !strings.Contains(diags[0].Message, want.words) {
			t.Errorf("%q: %v, want %s at %s with %q", text, diags, want.code, want.place, want.words)
		}
	}
}

func TestALessonUsesWhatOthersShare(t *testing.T) {
	parse := func(uses string) (*Lesson, diag.List) {
		return Parse(fstest.MapFS{
			Main: {Data: []byte("---\ntitle: T\nuses: " + uses + "\n---\n")},
			"shared/store.yaml": {Data: []byte("compounds:\n  water: O\n  gas: { smiles: C, name: the gas, computed: yes }\n" +
				"instruments:\n  magnet: { radius: 25 cm, voltage: 4 kV }\n")},
			"odd.yaml":  {Data: []byte("compunds: { water: O }\n")},
			"list.yaml": {Data: []byte("- water\n")},
		})
	}
	l, diags := parse("{ shared/store.yaml: [gas, magnet] }")
	if len(diags) > 0 || len(l.Compounds) != 1 || l.Compounds[0].Name.Value != "the gas" || !l.Compounds[0].Computed ||
		len(l.Instruments) != 1 || l.Instruments[0].Voltage != 4000 {
		t.Fatalf("%v, %+v", diags, l)
	}
	if at := l.Compounds[0].SMILES.Place(); at.File != "shared/store.yaml" || at.Line != 3 {
		t.Errorf("the shared compound stands at %s", at)
	}
	if l, diags := parse("{ shared/store.yaml: water }"); len(diags) > 0 || len(l.Compounds) != 1 {
		t.Errorf("a single name: %v", diags)
	}
	for uses, want := range map[string]string{
		"{ shared/store.yaml: [gas, wather] }":      `has no compound or instrument "wather"`,
		"{ shared/store.yaml: [gas, gas] }":         `the name "gas" is taken`,
		"{ shared/stor.yaml: [gas] }":               `there is no file "shared/stor.yaml"`,
		"{ ../store.yaml: [gas] }":                  "outside of the lesson's folder",
		"{ odd.yaml: [water] }":                     `has no key "compunds"`,
		"{ list.yaml: [water] }":                    "needs keys",
		"[gas]":                                     "must be a set of keys",
		"{ shared/store.yaml: { gas: yes } }":       "must be a list",
		"{ shared/store.yaml: [magnet] }":           `needs "compounds"`,
		"{ shared/store.yaml: [gas, magnet, gas] }": `the name "gas" is taken`,
	} {
		_, diags := parse(uses)
		found := false
		for _, d := range diags {
			found = found || strings.Contains(d.Message, want)
		}
		if !found {
			t.Errorf("%s: %v, want %q", uses, diags, want)
		}
	}
}
