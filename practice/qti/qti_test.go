package qti_test

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"ionwright/chem"
	"ionwright/mol"
	"ionwright/mol/smiles"
	"ionwright/practice"
	"ionwright/practice/answer"
	"ionwright/practice/qti"
)

func structureOf(text string) *mol.Mol {
	m, err := smiles.Parse(text)
	if err != nil {
		panic(err) // a mistake in this file
	}
	return m
}

// questions has one of each kind.
func questions() []*practice.Question {
	options := practice.Letters([]practice.Option{{Text: "chlorine & more", Right: true, Because: "M + 2 is a third."}, {Text: "bromine", Because: "M + 2 isn't as tall."}, {Text: "a <third>", Right: false}})
	several := practice.Letters([]practice.Option{{Text: "COOH", Right: true}, {Text: "C2H5O", Right: true}, {Text: "C3H7"}})
	return []*practice.Question{
		{ID: "number", Ask: "At which m/z?", Marks: 2, Key: practice.Number{Value: 43.5, Tolerance: 0.1}},
		{ID: "choice", Ask: "Which?", Marks: 1, Key: practice.Choice{Options: options}},
		{ID: "choices", Ask: "Which?", Marks: 2, Key: practice.Choices{Options: several}},
		{ID: "formula", Ask: "Which ion?", Marks: 2, Key: practice.Formula{Formula: chem.MustFormula("C2H3O+")}},
		{ID: "peaks", Ask: "Which peaks?", Marks: 2, Key: practice.Peaks{MZ: []int{43, 58}}},
		{ID: "assign", Ask: "Which ions?", Marks: 2, Key: practice.Assign{Rows: []practice.Assigned{
			{MZ: 43, Ions: []chem.Formula{chem.MustFormula("C2H3O+")}}, {MZ: 57, Ions: []chem.Formula{chem.MustFormula("C3H5O+")}}}}},
		{ID: "order", Ask: "In which order?", Marks: 1, Key: practice.Order{Steps: practice.Shuffled([]practice.Step{{Text: "molecular ion"}, {Text: "losses"}, {Text: "check"}})}},
		{ID: "structure", Ask: "Which structure?", Marks: 2, Key: practice.Structure{Mol: structureOf("CC(=O)c1ccccc1")}},
		{ID: "arrows", Ask: "Which arrows?", Marks: 3, Key: practice.Arrows{Drawn: structureOf("CC(=[O+])CC"), Ways: [][]answer.Arrow{{
			{Half: true, From: answer.Place{A: 3}, To: answer.Place{A: 2, B: 3}}, {Half: true, From: answer.Place{A: 2, B: 4}, To: answer.Place{A: 2, B: 3}},
			{Half: true, From: answer.Place{A: 2, B: 4}, To: answer.Place{A: 4}}}}}},
		{ID: "reasons", Ask: "Why?", Marks: 2, Key: practice.Reasons{Needs: 1, Clues: []practice.Clue{{Says: "So.", Any: []string{"so"}}}}},
	}
}

// TestPackages reads both packages back: every file is well-formed, has its
// version's namespace and names, and the manifest names each of them.
func TestPackages(t *testing.T) {
	for _, v := range []qti.Version{qti.V22, qti.V30} {
		var b, again bytes.Buffer
		if err := qti.Write(&b, "Bottles", questions(), v); err != nil {
			t.Fatal(err)
		}
		if err := qti.Write(&again, "Bottles", questions(), v); err != nil || !bytes.Equal(b.Bytes(), again.Bytes()) {
			t.Errorf("%s: the same questions give other bytes (%v)", v, err)
		}
		z, err := zip.NewReader(bytes.NewReader(b.Bytes()), int64(b.Len()))
		if err != nil {
			t.Fatal(err)
		}
		texts := map[string]string{}
		for _, f := range z.File {
			r, err := f.Open()
			if err != nil {
				t.Fatal(err)
			}
			text, err := io.ReadAll(r)
			if err != nil {
				t.Fatal(err)
			}
			texts[f.Name] = string(text)
			d := xml.NewDecoder(bytes.NewReader(text))
			for {
				if _, err := d.Token(); errors.Is(err, io.EOF) {
					break
				} else if err != nil {
					t.Fatalf("%s, %s: %v\n%s", v, f.Name, err, text)
				}
			}
		}
		if len(texts) != 12 {
			t.Errorf("%s: %d files, want 10 items, the test and the manifest", v, len(texts))
		}
		for name, text := range texts {
			if name != "imsmanifest.xml" && !strings.Contains(texts["imsmanifest.xml"], `href="`+name+`"`) {
				t.Errorf("%s: the manifest doesn't name %s", v, name)
			}
			if v == qti.V22 && strings.Contains(text, "<qti-") || v == qti.V30 && strings.Contains(text, "<assessment") {
				t.Errorf("%s: %s has names of the other version", v, name)
			}
		}
	}
}

// TestLimits says of what isn't carried why.
func TestLimits(t *testing.T) {
	if limits, carried := qti.Limits(&practice.Question{Key: practice.Arrows{}}); carried || len(limits) != 1 {
		t.Errorf("arrows without a structure: %v, %v", limits, carried)
	}
	for _, q := range questions() {
		limits, carried := qti.Limits(q)
		if choice := q.Key.Kind() == practice.ChoiceKind || q.Key.Kind() == practice.ChoicesKind || q.Key.Kind() == practice.NumberKind; !carried || (len(limits) == 0) != choice {
			t.Errorf("%s: %v, %v", q.ID, limits, carried)
		}
	}
	var b bytes.Buffer
	if err := qti.Write(&b, "none", []*practice.Question{}, qti.V30); err == nil {
		t.Error("an empty package was written")
	}
}

// TestSpellings lists spellings of a structure that students may type; each
// listed one is the structure, whatever the order of its atoms.
func TestSpellings(t *testing.T) {
	var b bytes.Buffer
	q := questions()[7]
	if err := qti.Item(&b, q, qti.V30); err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{"CC(=O)c1ccccc1", "O=C(C)c1ccccc1", "c1ccccc1C(=O)C", "c1ccc(cc1)C(C)=O", "CC(=O)C1=CC=CC=C1"} {
		if !strings.Contains(b.String(), `map-key="`+text+`"`) {
			t.Errorf("%s isn't among the spellings", text)
		}
	}
	listed := 0
	for part := range strings.SplitSeq(b.String(), `map-key="`) {
		text, _, ok := strings.Cut(part, `"`)
		if listed++; listed == 1 || !ok {
			continue // before the first
		}
		m, err := answer.ReadStructure(text)
		if err != nil || !answer.SameIon(m, q.Key.(practice.Structure).Mol) {
			t.Errorf("%s is listed, and isn't the structure (%v)", text, err)
		}
	}
	if listed < 50 {
		t.Errorf("only %d spellings are listed", listed-1)
	}
}
