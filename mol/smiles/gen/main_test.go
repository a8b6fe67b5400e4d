package main

import (
	"bytes"
	"os"
	"testing"
)

// The checked-in list is what this program writes. It contains only what can
// be read, so a change of the reader or of canonical SMILES can change it.
func TestListIsCurrent(t *testing.T) {
	want, err := os.ReadFile("../testdata/odd.smi")
	if err != nil {
		t.Fatal(err)
	}
	var got bytes.Buffer
	if err := write(&got); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got.Bytes(), want) {
		t.Error("testdata/odd.smi isn't what gen writes; run go run ./gen > testdata/odd.smi in mol/smiles and look at the witness test")
	}
}
