package names

import (
	"errors"
	"strings"
	"testing"
	"unicode/utf8"

	"ionwright/mol/smiles"
)

// FuzzInterpret checks that any text gives a structure or one of the three
// errors, that a structure is sound, and that an error stands within the text.
func FuzzInterpret(f *testing.F) {
	for cells := range rowsOf(textbookNames) {
		f.Add(cells[0])
	}
	for cells := range rowsOf(refusedNames) {
		f.Add(cells[0])
	}
	for _, name := range []string{
		"", " ", "\x00", "\xff", "((((", "))))", "1,1'-bi", "2,2'-bi(", "-", "--", ",,", "1-", "1,2,3-", "(2e)-", "d-", "cyclo", "bicyclo(", "bicyclo(1.1.1", "bicyclo(99.99.99)hectane",
		"spiro(0.0)methane", "tricyclo(3.3.1.1(3,7))decane", strings.Repeat("methyl", 60), strings.Repeat("(", 200) + "methyl" + strings.Repeat(")", 200),
		strings.Repeat("chlorophenyl", 30), "hexadecahydrotriphenylene", "dodecachlorotetradecafluoroeicosylamine", "oxa-", "1-oxa-", "1,3-diox", "anhydride", "acid", "ester", "x ester", "acetic anhydride",
		"benzene, ", ", methyl-", "acid, methyl ester", "methyl hydrogen phthalate", "α-pinene", "2‑butanol", "ethyl″", "N,N-", "n-", "2(1H)-", "1h-1h-indole", "0-methylbutane", "00-butene", "999-chlorohexane",
	} {
		f.Add(name)
	}
	f.Fuzz(func(t *testing.T, name string) {
		result, err := Interpret(name)
		if err == nil {
			again, err := smiles.Parse(smiles.Canonical(result.Mol))
			if err != nil {
				t.Fatalf("%q: %v", name, err)
			}
			if again.Formula() != result.Mol.Formula() {
				t.Fatalf("%q: the formula changes from %v to %v on the way through SMILES", name, result.Mol.Formula(), again.Formula())
			}
			return
		}
		offset := 1
		var wrong *NameError
		var ambiguous *AmbiguousError
		var unknown *UnknownError
		switch {
		case errors.As(err, &wrong):
			offset = wrong.Offset
		case errors.As(err, &unknown):
			offset = unknown.Offset
		case errors.As(err, &ambiguous):
		default:
			t.Fatalf("%q: an error of type %T", name, err)
		}
		if offset < 1 || offset > utf8.RuneCountInString(name)+1 {
			t.Fatalf("%q: the error is at character %d", name, offset)
		}
		if !utf8.ValidString(err.Error()) {
			t.Fatalf("%q: the error isn't valid text", name)
		}
	})
}
