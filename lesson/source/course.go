package source

import (
	"io/fs"

	"github.com/yuin/goldmark/ast"

	"ionwright/lesson/diag"
)

// CourseMain is the name of a course's main file.
const CourseMain = "course.md"

// maxLessons is how many lessons a course may have.
const maxLessons = 200

// Course is a course's source: lessons in the order in which they are taught.
type Course struct {
	Title    Text
	Audience Text
	Lessons  []CourseLesson
	Intro    *Prose // plain Markdown: nothing in it is computed
}

// CourseLesson is a lesson of a course.
type CourseLesson struct {
	Folder Text
	About  Text // what it is about, in a sentence
}

// ParseCourse reads the course in fsys from its file [CourseMain]; the lessons
// are only named there. The course is nil where the file or its front matter
// can't be read.
func ParseCourse(fsys fs.FS) (*Course, diag.List) {
	p := reader{fsys: fsys, markdown: newMarkdown(), lesson: &Lesson{}}
	t, ok := p.file(CourseMain, diag.Span{File: CourseMain})
	if !ok {
		return nil, p.diags
	}
	front, body, ok := splitFrontMatter(t, &p.diags)
	if !ok {
		return nil, p.diags
	}
	v, ok := readYAML(front, &p.diags)
	if !ok {
		return nil, p.diags
	}
	f := fieldsOf("the front matter of the course", front.Span(0, 0), v, &p.diags, "title", "audience", "lessons")
	if f.wrong {
		return nil, p.diags
	}
	f.require("title", "lessons")
	c := &Course{Title: f.text("title"), Audience: f.text("audience")}
	for _, e := range f.entries("lessons") {
		if l, ok := p.courseLesson(e, len(c.Lessons)); ok {
			c.Lessons = append(c.Lessons, l)
		}
	}
	c.Intro = p.prose(body, false)
	p.plainOnly(c.Intro)
	p.diags.Sort()
	return c, p.diags
}

// courseLesson reads a row of the course's lessons: a folder, and what its
// lesson is about.
func (p *reader) courseLesson(e entry, before int) (CourseLesson, bool) {
	at := e.key.Place()
	switch {
	case before >= maxLessons:
		p.diags.Add(diag.New(diag.TooLarge, at, "a course has at most %d lessons", maxLessons))
		return CourseLesson{}, false
	case !insideLesson(e.key.Value):
		p.diags.Add(diag.New(diag.OutsidePath, at, "%q is outside of the course's folder", e.key.Value))
		return CourseLesson{}, false
	case e.value.shape != scalar:
		p.diags.Add(diag.New(diag.WrongType, at, "the lesson %q needs a sentence that says what it is about", e.key.Value))
		return CourseLesson{}, false
	}
	if info, err := fs.Stat(p.fsys, e.key.Value+"/"+Main); err != nil || info.IsDir() {
		d := diag.New(diag.MissingFile, at, "there is no lesson %q in the course's folder: it has no %s", e.key.Value, Main)
		if near, ok := diag.Nearest(e.key.Value, lessonFolders(p.fsys)); ok {
			d = d.Suggesting("did you mean %q?", near)
		}
		p.diags.Add(d)
		return CourseLesson{}, false
	}
	return CourseLesson{e.key, e.value.text.Trimmed()}, true
}

// lessonFolders are the folders with a lesson, for suggestions.
func lessonFolders(fsys fs.FS) []string {
	names, err := fs.Glob(fsys, "*/"+Main)
	if err != nil {
		return nil
	}
	for i, name := range names {
		names[i] = name[:len(name)-len("/"+Main)]
	}
	return names
}

// plainOnly reports computed values, for which a course has no compounds.
func (p *reader) plainOnly(prose *Prose) {
	_ = ast.Walk(prose.Root, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		var at diag.Span
		switch n := n.(type) {
		case *Value:
			at = n.Expr.Place()
		case *Checked:
			at = n.Expr.Place()
		default:
			return ast.WalkContinue, nil
		}
		if entering {
			p.diags.Add(diag.New(diag.BadExpression, at, "%s holds no computed values", CourseMain).
				Suggesting("put what is computed into a lesson's %s", Main))
		}
		return ast.WalkContinue, nil
	})
}
