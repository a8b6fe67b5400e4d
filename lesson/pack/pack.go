// Package pack builds what a lesson is handed out as: a page for students, a
// page with the key, the figures, the script with captions and cues, and a
// manifest with the origin of every spectrum. For most uses call [Build] and
// [Pack.Write].
//
// Equal lessons give equal bytes: nothing depends on the clock, the machine or
// the order of a map.
package pack

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"maps"
	"slices"

	"ionwright/lesson/check"
)

// The names of a pack's fixed files.
const (
	Student  = "student.html"
	Key      = "key.html"
	Manifest = "manifest.json"
	Script   = "script.md"
	Captions = "captions.vtt"
	CueSheet = "cues.csv"
)

// Pack is a built lesson: its files by their names, with forward slashes.
type Pack struct {
	Files map[string][]byte
}

// Options say what a pack is built for. The zero value is for handing out.
type Options struct {
	// Script is the address of a module that the pages load, for a preview
	// that reloads them; empty for pages without any script.
	Script string
}

// Build makes the pack of a lesson that was checked without errors. An error
// is a mistake in the program or a spectrum that can't be drawn.
func Build(r *check.Report, o Options) (*Pack, error) {
	if r == nil || r.Diags.HasErrors() {
		return nil, fmt.Errorf("building the pack: the lesson has errors")
	}
	p := &Pack{Files: map[string][]byte{}}
	figures, err := drawFigures(r)
	if err != nil {
		return nil, err
	}
	for _, f := range figures {
		p.Files[f.File] = f.standalone
	}
	b := newBuilder(r, figures, o)
	if p.Files[Student], err = b.page(false); err != nil {
		return nil, fmt.Errorf("building the student page: %w", err)
	}
	if p.Files[Key], err = b.page(true); err != nil {
		return nil, fmt.Errorf("building the key page: %w", err)
	}
	if err := p.quizzes(r); err != nil {
		return nil, err
	}
	spoken, err := p.narration(r, figures)
	if err != nil {
		return nil, err
	}
	if p.Files[Manifest], err = manifest(r, figures, spoken, p.Files); err != nil {
		return nil, fmt.Errorf("building the manifest: %w", err)
	}
	return p, nil
}

// Names lists the pack's files in order.
func (p *Pack) Names() []string { return slices.Sorted(maps.Keys(p.Files)) }

func hash(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}
