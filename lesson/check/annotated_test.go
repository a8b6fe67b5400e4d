package check

import (
	"context"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"
	"unicode/utf8"

	"ionwright/lesson/diag"
)

// expected is a diagnostic that an annotated source announces.
type expected struct {
	code  diag.Code
	words string
	at    diag.Span
}

var annotation = regexp.MustCompile(`⟦([a-z-]+) ("(?:[^"\\]|\\.)*")⟧`)

// annotated takes the annotations out of a lesson's files: ⟦code "words"⟧
// announces a diagnostic at the place that follows it.
func annotated(t *testing.T, text string) (fstest.MapFS, []expected) {
	t.Helper()
	fsys := fstest.MapFS{}
	var want []expected
	name, lines := "lesson.md", []string{}
	flush := func() {
		fsys[name] = &fstest.MapFile{Data: []byte(strings.Join(lines, "\n") + "\n")}
		lines = nil
	}
	for line := range strings.Lines(text) {
		line = strings.TrimSuffix(line, "\n")
		if rest, ok := strings.CutPrefix(line, "-- "); ok && strings.HasSuffix(rest, " --") {
			flush()
			name = strings.TrimSuffix(rest, " --")
			continue
		}
		for {
			m := annotation.FindStringSubmatchIndex(line)
			if m == nil {
				break
			}
			words, err := strconv.Unquote(line[m[4]:m[5]])
			if err != nil {
				t.Fatalf("annotation %q: %v", line[m[0]:m[1]], err)
			}
			want = append(want, expected{diag.Code(line[m[2]:m[3]]), words,
				diag.Span{File: name, Line: len(lines) + 1, Col: utf8.RuneCountInString(line[:m[0]]) + 1}})
			line = line[:m[0]] + line[m[1]:]
		}
		lines = append(lines, line)
	}
	flush()
	return fsys, want
}

// checkAnnotated fails on every announced diagnostic that is missing and on
// every one that isn't announced.
func checkAnnotated(t *testing.T, text string) {
	t.Helper()
	fsys, want := annotated(t, text)
	_, got, err := Check(context.Background(), fsys)
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range want {
		found := false
		for i, d := range got {
			if d.Code == w.code && d.File == w.at.File && d.Line == w.at.Line && d.Col == w.at.Col && strings.Contains(d.String(), w.words) {
				got = append(got[:i:i], got[i+1:]...)
				found = true
				break
			}
		}
		if !found {
			t.Errorf("missing: %s: [%s] with %q", w.at, w.code, w.words)
		}
	}
	for _, d := range got {
		t.Errorf("unexpected: %s", d)
	}
}

// TestCodes triggers every code by the example in its documentation.
func TestCodes(t *testing.T) {
	for _, info := range diag.Codes() {
		if info.Code == diag.LongSection {
			continue // needs the script, which is made of the report; tested in lesson
		}
		t.Run(string(info.Code), func(t *testing.T) {
			if !strings.Contains(info.Example, "⟦"+string(info.Code)+" ") {
				t.Errorf("the example doesn't announce its own code")
			}
			checkAnnotated(t, info.Example)
		})
	}
}

// TestAnnotatedSources checks the lessons of testdata, each of which holds
// many mistakes of one kind.
func TestAnnotatedSources(t *testing.T) {
	files, err := filepath.Glob("testdata/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatalf("no annotated sources: %v", err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			text, err := fs.ReadFile(osRoot(t), file)
			if err != nil {
				t.Fatal(err)
			}
			checkAnnotated(t, string(text))
		})
	}
}

func osRoot(t *testing.T) fs.FS {
	t.Helper()
	return os.DirFS(".")
}
