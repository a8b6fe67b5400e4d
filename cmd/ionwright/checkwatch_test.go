package main

import (
	"bufio"
	"context"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// watching runs "check --watch" and gives what it writes line by line; the
// returned function ends it and gives its exit status.
func watching(t *testing.T, path string) (lines *bufio.Scanner, end func() int) {
	t.Helper()
	ctx, cancel := context.WithCancel(context.Background())
	r, w := io.Pipe()
	status := make(chan int, 1)
	go func() {
		status <- run(ctx, []string{"check", "--watch", path}, strings.NewReader(""), w, w)
		w.Close()
	}()
	t.Cleanup(cancel)
	return bufio.NewScanner(r), func() int {
		cancel()
		go func() { _, _ = io.Copy(io.Discard, r) }()
		return <-status
	}
}

// until reads lines up to one with the words.
func until(t *testing.T, lines *bufio.Scanner, words string) {
	t.Helper()
	var seen []string
	for lines.Scan() {
		if strings.Contains(lines.Text(), words) {
			return
		}
		seen = append(seen, lines.Text())
	}
	t.Fatalf("%q isn't written, but %q", words, seen)
}

const watchedLesson = "---\ntitle: Bottles\ncompounds: { solvent: CCC(C)=O }\n---\n\nIts nominal mass is [72]{= mass(solvent) }.\n"

func write(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

func TestWatchChecksAgain(t *testing.T) {
	dir := t.TempDir()
	main := filepath.Join(dir, "lesson.md")
	write(t, main, watchedLesson)
	lines, end := watching(t, dir)
	until(t, lines, "0 claims and 0 questions hold")
	until(t, lines, "Ctrl-C ends it")
	write(t, main, strings.Replace(watchedLesson, "[72]", "[74]", 1))
	until(t, lines, "[text-false]")
	until(t, lines, "Ctrl-C ends it")
	// A file in a new folder counts too, and one saved by renaming.
	parts := filepath.Join(dir, "parts")
	if err := os.Mkdir(parts, 0o700); err != nil {
		t.Fatal(err)
	}
	write(t, filepath.Join(dir, "new.tmp"), watchedLesson+"\n```include\nfile: parts/one.md\n```\n")
	if err := os.Rename(filepath.Join(dir, "new.tmp"), main); err != nil {
		t.Fatal(err)
	}
	until(t, lines, `there is no file "parts/one.md"`)
	until(t, lines, "Ctrl-C ends it")
	write(t, filepath.Join(parts, "one.md"), "One.\n")
	until(t, lines, "hold")
	if status := end(); status != exitFine {
		t.Errorf("exit status %d after the end of the watch", status)
	}
}

func TestWatchATextFile(t *testing.T) {
	file := filepath.Join(t.TempDir(), "text.txt")
	write(t, file, "The molecular mass of butanone is 72.\n")
	lines, end := watching(t, file)
	until(t, lines, "nothing in it contradicts")
	until(t, lines, "Ctrl-C ends it")
	write(t, file, "The molecular mass of butanone is 74.\n")
	until(t, lines, "[mass-false]")
	if status := end(); status != exitFine {
		t.Errorf("exit status %d", status)
	}
}

// A lesson that goes away while it is watched is reported, and the watch goes
// on.
func TestWatchOutlivesADeletedLesson(t *testing.T) {
	dir := t.TempDir()
	main := filepath.Join(dir, "lesson.md")
	write(t, main, watchedLesson)
	lines, end := watching(t, dir)
	until(t, lines, "Ctrl-C ends it")
	if err := os.Remove(main); err != nil {
		t.Fatal(err)
	}
	until(t, lines, "there is no lesson in")
	until(t, lines, "Ctrl-C ends it")
	write(t, main, watchedLesson)
	until(t, lines, "hold")
	if status := end(); status != exitFine {
		t.Errorf("exit status %d", status)
	}
}
