package pack

import (
	"bytes"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"ionwright/internal/browser"
	"ionwright/lesson/example"
	"ionwright/lesson/notation"
)

// paper stands in for a browser that prints.
type paper struct{}

func (paper) String() string                    { return "paper" }
func (paper) Print(page []byte) ([]byte, error) { return fmt.Appendf(nil, "%d bytes", len(page)), nil }

// TestIndexListsEveryFile: each file of the pack has a line, with a link that
// leads to it, and stands in the archives where it should.
func TestIndexListsEveryFile(t *testing.T) {
	p := build(t, example.Bottles(), Options{Printer: paper{}})
	index := string(p.Files[Index])
	listed := map[string]bool{Index: true}
	for _, m := range regexp.MustCompile(`href="([^"#]*)"`).FindAllStringSubmatch(index, -1) {
		if !strings.HasPrefix(m[1], "data:") {
			listed[m[1]] = true
		}
	}
	for name := range listed {
		if p.Files[name] == nil {
			t.Errorf("the index leads to %s, which isn't there", name)
		}
	}
	entries := map[string]Entry{}
	for _, e := range p.Contents {
		entries[e.Name] = e
	}
	in := map[string]bool{}
	for _, archive := range []string{All, StudentZip} {
		unpacked(t, archive, p.Files[archive], func(name string, data []byte) {
			inner, inside := strings.CutPrefix(name, archive+"/")
			if !inside || strings.Contains(inner, ".zip/") || strings.Contains(inner, ".pptx/") {
				return
			}
			in[name] = true
			if !bytes.Equal(data, p.Files[inner]) {
				t.Errorf("%s isn't the pack's", name)
			}
		})
	}
	for _, name := range p.Names() {
		if !listed[name] || entries[name].What == "" {
			t.Errorf("the index lacks %s", name)
		}
		if students := entries[name].Students && name != StudentZip; in[StudentZip+"/"+name] != students {
			t.Errorf("%s in the students' archive: %v", name, !students)
		}
		if name != All && name != StudentZip && !in[All+"/"+name] {
			t.Errorf("%s isn't in the archive of all", name)
		}
	}
	for _, name := range []string{StudentPDF, KeyPDF, Slides, StudentSlides, Captions, "qti-3.0.zip", "spectra/1-bottle-3.jdx"} {
		if len(p.Files[name]) == 0 {
			t.Errorf("the pack lacks %s", name)
		}
	}
	preview := build(t, example.Bottles(), Options{Script: "live.js"})
	if preview.Files[Slides] != nil || preview.Files[All] != nil || preview.Files[Student] == nil {
		t.Error("a preview has slides or archives, or no page")
	}
}

// exams is a lesson in the notation of an exam board.
const exams = `---
title: Board
compounds: { ketone: { name: a ketone, smiles: CCC(C)=O, computed: yes } }
---

The molecular ion is {{ formula("C4H8O+") }}; see {{ figure("f") }}.

~~~figure
id: f
spectrum: ketone
label: [43, 72]
~~~
~~~question
id: q
kind: formula
ask: Write {{ formula("C4H8O+") }} again.
answer: '"C4H8O+"'
~~~
`

// TestNotation: the same lesson in the notations of IUPAC and of an exam board.
func TestNotation(t *testing.T) {
	const dot, bracket = "•", "[M]"
	r := checked(t, fstest.MapFS{"lesson.md": {Data: []byte(exams)}})
	iupac, _ := notation.Named(notation.IUPAC)
	board, _ := notation.Named(notation.ExamBoard)
	for _, want := range []struct {
		profile        notation.Profile
		dots, brackets bool
	}{{board, false, true}, {board.WithDot(true), true, true}, {iupac, true, false}, {iupac.WithDot(false), false, false}, {notation.Profile{}, true, false}} {
		r.Source.Notation = want.profile
		says := fmt.Sprintf("%s, no dot %v", want.profile.Name, want.profile.NoDot)
		p, err := Build(r, Options{Script: "preview.js"}) // without slides, which take long
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range []string{Student, Key, "figures/1-f.svg"} {
			text := string(p.Files[name])
			if strings.Contains(text, dot) != want.dots || strings.Contains(text, bracket) != want.brackets {
				t.Errorf("%s: %s has a dot: %v, has %s: %v", says, name, strings.Contains(text, dot), bracket, strings.Contains(text, bracket))
			}
			if strings.Contains(text, "relative abundance (%)") != want.brackets || strings.Contains(text, "relative intensity (%)") == want.brackets {
				t.Errorf("%s: %s has the other's words", says, name)
			}
		}
		if got := strings.Contains(string(p.Files[Student]), "<sup>+</sup><sup>•</sup>"); got != want.dots {
			t.Errorf("%s: the ion in the text has a dot: %v", says, got)
		}
	}
}

