// Package source reads a lesson's source: lesson.md with YAML front matter, a
// body in CommonMark, values in the prose, and fenced blocks with YAML bodies.
// Everything it returns knows its place in the files. For most uses call
// [Parse].
//
// The package looks nothing up and computes nothing: names of compounds,
// expressions and structures are text here.
package source

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"strings"
	"unicode/utf8"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/text"

	"ionwright/lesson/diag"
)

// Main is the name of a lesson's main file.
const Main = "lesson.md"

const (
	maxFile      = 256 << 10 // bytes of one Markdown file
	maxParagraph = 16 << 10  // bytes between two blank lines; the Markdown parser's time grows with their square
	maxIncludes  = 100       // files put in, counted each time
)

// Parse reads the lesson in fsys from its file [Main] and the files included
// by it. Where the source can't be understood the diagnostics say so; the
// lesson holds what could be read, and is nil where the file or its front
// matter can't be.
// An error that is not the author's (a disk that fails) becomes a diagnostic
// of the file.
func Parse(fsys fs.FS) (*Lesson, diag.List) {
	p := reader{fsys: fsys, markdown: newMarkdown(), lesson: &Lesson{}}
	t, ok := p.file(Main, diag.Span{File: Main})
	if !ok {
		return nil, p.diags
	}
	front, body, ok := splitFrontMatter(t, &p.diags)
	if !ok {
		return nil, p.diags
	}
	if !p.frontMatter(front) {
		p.diags.Sort()
		return nil, p.diags // every name in the body would be unknown
	}
	p.open = []string{Main}
	p.lesson.Body = p.prose(body, true)
	p.diags.Sort()
	return p.lesson, p.diags
}

type reader struct {
	fsys     fs.FS
	markdown goldmark.Markdown
	lesson   *Lesson
	diags    diag.List
	open     []string // the files being read, outermost first
	includes int
	audience string // key of the one that this reading is for
}

// file reads a Markdown file of the lesson. from is the place that asks for it.
func (p *reader) file(name string, from diag.Span) (Text, bool) {
	data, err := readLimited(p.fsys, name, maxFile)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		p.diags.Add(diag.New(diag.MissingFile, from, "there is no file %q in the lesson's folder", name))
		return Text{}, false
	case errors.Is(err, errTooLarge):
		p.diags.Add(diag.New(diag.TooLarge, from, "%q is larger than the %d kB that are read", name, maxFile>>10).
			Suggesting("split the lesson and put the parts in with include blocks"))
		return Text{}, false
	case err != nil:
		p.diags.Add(diag.New(diag.Unreadable, from, "reading %q: %v", name, err))
		return Text{}, false
	}
	p.lesson.Files = append(p.lesson.Files, name)
	data = bytes.TrimPrefix(data, []byte("\ufeff")) // an editor's mark, not text
	data = bytes.ReplaceAll(data, []byte("\r\n"), []byte("\n"))
	t := fileText(name, string(data))
	if i := invalidUTF8(data); i >= 0 {
		p.diags.Add(diag.New(diag.BadEncoding, t.Span(i, i+1), "byte 0x%02x is not UTF-8 text", data[i]).
			Suggesting("save the file as UTF-8"))
		return Text{}, false
	}
	if i := longParagraph(t.Value); i >= 0 {
		p.diags.Add(diag.New(diag.TooLarge, t.Span(i, i), "more than %d kB stand here without a blank line", maxParagraph>>10).
			Suggesting("put blank lines between paragraphs and blocks"))
		return Text{}, false
	}
	return t, true
}

var errTooLarge = errors.New("too large")

// readLimited reads a file of at most limit bytes, and fails with errTooLarge
// without reading further.
func readLimited(fsys fs.FS, name string, limit int64) ([]byte, error) {
	if !fs.ValidPath(name) {
		return nil, fs.ErrNotExist
	}
	f, err := fsys.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, limit+1))
	if err == nil && int64(len(data)) > limit {
		return nil, errTooLarge
	}
	return data, err
}

func invalidUTF8(data []byte) int {
	for i := 0; i < len(data); {
		r, size := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && size == 1 || r == 0 {
			return i
		}
		i += size
	}
	return -1
}

// longParagraph is the offset of the first run of lines without a blank one
// that is longer than maxParagraph, or -1.
func longParagraph(s string) int {
	start, from := 0, 0
	for from < len(s) {
		end := strings.IndexByte(s[from:], '\n')
		if end < 0 {
			end = len(s) - from
		}
		next := min(from+end+1, len(s))
		if strings.TrimSpace(s[from:next]) == "" {
			start = next
		}
		if next-start > maxParagraph {
			return start
		}
		from = next
	}
	return -1
}

const fence = "---"

