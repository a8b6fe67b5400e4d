package lesson_test

import (
	"context"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"ionwright/internal/witness"
	"ionwright/lesson"
	"ionwright/lesson/diag"
	"ionwright/lesson/example"
	"ionwright/lesson/pack"
	"ionwright/lesson/source"
)

func TestCreateOpenBuild(t *testing.T) {
	for name, files := range map[string]fs.FS{"bottles": example.Bottles(), "starter": example.Starter()} {
		dir := filepath.Join(t.TempDir(), "course", name)
		if names, err := lesson.Create(dir, files); err != nil || len(names) == 0 {
			t.Fatal(names, err)
		}
		opened, err := lesson.Open(dir)
		if err != nil {
			t.Fatal(err)
		}
		p, diags, err := lesson.Build(context.Background(), opened, pack.Options{})
		if err != nil || len(diags) > 0 || p == nil {
			t.Errorf("%s: %v, %v", name, diags, err)
		}
		if _, err := lesson.Create(dir, files); err == nil {
			t.Error("a lesson was written over another")
		}
	}
}

// TestALinkOutOfTheFolderIsNotFollowed opens a lesson whose files are links to
// what stands beside its folder.
func TestALinkOutOfTheFolderIsNotFollowed(t *testing.T) {
	parent := t.TempDir()
	dir := filepath.Join(parent, "lesson")
	if err := os.Mkdir(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	write := func(name, text string) {
		t.Helper()
		if err := os.WriteFile(filepath.Join(parent, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("secret.md", "A secret.\n")
	write("lesson/lesson.md", "---\ntitle: T\ncompounds: { a: C }\n---\n\n```include\nfile: part.md\n```\n")
	if err := os.Symlink(filepath.Join("..", "secret.md"), filepath.Join(dir, "part.md")); err != nil {
		t.Skip("no symbolic links here")
	}
	files, err := lesson.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	p, diags, err := lesson.Build(context.Background(), files, pack.Options{})
	if err != nil || p != nil || !diags.HasErrors() || diags[0].Code != diag.Unreadable {
		t.Errorf("%v, %v", diags, err)
	}
}

func TestOpenSaysWhatIsMissing(t *testing.T) {
	dir := t.TempDir()
	for path, want := range map[string]string{dir: "it has no lesson.md", filepath.Join(dir, "gone"): "no such file", "": "opening"} {
		if _, err := lesson.Open(path); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", path, err, want)
		}
	}
}

// TestTheGuideIsTrue reads every sample of docs/lesson.md as a lesson's source.
func TestTheGuideIsTrue(t *testing.T) {
	guide, err := os.ReadFile(filepath.Join(witness.Root(), "docs", "lesson.md"))
	if err != nil {
		t.Fatal(err)
	}
	var front, blocks strings.Builder
	into := &blocks
	for line := range strings.Lines(string(guide)) {
		text, sample := strings.CutPrefix(line, "    ")
		switch {
		case !sample:
			into = &blocks
			blocks.WriteString("\n")
		case text == "---\n" && front.Len() == 0:
			into = &front
			front.WriteString(text)
		default:
			into.WriteString(text)
		}
	}
	if n := strings.Count(blocks.String(), "```"); n < 16 {
		t.Errorf("only %d fences in the guide's samples", n)
	}
	l, diags := source.Parse(fstest.MapFS{source.Main: {Data: []byte(front.String() + blocks.String())}})
	for _, d := range diags {
		t.Error(d)
	}
	if l == nil || len(l.Compounds) != 3 {
		t.Errorf("the guide's front matter gives %+v", l)
	}
}
