package printer

import (
	"bytes"
	"context"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

const page = `<!doctype html><html lang="en"><meta charset="utf-8"><title>A page</title>
<h1>First</h1><p>Text with <a href="other.html">a link</a>.</p><h2>Second</h2>
<svg role="img" aria-label="A square" width="20" height="20"><rect width="20" height="20"/></svg>
<table><caption>Rows</caption><tr><th scope="col">a</th></tr><tr><td>1</td></tr></table></html>`

// found is the machine's Chromium, or the test is skipped; in CI it fails.
func found(t *testing.T) *Printer {
	t.Helper()
	p, err := Find()
	if err == nil {
		return p
	}
	if os.Getenv("CI") == "true" {
		t.Fatalf("in CI there must be a Chromium: %v", err)
	}
	t.Skip(err)
	return nil
}

// TestPrint checks what a tagged PDF holds (ISO 32000-1: 14.7 logical
// structure, 14.9.3 alternative text, 12.3.3 outline), and that the same page
// gives the same bytes.
func TestPrint(t *testing.T) {
	if testing.Short() {
		t.Skip("starts a browser twice")
	}
	p := found(t)
	first, err := p.Print(t.Context(), []byte(page))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"%PDF-", "/StructTreeRoot", "/Marked true", "/Outlines", "/Lang (en)", "/S /H1", "/S /TH", "/S /Figure", "/Alt (A square)",
		"/CreationDate (D:20000101000000", "/ModDate (D:20000101000000"} {
		if !bytes.Contains(first, []byte(want)) {
			t.Errorf("the PDF lacks %q", want)
		}
	}
	time.Sleep(time.Until(time.Now().Truncate(time.Second).Add(time.Second))) // another second, as PDF counts
	second, err := p.Print(t.Context(), []byte(page))
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(first, second) {
		t.Error("the same page gives other bytes the second time")
	}
	text, err := exec.LookPath("pdftotext")
	if err != nil {
		return
	}
	file := filepath.Join(t.TempDir(), "page.pdf")
	if err := os.WriteFile(file, first, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(text, file, "-").Output()
	if err != nil || !strings.Contains(string(out), "Text with a link.") || !strings.Contains(string(out), "Second") {
		t.Errorf("pdftotext reads %q, %v", out, err)
	}
}

func TestNoChromium(t *testing.T) {
	t.Setenv("PATH", t.TempDir())
	t.Setenv(Variable, "")
	if _, err := Find(); !errors.Is(err, ErrNone) {
		t.Errorf("without any program: %v", err)
	}
	t.Setenv(Variable, "no-such-program")
	if _, err := Find(); err == nil || !strings.Contains(err.Error(), `"no-such-program"`) {
		t.Errorf("with a program that isn't there: %v", err)
	}
}

// A program that isn't Chromium is named, with what it said.
func TestWrongProgram(t *testing.T) {
	program := filepath.Join(t.TempDir(), "prog")
	if err := os.WriteFile(program, []byte("#!/bin/sh\necho not today\nexit 3\n"), 0o700); err != nil {
		t.Fatal(err)
	}
	t.Setenv(Variable, program)
	p, err := Find()
	if err != nil {
		t.Skip(err) // a system without shell scripts
	}
	if _, err := p.Print(t.Context(), []byte(page)); err == nil || !strings.Contains(err.Error(), "not today") || !strings.Contains(err.Error(), program) {
		t.Errorf("printing with it: %v", err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := p.Print(ctx, []byte(page)); !errors.Is(err, context.Canceled) {
		t.Errorf("printing after a stop: %v", err)
	}
}

func TestUndated(t *testing.T) {
	for pdf, want := range map[string]string{ // forms of ISO 32000-1, 7.9.4
		"/CreationDate (D:20261130213541+00'00')\n/ModDate (D:20261130213541+01'30')>>": "/CreationDate (D:20000101000000+00'00')\n/ModDate (D:20000101000000+00'00')>>",
		"/ModDate(D:2026)":        "/ModDate(D:2000)",
		"/Title (D:20261130)":     "/Title (D:20261130)",
		"/CreationDate (someday)": "/CreationDate (someday)",
	} {
		if got := string(undated([]byte(pdf))); got != want {
			t.Errorf("%q becomes %q, want %q", pdf, got, want)
		}
	}
}
