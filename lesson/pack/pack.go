// Package pack builds what a lesson is handed out as: a page for students and
// one with the key, the same as PDF, slides, figures, spectra, quizzes, the
// script with captions and cues, an index of all, a manifest with origin and
// license of everything, and archives. For most uses call [Build] and
// [Pack.Write].
//
// Equal lessons give equal bytes: nothing depends on the clock, the machine or
// the order of a map. (PDF comes from the installed Chromium, so its bytes
// change with that.)
package pack

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"maps"
	"slices"

	"ionwright/lesson/cache"
	"ionwright/lesson/check"
	"ionwright/lesson/script"
)

// The names of a pack's fixed files.
const (
	Index         = "index.html"
	Student       = "student.html"
	StudentPDF    = "handout.pdf"
	StudentSlides = "student-slides.pptx"
	StudentZip    = "student.zip"
	Key           = "key.html"
	KeyPDF        = "key.pdf"
	Slides        = "slides.pptx"
	Manifest      = "manifest.json"
	Script        = "script.md"
	Captions      = "captions.vtt"
	CueSheet      = "cues.csv"
	All           = "pack.zip"
)

// Pack is a built lesson: its files by their names, with forward slashes.
type Pack struct {
	Files    map[string][]byte
	Contents []Entry // in the order of the index
}

// Entry says what a file of the pack is.
type Entry struct {
	Name     string
	What     string // in a few words
	Students bool   // may be given to students: it holds no answer
}

// Options say what a pack is built for. The zero value is for handing out.
type Options struct {
	// Script is the address of a module that the pages load, for a preview
	// that reloads them; empty for pages without any script. A preview has no
	// slides and no archives, since they take their time.
	Script string
	// Printer prints the pages to PDF; nil: the pack has none.
	Printer Printer
	// Results keeps what takes long to make; nil: nothing is kept.
	Results *cache.Cache
}

// Printer prints a page (HTML) to PDF. Its String tells one from another that
// may print differently.
type Printer interface {
	fmt.Stringer
	Print(page []byte) ([]byte, error)
}

// add puts a file into the pack.
func (p *Pack) add(e Entry, data []byte) {
	p.Files[e.Name] = data
	p.Contents = append(p.Contents, e)
}

// Build makes the pack of a lesson that was checked without errors. An error
// is a mistake in the program, a spectrum that can't be drawn, or a page that
// can't be printed.
func Build(r *check.Report, o Options) (*Pack, error) {
	if r == nil || r.Diags.HasErrors() {
		return nil, fmt.Errorf("building the pack: the lesson has errors")
	}
	p := &Pack{Files: map[string][]byte{}}
	figures, err := drawFigures(r)
	if err != nil {
		return nil, err
	}
	questions, err := drawQuestions(r)
	if err != nil {
		return nil, err
	}
	b := newBuilder(r, figures, questions, o)
	if err := p.pages(b); err != nil {
		return nil, err
	}
	spoken := b.narration()
	if o.Script == "" {
		if err := p.slides(b, spoken); err != nil {
			return nil, err
		}
	}
	if err := p.speech(spoken); err != nil {
		return nil, err
	}
	if err := p.quizzes(r); err != nil {
		return nil, err
	}
	p.figures(b)
	if err := p.spectra(b); err != nil {
		return nil, err
	}
	return p, p.close(b, spoken)
}

// pages writes the two pages, and prints them.
func (p *Pack) pages(b *builder) error {
	for _, page := range []struct {
		html, pdf Entry
		key       bool
	}{
		{Entry{Student, "the page for students", true}, Entry{StudentPDF, "the same as a handout to print", true}, false},
		{Entry{Key, "the page with answers, marking and claims", false}, Entry{KeyPDF, "the same to print", false}, true},
	} {
		text, err := b.page(page.key)
		if err != nil {
			return fmt.Errorf("building %s: %w", page.html.Name, err)
		}
		p.add(page.html, text)
		if b.options.Printer == nil {
			continue
		}
		printed, err := b.options.Printer.Print(text)
		if err != nil {
			return fmt.Errorf("printing %s: %w", page.html.Name, err)
		}
		p.add(page.pdf, printed)
	}
	return nil
}

// slides writes the two presentations.
func (p *Pack) slides(b *builder, spoken *script.Script) error {
	for _, e := range []Entry{
		{Slides, "slides with notes and answers", false},
		{StudentSlides, "the slides without notes and answers", true},
	} {
		deck, err := b.deck(spoken, e.Students)
		if err != nil {
			return fmt.Errorf("building %s: %w", e.Name, err)
		}
		p.add(e, deck)
	}
	return nil
}

// figures writes the drawings of the pages.
func (p *Pack) figures(b *builder) {
	for _, f := range b.figures {
		for _, v := range f.views() {
			what := fmt.Sprintf("figure %d", f.Number)
			if v != f.student {
				what += " with what the key says"
			}
			p.add(Entry{v.File, what, v == f.student}, v.standalone)
		}
	}
	for _, q := range b.report.Questions {
		if f := b.questions[q]; f != nil {
			p.add(Entry{f.File, fmt.Sprintf("the spectrum of question %d", q.Number), true}, f.standalone)
		}
	}
}

// close writes the archives, the index and the manifest.
func (p *Pack) close(b *builder, spoken *script.Script) error {
	own := []Entry{{Index, "this list", false}, {Manifest, "origin, license and hash of everything", false}}
	if b.options.Script == "" {
		var students []string
		for _, e := range p.Contents {
			if e.Students {
				students = append(students, e.Name)
			}
		}
		archive, err := p.archive(students)
		if err != nil {
			return err
		}
		p.add(Entry{StudentZip, "all files for students", true}, archive)
		own = append(own, Entry{All, "all files of the pack", false})
	}
	p.Contents = append(p.Contents, own...)
	var err error
	if p.Files[Index], err = b.index(p.Contents); err != nil {
		return fmt.Errorf("building the index: %w", err)
	}
	if p.Files[Manifest], err = b.manifest(p, spoken); err != nil {
		return fmt.Errorf("building the manifest: %w", err)
	}
	if b.options.Script == "" {
		names := slices.DeleteFunc(p.Names(), func(name string) bool { return name == StudentZip })
		p.Files[All], err = p.archive(names)
	}
	return err
}

// archive is some of the pack's files as a ZIP file, without times.
func (p *Pack) archive(names []string) ([]byte, error) {
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for _, name := range slices.Sorted(slices.Values(names)) {
		f, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate})
		if err == nil {
			_, err = f.Write(p.Files[name])
		}
		if err != nil {
			return nil, fmt.Errorf("packing %q: %w", name, err)
		}
	}
	if err := z.Close(); err != nil {
		return nil, fmt.Errorf("packing the lesson: %w", err)
	}
	return out.Bytes(), nil
}

// Names lists the pack's files in order.
func (p *Pack) Names() []string { return slices.Sorted(maps.Keys(p.Files)) }

func hash(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}
