package names

import (
	_ "embed"
	"errors"
	"testing"

	"ionwright/mol/smiles"
)

//go:embed testdata/names.tsv
var textbookNames string

// TestTextbookNames resolves names of our own writing and compares the
// structures.
func TestTextbookNames(t *testing.T) {
	count := 0
	for cells := range rowsOf(textbookNames) {
		name, want := cells[0], cells[1]
		count++
		if cells[2] == "" {
			t.Errorf("%s: the row names no rule", name)
		}
		m, err := smiles.Parse(want)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		got, err := SMILES(name)
		if err != nil {
			t.Errorf("%v", err)
			continue
		}
		if got != smiles.Canonical(m) {
			t.Errorf("%s: got %s, want %s", name, got, smiles.Canonical(m))
		}
	}
	if count < 300 {
		t.Errorf("%d names, want at least 300", count)
	}
}

//go:embed testdata/refused.tsv
var refusedNames string

// TestRefusedNames checks that wrong, ambiguous and unknown names get the
// error of their kind and no structure.
func TestRefusedNames(t *testing.T) {
	count := 0
	for cells := range rowsOf(refusedNames) {
		name, kind := cells[0], cells[1]
		count++
		got, err := SMILES(name)
		if err == nil {
			t.Errorf("%s: got %s, want an error: %s", name, got, cells[2])
			continue
		}
		var wrong *NameError
		var ambiguous *AmbiguousError
		var unknown *UnknownError
		found := "other"
		switch {
		case errors.As(err, &wrong):
			found = "wrong"
			if wrong.Offset < 1 || wrong.Offset > len([]rune(name))+1 {
				t.Errorf("%s: the error is at character %d", name, wrong.Offset)
			}
		case errors.As(err, &ambiguous):
			found = "ambiguous"
			if len(ambiguous.Meanings) < 2 && !ambiguous.More {
				t.Errorf("%s: ambiguous with %d meanings", name, len(ambiguous.Meanings))
			}
		case errors.As(err, &unknown):
			found = "unknown"
		}
		if found != kind {
			t.Errorf("%s: got the error %v, want one of the kind %s: %s", name, err, kind, cells[2])
		}
	}
	if count < 100 {
		t.Errorf("%d names, want at least 100", count)
	}
}