// splitFrontMatter cuts the file into the YAML between the two lines of three
// hyphens and what follows.
func splitFrontMatter(t Text, diags *diag.List) (front, body Text, ok bool) {
	if t.Value != fence && !strings.HasPrefix(t.Value, fence+"\n") {
		diags.Add(diag.New(diag.FrontMatter, t.Span(0, 0), "a lesson begins with front matter: a line of three hyphens, YAML, and three hyphens again").
			Suggesting("\"ionwright new\" writes a lesson to begin with"))
		return Text{}, Text{}, false
	}
	start := min(len(fence)+1, len(t.Value))
	for from := start; from <= len(t.Value); {
		end := strings.IndexByte(t.Value[from:], '\n')
		line, next := t.Value[from:], len(t.Value)+1
		if end >= 0 {
			line, next = t.Value[from:from+end], from+end+1
		}
		if strings.TrimRight(line, " \t") == fence {
			return t.Sub(start, from), t.Sub(min(next, len(t.Value)), len(t.Value)), true
		}
		from = next
	}
	diags.Add(diag.New(diag.FrontMatter, t.Span(0, len(fence)), "the front matter that begins here isn't closed by a line of three hyphens").
		Suggesting("put a line of three hyphens between the last key and the text"))
	return Text{}, Text{}, false
}

// prose parses Markdown. Fenced blocks are understood where blocks is true:
// in files, but not in the sentences inside of blocks.
func (p *reader) prose(t Text, blocks bool) *Prose {
	prose := &Prose{Text: t, Root: p.markdown.Parser().Parse(text.NewReader([]byte(t.Value)))}
	p.resolve(prose, blocks)
	return prose
}

// include reads the file an include block names and puts its prose in.
func (p *reader) include(b *Include) {
	name, at := b.File.Value, b.File.Place()
	if !insideLesson(name) {
		p.diags.Add(diag.New(diag.OutsidePath, at, "%q is outside of the lesson's folder", name).
			Suggesting("copy the file into the folder and name it from there, with forward slashes"))
		return
	}
	for i, open := range p.open {
		if open == name {
			chain := append(append([]string{}, p.open[i:]...), name)
			p.diags.Add(diag.New(diag.CircularInclude, at, "%q includes itself: %s", name, strings.Join(chain, " -> ")))
			return
		}
	}
	if p.includes++; p.includes > maxIncludes {
		if p.includes == maxIncludes+1 {
			p.diags.Add(diag.New(diag.TooLarge, at, "more than %d include blocks", maxIncludes))
		}
		return
	}
	t, ok := p.file(name, at)
	if !ok {
		return
	}
	if strings.HasPrefix(t.Value, fence+"\n") {
		p.diags.Add(diag.New(diag.FrontMatter, t.Span(0, len(fence)), "an included file has no front matter of its own").
			Suggesting("move its compounds and ideas to %s", Main))
		return
	}
	p.open = append(p.open, name)
	b.Prose = p.prose(t, true)
	p.open = p.open[:len(p.open)-1]
}

// insideLesson reports whether name is a clean relative path.
func insideLesson(name string) bool {
	return fs.ValidPath(name) && name != "." && path.Clean(name) == name && !strings.ContainsAny(name, `\:`)
}

// OpenFile opens a data file of the lesson, named at a place of its source,
// and reads it whole. A name outside of the folder, a missing file and one of
// more than limit bytes each give a diagnostic, and ok is false.
func OpenFile(fsys fs.FS, name Text, limit int64) (data []byte, d diag.Diagnostic, ok bool) {
	at := name.Place()
	if !insideLesson(name.Value) {
		return nil, diag.New(diag.OutsidePath, at, "%q is outside of the lesson's folder", name.Value).
			Suggesting("copy the file into the folder and name it from there, with forward slashes"), false
	}
	data, err := readLimited(fsys, name.Value, limit)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		d := diag.New(diag.MissingFile, at, "there is no file %q in the lesson's folder", name.Value)
		if near, ok := diag.Nearest(name.Value, fileNames(fsys)); ok {
			d = d.Suggesting("did you mean %q?", near)
		}
		return nil, d, false
	case errors.Is(err, errTooLarge):
		return nil, diag.New(diag.TooLarge, at, "%q is larger than the %s that are read", name.Value, bytesText(limit)), false
	case err != nil:
		return nil, diag.New(diag.Unreadable, at, "reading %q: %v", name.Value, err), false
	}
	return data, diag.Diagnostic{}, true
}

func bytesText(n int64) string {
	if n >= 1<<20 {
		return fmt.Sprintf("%d MB", n>>20)
	}
	return fmt.Sprintf("%d kB", n>>10)
}

// fileNames lists the files of the lesson's folder, for suggestions.
func fileNames(fsys fs.FS) []string {
	const enough = 1000
	var names []string
	_ = fs.WalkDir(fsys, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || len(names) >= enough {
			return fs.SkipAll // a suggestion is a help, not a result
		}
		if !entry.IsDir() {
			names = append(names, name)
		}
		return nil
	})
	return names
}