// TestPagesInABrowser opens the pages on a desk and on a telephone: nothing is
// wider than the window, and axe-core finds nothing.
func TestPagesInABrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("starts a browser")
	}
	packs := map[string]*Pack{"bottles": build(t, example.Bottles(), Options{}), "hidden": hiddenPack(t)}
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		name, file, _ := strings.Cut(strings.TrimPrefix(r.URL.Path, "/"), "/")
		if p := packs[name]; p != nil && path.Ext(file) == ".html" {
			w.Header().Set("Content-Type", "text/html; charset=utf-8")
			_, _ = w.Write(p.Files[file])
			return
		}
		http.NotFound(w, r)
	}))
	t.Cleanup(server.Close)
	page := browser.Open(t, server.URL)
	for name := range packs {
		for _, file := range []string{Student, Key, Index} {
			for _, width := range []int64{1280, 390} {
				shown := fmt.Sprintf("%s-%s-%d", name, strings.TrimSuffix(file, ".html"), width)
				page.Size(width, 900)
				page.Go("/" + name + "/" + file)
				page.Wait(`document.readyState === "complete"`)
				page.Fits(shown)
				page.Axe(shown)
				page.Shot(shown)
			}
		}
	}
	page.Scheme("dark", true)
	page.Go("/bottles/" + Key)
	page.Axe("the key in the dark")
	page.Quiet()
}

// TestSlidesInAnOffice converts the slides with LibreOffice: as many pages as
// slides, each with its title's words.
func TestSlidesInAnOffice(t *testing.T) {
	if testing.Short() {
		t.Skip("starts an office")
	}
	office, err := exec.LookPath("soffice")
	if err == nil {
		_, err = exec.LookPath("pdftotext")
	}
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatalf("in CI there must be LibreOffice and pdftotext: %v", err)
		}
		t.Skip("there is no LibreOffice or no pdftotext on this machine")
	}
	dir := t.TempDir()
	p := hiddenPack(t)
	for _, name := range []string{Slides, StudentSlides} {
		if err := os.WriteFile(filepath.Join(dir, name), p.Files[name], 0o600); err != nil {
			t.Fatal(err)
		}
	}
	out, err := exec.CommandContext(t.Context(), office, "-env:UserInstallation=file://"+filepath.ToSlash(filepath.Join(dir, "profile")), "--headless",
		"--convert-to", "pdf", "--outdir", dir, filepath.Join(dir, Slides), filepath.Join(dir, StudentSlides)).CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	for name, titles := range map[string][]string{
		Slides: {"What is in the bottle?", "Figure 1: the measured spectrum of bottle 9", "Figure 2: the computed spectrum of diethyl ether",
			"Question 1 (1 mark)", "Question 1: answer", "Question 2 (1 mark)", "Question 2: answer", "Where the spectra come from"},
		StudentSlides: {"What is in the bottle?", "Figure 1: the measured spectrum of bottle 9", "Figure 2: the computed spectrum of diethyl ether",
			"Question 1 (1 mark)", "Question 2 (1 mark)", "Where the spectra come from"},
	} {
		text, err := exec.CommandContext(t.Context(), "pdftotext", filepath.Join(dir, strings.TrimSuffix(name, ".pptx")+".pdf"), "-").Output()
		if err != nil {
			t.Fatal(err)
		}
		pages := strings.Split(strings.TrimSuffix(string(text), "\f"), "\f")
		if len(pages) != len(titles) {
			t.Errorf("%s has %d pages, want %d", name, len(pages), len(titles))
			continue
		}
		for i, title := range titles {
			if !strings.Contains(strings.Join(strings.Fields(pages[i]), " "), title) {
				t.Errorf("page %d of %s reads %q, without %q", i+1, name, pages[i], title)
			}
		}
	}
}
