package shelf

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"
)

func starter() fstest.MapFS {
	return fstest.MapFS{"lesson.md": {Data: []byte("---\ntitle: A\n---\n\nText.\n")}}
}

func open(t *testing.T) *Shelf {
	t.Helper()
	s, err := Open(filepath.Join(t.TempDir(), "lessons"))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestCreateReadSave(t *testing.T) {
	s := open(t)
	if names, err := s.Names(); err != nil || len(names) != 0 {
		t.Fatalf("an absent folder lists %q, %v", names, err)
	}
	for _, name := range []string{"Second lesson", "First"} {
		if err := s.Create(name, starter()); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.Create("First", starter()); err == nil {
		t.Error("a second lesson of the same name was created")
	}
	if names, err := s.Names(); err != nil || !slices.Equal(names, []string{"First", "Second lesson"}) {
		t.Errorf("it lists %q, %v", names, err)
	}
	text, version, err := s.Read("First")
	if err != nil || !strings.Contains(string(text), "title: A") {
		t.Fatalf("%q, %v", text, err)
	}
	mine := append(text, "More.\n"...)
	next, err := s.Save("First", mine, version)
	if err != nil || next == version {
		t.Fatalf("version %q after %q, %v", next, version, err)
	}
	if entries, _ := os.ReadDir(filepath.Join(s.Dir(), "First")); len(entries) != 1 {
		t.Errorf("the folder holds %v", entries)
	}

	// Another window saves on the old version.
	var conflict *ConflictError
	if _, err := s.Save("First", []byte("other"), version); !errors.As(err, &conflict) || string(conflict.Text) != string(mine) || conflict.Version != next {
		t.Errorf("no conflict: %v", err)
	}
	// The same text from two windows is no conflict.
	if _, err := s.Save("First", mine, version); err != nil {
		t.Errorf("the same text: %v", err)
	}
	// Replacing keeps what it overwrites.
	_, kept, err := s.Replace("First", []byte("other"))
	if err != nil {
		t.Fatal(err)
	}
	if old, err := os.ReadFile(filepath.Join(s.Dir(), "First", kept)); err != nil || string(old) != string(mine) {
		t.Errorf("kept %q as %q, %v", old, kept, err)
	}
	if kept, err := s.Keep("First", []byte("aside")); err != nil || !strings.HasPrefix(kept, ".kept/") {
		t.Errorf("kept as %q, %v", kept, err)
	}
}

func TestASingleLesson(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "ketones")
	if err := os.MkdirAll(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "lesson.md"), []byte("x"), 0o644); err != nil {
		t.Fatal(err)
	}
	s, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	if names, _ := s.Names(); !slices.Equal(names, []string{"ketones"}) || !s.Single() {
		t.Errorf("it lists %q", names)
	}
	if _, err := s.Folder("other"); !errors.Is(err, ErrNoLesson) {
		t.Errorf("another lesson: %v", err)
	}
	if err := s.Create("b", starter()); err == nil || !strings.Contains(err.Error(), "is itself a lesson") {
		t.Errorf("creating: %v", err)
	}
}

// TestNamesStayInside tries to get out of the folder.
func TestNamesStayInside(t *testing.T) {
	s := open(t)
	if err := s.Create("in", starter()); err != nil {
		t.Fatal(err)
	}
	outside := filepath.Join(filepath.Dir(s.Dir()), "secret")
	if err := os.MkdirAll(outside, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(outside, "lesson.md"), []byte("secret"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(outside, filepath.Join(s.Dir(), "link")); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"../secret", "..", ".", "", "/", "link", "in/../../secret", "in\x00", ".hidden", "a..b", "a/b", `a\b`, "a ", strings.Repeat("a", 64)} {
		if text, _, err := s.Read(name); !errors.Is(err, ErrNoLesson) {
			t.Errorf("%q reads %q, %v", name, text, err)
		}
		if name != "link" {
			if err := s.Create(name, starter()); err == nil {
				t.Errorf("%q was created", name)
			}
		}
	}
	for _, file := range []string{"../a.csv", "a/b.csv", ".a.csv", "lesson.md", "LESSON.MD", ""} {
		if stored, err := s.Add("in", file, []byte("x")); err == nil {
			t.Errorf("%q was stored as %q", file, stored)
		}
	}
	// A link inside of a lesson leads nowhere either.
	if err := os.Remove(filepath.Join(s.Dir(), "in", "lesson.md")); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(filepath.Join(outside, "lesson.md"), filepath.Join(s.Dir(), "in", "lesson.md")); err != nil {
		t.Fatal(err)
	}
	if text, _, err := s.Read("in"); err == nil {
		t.Errorf("a link reads %q", text)
	}
}

func TestAddNeverOverwrites(t *testing.T) {
	s := open(t)
	if err := s.Create("l", starter()); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ data, want string }{{"one", "a.csv"}, {"two", "a-2.csv"}, {"one", "a.csv"}, {"three", "a-3.csv"}} {
		if got, err := s.Add("l", "a.csv", []byte(c.data)); err != nil || got != c.want {
			t.Errorf("%q is stored as %q, want %q; %v", c.data, got, c.want, err)
		}
	}
}

// TestManyWindowsLoseNothing lets windows add a line each to the same lesson,
// reading again after a conflict.
func TestManyWindowsLoseNothing(t *testing.T) {
	s := open(t)
	if err := s.Create("l", starter()); err != nil {
		t.Fatal(err)
	}
	const windows = 8
	var wg sync.WaitGroup
	for i := range windows {
		wg.Go(func() {
			for {
				text, version, err := s.Read("l")
				if err != nil {
					t.Error(err)
					return
				}
				_, err = s.Save("l", fmt.Appendf(text, "line %d\n", i), version)
				var conflict *ConflictError
				if err == nil {
					return
				}
				if !errors.As(err, &conflict) {
					t.Error(err)
					return
				}
			}
		})
	}
	wg.Wait()
	text, _, err := s.Read("l")
	if err != nil || strings.Count(string(text), "line ") != windows {
		t.Errorf("%d lines are there, want %d; %v", strings.Count(string(text), "line "), windows, err)
	}
}
