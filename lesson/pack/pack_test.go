package pack

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"ionwright/lesson/check"
	"ionwright/lesson/example"
)

// checked is a lesson that must hold.
func checked(t *testing.T, files fs.FS) *check.Report {
	t.Helper()
	r, diags, err := check.Check(context.Background(), files)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range diags {
		t.Error(d)
	}
	return r
}

func build(t *testing.T, files fs.FS, o Options) *Pack {
	t.Helper()
	p, err := Build(checked(t, files), o)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestEqualLessonsGiveEqualBytes(t *testing.T) {
	a, b := build(t, example.Bottles(), Options{}), build(t, example.Bottles(), Options{})
	if len(a.Files) == 0 || len(a.Files) != len(b.Files) {
		t.Fatalf("%d and %d files", len(a.Files), len(b.Files))
	}
	for _, name := range a.Names() {
		if !bytes.Equal(a.Files[name], b.Files[name]) {
			t.Errorf("%s differs from build to build", name)
		}
	}
}

// secret is a lesson whose answers are words that stand nowhere else.
const secret = `---
title: Secret answers
compounds: { ketone: { smiles: CCC(C)=O, computed: yes } }
---

What is said to all.

~~~note
says: Whispered to the instructor.
~~~
~~~claim
that: mass(ketone) == 72
says: Claimed for the instructor.
~~~
~~~question
id: number
kind: number
ask: How heavy is seventeen times its nominal mass?
answer: 17 * mass(ketone)
tolerance: 3
because: Reasoned for the instructor.
~~~
~~~question
id: choice
kind: choice
ask: Which?
choices:
  - { says: first, right: mass(ketone) == 72, because: Right for the instructor. }
  - { says: second, right: mass(ketone) != 72, because: Wrong for the instructor. }
~~~
`

func TestStudentPageHoldsNoAnswer(t *testing.T) {
	p := build(t, fstest.MapFS{"lesson.md": {Data: []byte(secret)}}, Options{})
	student, key := string(p.Files[Student]), string(p.Files[Key])
	for _, words := range []string{"Whispered", "Claimed for", "Reasoned for", "Right for", "Wrong for", "1224", "Accepted within",
		`class="right"`, "17 * mass", "Answer: A"} {
		if strings.Contains(student, words) {
			t.Errorf("the student page holds %q", words)
		}
		if !strings.Contains(key, words) {
			t.Errorf("the key page lacks %q", words)
		}
		for _, name := range []string{Manifest, Script, Captions, CueSheet} {
			if strings.Contains(string(p.Files[name]), words) {
				t.Errorf("%s holds %q", name, words)
			}
		}
	}
	for _, words := range []string{"What is said to all.", "How heavy", "first", "second"} {
		if !strings.Contains(student, words) || !strings.Contains(key, words) {
			t.Errorf("a page lacks %q", words)
		}
	}
}

var (
	outside = regexp.MustCompile(`(?i)(src|href|action)="(?:[^"#d]|d[^a])[^"]*"|url\((?:[^d]|d[^a])`)
	styles  = regexp.MustCompile(`(?s)<style>(.*?)</style>`)
)

func TestPagesAreSelfContained(t *testing.T) {
	p := build(t, example.Bottles(), Options{})
	for _, name := range []string{Student, Key} {
		page := p.Files[name]
		for _, m := range outside.FindAll(page, -1) {
			file, isLink := strings.CutPrefix(strings.TrimSuffix(string(m), `"`), `href="`)
			if name == Key && isLink && p.Files[file] != nil {
				continue // the key leads to other files of the pack
			}
			t.Errorf("%s refers to something outside: %s", name, m)
		}
		if bytes.Contains(page, []byte("<script")) {
			t.Errorf("%s has a script", name)
		}
		for _, m := range styles.FindAllSubmatch(page, -1) {
			sum := sha256.Sum256(m[1])
			if hash := "sha256-" + base64.StdEncoding.EncodeToString(sum[:]); !bytes.Contains(page, []byte(hash)) {
				t.Errorf("%s: the policy lacks the style %.40q", name, m[1])
			}
		}
		for _, needed := range []string{`lang="en"`, `class="skip"`, `<main id="lesson">`, "clinical, forensic or safety", `role="img"`,
			`<th scope="col">`, "Caution.", "measured peaks differ"} {
			if !bytes.Contains(page, []byte(needed)) {
				t.Errorf("%s lacks %q", name, needed)
			}
		}
	}
}

// TestEveryIDIsUniqueAndEveryLinkLeadsSomewhere guards what html/template
// can't.
func TestEveryIDIsUniqueAndEveryLinkLeadsSomewhere(t *testing.T) {
	p := build(t, example.Bottles(), Options{})
	for _, name := range []string{Student, Key} {
		ids := map[string]bool{}
		for _, m := range regexp.MustCompile(`\sid="([^"]*)"`).FindAllSubmatch(p.Files[name], -1) {
			if ids[string(m[1])] {
				t.Errorf("%s has the id %q twice", name, m[1])
			}
			ids[string(m[1])] = true
		}
		for _, m := range regexp.MustCompile(`(?:href="#|aria-labelledby=")([^" ]*)`).FindAllSubmatch(p.Files[name], -1) {
			if !ids[string(m[1])] {
				t.Errorf("%s links to %q, which isn't there", name, m[1])
			}
		}
	}
}

func TestManifest(t *testing.T) {
	p := build(t, example.Bottles(), Options{})
	var m manifestData
	if err := json.Unmarshal(p.Files[Manifest], &m); err != nil {
		t.Fatal(err)
	}
	if len(m.Files) != len(p.Files)-2 || len(m.Claims) != 10 || len(m.Questions) != 6 || len(m.Figures) != 7 {
		t.Errorf("%d files, %d claims, %d questions, %d figures", len(m.Files), len(m.Claims), len(m.Questions), len(m.Figures))
	}
	for _, f := range m.Files {
		if hash(p.Files[f.Name]) != f.SHA256 {
			t.Errorf("the hash of %s isn't that of the file", f.Name)
		}
	}
	seconds := 0.0
	for _, section := range m.Narration.Sections {
		seconds += section.Seconds
	}
	if len(m.Narration.Sections) != 6 || m.Narration.Pace != 130 || math.Abs(seconds-m.Narration.Seconds) > 1e-3 { // the example's headings and pace
		t.Errorf("the narration is %+v", m.Narration)
	}
	for name := range m.Narration.Pages {
		if len(p.Files[name]) == 0 {
			t.Errorf("the pack lacks %s", name)
		}
	}
	for _, f := range m.Figures {
		if hash(p.Files[f.File]) != f.SHA256 {
			t.Errorf("the hash of figure %s isn't that of the file", f.ID)
		}
	}
	for _, c := range m.Compounds {
		if c.Origin != "computed" || !strings.Contains(c.Note, "by a model") || c.Owner == "" || c.License == "" {
			t.Errorf("%s: origin %q, note %q, owner %q, license %q", c.Key, c.Origin, c.Note, c.Owner, c.License)
		}
	}
}

func TestBuildRefusesALessonWithErrors(t *testing.T) {
	r, _, err := check.Check(context.Background(), fstest.MapFS{"lesson.md": {Data: []byte("---\ntitle: T\ncompounds: { a: 'C(' }\n---\n")}})
	if err != nil {
		t.Fatal(err)
	}
	if p, err := Build(r, Options{}); p != nil || err == nil {
		t.Errorf("built %v, %v", p, err)
	}
}

func TestHostileTextStaysText(t *testing.T) {
	const hostile = `---
title: <script>alert(1)</script>
audience: "\"><img src=x onerror=alert(2)>"
compounds: { a: { name: "<b>a</b>", smiles: CCC(C)=O, computed: yes } }
---

{{ a.name }} and {{ "<i>text</i>" }} and [<u>58</u>](javascript:alert(3)) and {{ figure("f") }}.

~~~figure
id: f
spectrum: a
caption: "<em>caption</em> &lt;"
~~~
`
	// HTML in prose is an error of its own; what comes out of values is text.
	r, diags, err := check.Check(context.Background(), fstest.MapFS{"lesson.md": {Data: []byte(hostile)}})
	if err != nil || !diags.HasErrors() {
		t.Fatalf("%v, %v", diags, err)
	}
	r.Diags = nil
	p, err := Build(r, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{Student, Key} {
		for _, bad := range []string{"<script>", "<img", "<b>a</b>", "<i>text", "<u>", "<em>caption", "javascript:"} {
			if bytes.Contains(p.Files[name], []byte(bad)) {
				t.Errorf("%s holds %q", name, bad)
			}
		}
	}
}

func TestWriteReplacesTheWholePackOrNothing(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out", "pack")
	first := &Pack{Files: map[string][]byte{Manifest: []byte("1"), "figures/old.svg": []byte("old")}}
	second := &Pack{Files: map[string][]byte{Manifest: []byte("2"), Student: []byte("new")}}
	for _, p := range []*Pack{first, second, second} {
		if err := p.Write(dir); err != nil {
			t.Fatal(err)
		}
	}
	same(t, dir, second)
	// What isn't a pack stays.
	broken := &Pack{Files: map[string][]byte{Manifest: []byte("3"), "figures": []byte("a file"), "figures/x": []byte("in it")}}
	if err := broken.Write(dir); err == nil {
		t.Error("a pack with a file where a folder must be was written")
	}
	same(t, dir, second)
	other := t.TempDir()
	if err := os.WriteFile(filepath.Join(other, "diary.txt"), nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if err := second.Write(other); err == nil {
		t.Error("a folder with other things was replaced")
	}
	if err := second.Write(filepath.Join(other, "diary.txt")); err == nil {
		t.Error("a file was replaced")
	}
	// Nothing is left beside it.
	entries, err := os.ReadDir(filepath.Dir(dir))
	if err != nil || len(entries) != 1 {
		t.Errorf("beside the pack: %v, %v", entries, err)
	}
}

func TestRenameAside(t *testing.T) {
	parent := t.TempDir()
	for _, text := range []string{"1", "2"} { // absent first, then there
		fresh := filepath.Join(parent, "fresh")
		if err := os.Mkdir(fresh, 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(fresh, Manifest), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		if err := renameAside(fresh, filepath.Join(parent, "pack")); err != nil {
			t.Fatal(err)
		}
		same(t, filepath.Join(parent, "pack"), &Pack{Files: map[string][]byte{Manifest: []byte(text)}})
	}
	if err := renameAside(filepath.Join(parent, "gone"), filepath.Join(parent, "pack")); err == nil {
		t.Error("nothing was put in place of the pack")
	}
	same(t, filepath.Join(parent, "pack"), &Pack{Files: map[string][]byte{Manifest: []byte("2")}})
}

// same fails unless dir holds exactly the files of the pack.
func same(t *testing.T, dir string, p *Pack) {
	t.Helper()
	found := 0
	err := fs.WalkDir(os.DirFS(dir), ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		found++
		data, err := os.ReadFile(filepath.Join(dir, name))
		if err == nil && !bytes.Equal(data, p.Files[name]) {
			t.Errorf("%s isn't the pack's", name)
		}
		return err
	})
	if err != nil || found != len(p.Files) {
		t.Errorf("the folder holds %d files, the pack %d: %v", found, len(p.Files), err)
	}
}
