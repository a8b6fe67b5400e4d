// Package printer prints pages to PDF with a Chromium that is installed on the
// machine. For most uses call [Find], then [Printer.Print].
//
// The PDF is tagged: headings, tables and alternative texts stay what they are,
// and the headings make its outline. Its dates are taken out, so that equal pages
// give equal bytes with the same Chromium and the same fonts.
package printer

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"time"
)

// names are the programs that are looked for, in this order.
var names = []string{"chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome", "msedge"}

// Variable names a variable of the environment with the path of the program to
// use, for one that isn't found by its name.
const Variable = "IONWRIGHT_CHROMIUM"

// patience bounds the printing of one page.
const patience = 2 * time.Minute

// Printer prints with one Chromium.
type Printer struct {
	path string
}

// ErrNone says that there is no Chromium, and what to do.
var ErrNone = errors.New("there is no Chromium on this machine to print PDF with\n" +
	"hint: install Chromium (or Chrome, or Edge), name it with the variable " + Variable + ", or print student.html from a browser")

// Find looks for a Chromium. It fails with [ErrNone] where there is none, and
// where the variable [Variable] names a program that can't be run.
func Find() (*Printer, error) {
	if given := os.Getenv(Variable); given != "" {
		path, err := exec.LookPath(given)
		if err != nil {
			return nil, fmt.Errorf("the variable %s names %q, which can't be run: %w", Variable, given, err)
		}
		return &Printer{path}, nil
	}
	for _, name := range names {
		if path, err := exec.LookPath(name); err == nil {
			return &Printer{path}, nil
		}
	}
	return nil, ErrNone
}

// String names the program, and its size and time, which change with its
// version.
func (p *Printer) String() string {
	info, err := os.Stat(p.path)
	if err != nil {
		return p.path
	}
	return fmt.Sprintf("%s, %d bytes of %s", p.path, info.Size(), info.ModTime().UTC().Format(time.RFC3339))
}

// Print prints a page, HTML that needs nothing else, to a tagged PDF with an
// outline. It fails where the program does, and after two minutes.
func (p *Printer) Print(ctx context.Context, page []byte) ([]byte, error) {
	dir, err := folder()
	if err != nil {
		return nil, fmt.Errorf("printing: %w", err)
	}
	defer os.RemoveAll(dir)
	from, to := filepath.Join(dir, "page.html"), filepath.Join(dir, "page.pdf")
	if err := os.WriteFile(from, page, 0o600); err != nil {
		return nil, fmt.Errorf("printing: %w", err)
	}
	ctx, cancel := context.WithTimeout(ctx, patience)
	defer cancel()
	cmd := exec.CommandContext(ctx, p.path, p.arguments(dir, from, to)...)
	cmd.WaitDelay = time.Second // its own processes may keep the output open
	said, err := cmd.CombinedOutput()
	pdf, readErr := os.ReadFile(to)
	switch {
	case ctx.Err() != nil:
		return nil, fmt.Errorf("printing with %s: %w", p.path, ctx.Err())
	case readErr != nil || len(pdf) == 0:
		return nil, fmt.Errorf("printing with %s: it wrote no PDF (%v); its last words: %s", p.path, err, lastLine(said))
	}
	// A relative link of the page has become one into the folder.
	name := filepath.Base(dir)
	pdf = bytes.ReplaceAll(pdf, []byte(name), []byte(folderName(0)))
	return undated(pdf), nil
}

// folderName is a name of always the same length.
func folderName(n uint32) string { return fmt.Sprintf("ionwright-print-%010d", n) }

// folder makes a folder for one run.
func folder() (string, error) {
	const tries = 100
	var err error
	for range tries {
		dir := filepath.Join(os.TempDir(), folderName(rand.Uint32()))
		if err = os.Mkdir(dir, 0o700); !errors.Is(err, fs.ErrExist) {
			return dir, err
		}
	}
	return "", err
}

// arguments are those of a run that touches nothing of the user's browser and
// goes nowhere.
func (p *Printer) arguments(dir, from, to string) []string {
	all := []string{
		"--headless", "--disable-gpu", "--no-first-run", "--no-default-browser-check", "--disable-extensions",
		"--disable-background-networking", "--disable-component-update", "--disable-sync", "--disable-quic",
		"--user-data-dir=" + filepath.Join(dir, "profile"),
		"--no-pdf-header-footer", "--generate-pdf-document-outline", "--export-tagged-pdf", "--print-to-pdf=" + to,
	}
	if os.Geteuid() == 0 { // Chromium has no sandbox for root
		all = append(all, "--no-sandbox")
	}
	return append(all, (&url.URL{Scheme: "file", Path: filepath.ToSlash(from)}).String())
}

func lastLine(said []byte) string {
	text := strings.TrimSpace(string(said))
	if text == "" {
		return "none"
	}
	return text[strings.LastIndexByte(text, '\n')+1:]
}

// dates are the entries of a PDF that say when it was made: a date of PDF
// (ISO 32000-1, 7.9.4).
var dates = regexp.MustCompile(`/(?:CreationDate|ModDate) ?\(D:[0-9+\-'Z]*\)`)

// undated writes one fixed date over each of a PDF's, in as many bytes, so that
// the places of its parts stay.
func undated(pdf []byte) []byte {
	return dates.ReplaceAllFunc(pdf, func(entry []byte) []byte {
		out := append([]byte{}, entry...)
		start := strings.Index(string(out), "D:") + 2
		const fixed = "20000101000000"
		for i, k := start, 0; i < len(out)-1; i, k = i+1, k+1 {
			switch {
			case k < len(fixed):
				out[i] = fixed[k]
			case out[i] >= '0' && out[i] <= '9':
				out[i] = '0'
			}
		}
		return out
	})
}
