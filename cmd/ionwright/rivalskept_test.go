package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"ionwright/mol/smiles"
	"ionwright/practice/rival"
)

// TestKeptSearch keeps a stopped search by what it is for, whole, and takes it
// away in the end.
func TestKeptSearch(t *testing.T) {
	dir := t.TempDir()
	t.Setenv("XDG_CACHE_HOME", dir)
	t.Setenv("HOME", dir)
	m, err := smiles.Parse("CCC(C)=O")
	if err != nil {
		t.Fatal(err)
	}
	p := rival.Problem{Answer: m, FormulaGiven: true}
	k := keptSearchOf(p, 10)
	if k.read() != nil || k.write() {
		t.Fatal("something is kept before anything was saved")
	}
	k.save([]byte("first"))
	k.save([]byte("second")) // within a second: not written yet
	if got := keptSearchOf(p, 10).read(); !bytes.Equal(got, []byte("first")) {
		t.Errorf("kept %q, want the first", got)
	}
	if !k.write() {
		t.Error("the search isn't kept")
	}
	if got := keptSearchOf(p, 10).read(); !bytes.Equal(got, []byte("second")) {
		t.Errorf("kept %q, want the second", got)
	}
	other := p
	other.Groups = []string{"ketone"}
	if keptSearchOf(p, 11).read() != nil || keptSearchOf(other, 10).read() != nil {
		t.Error("another search finds what this one kept")
	}
	k.remove()
	if k.read() != nil {
		t.Error("the search is kept after its end")
	}
	var left []string
	_ = filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			left = append(left, path)
		}
		return nil
	})
	if len(left) > 0 {
		t.Errorf("files are left: %v", left)
	}
}

// TestBar draws how far a search is.
func TestBar(t *testing.T) {
	for _, row := range []struct {
		done, of int
		want     string
	}{{0, 10, "[....................] x: 0 of 10"}, {5, 10, "[##########..........] x: 5 of 10"}, {12, 10, "[####################] x: 12 of 10"}, {1, 0, "[####################] x: 1 of 0"}} {
		if got := barOf("x", row.done, row.of); got != row.want {
			t.Errorf("%d of %d: %q, want %q", row.done, row.of, got, row.want)
		}
	}
}
