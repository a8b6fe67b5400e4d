package lesson_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"ionwright/lesson"
)

// TestALessonSeesWhatItsCourseShares opens lessons that stand in a course and
// lessons that don't.
func TestALessonSeesWhatItsCourseShares(t *testing.T) {
	parent := t.TempDir()
	for name, text := range map[string]string{
		"secret.md":                  "outside",
		"course/course.md":           "---\ntitle: C\n---\n",
		"course/shared/hello.md":     "shared",
		"course/a/lesson.md":         "lesson",
		"alone/a/lesson.md":          "lesson",
		"alone/shared/hello.md":      "of nobody",
		"bare/course.md":             "---\ntitle: C\n---\n",
		"bare/a/lesson.md":           "lesson",
		"bare/a/shared/own.md":       "own",
		"course/b/lesson.md":         "lesson",
		"course/b/shared/private.md": "hidden by the course's",
	} {
		path := filepath.Join(parent, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	links := []string{"course/shared/link.md"}
	if err := os.Symlink(filepath.Join("..", "..", "secret.md"), filepath.Join(parent, "course", "shared", "link.md")); err != nil {
		links = nil // no symbolic links here
	}
	for folder, want := range map[string]map[string]string{ // a file's content; empty: it can't be read
		"course/a": {"lesson.md": "lesson", "shared/hello.md": "shared", "shared/../lesson.md": "", "shared/../../secret.md": "", "../b/lesson.md": ""},
		"course/b": {"shared/private.md": "", "shared/hello.md": "shared"},
		"alone/a":  {"shared/hello.md": ""},
		"bare/a":   {"shared/own.md": "own"},
	} {
		if folder == "course/a" && slices.Contains(links, "course/shared/link.md") {
			want["shared/link.md"] = ""
		}
		files, err := lesson.Open(filepath.Join(parent, filepath.FromSlash(folder)))
		if err != nil {
			t.Fatal(err)
		}
		for name, text := range want {
			if got, err := fs.ReadFile(files, name); string(got) != text || (err == nil) != (text != "") {
				t.Errorf("%s: %s reads %q, %v; want %q", folder, name, got, err, text)
			}
		}
	}
}
