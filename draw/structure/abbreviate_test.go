package structure_test

import (
	"slices"
	"strings"
	"testing"

	"ionwright/draw"
	"ionwright/draw/structure"
	"ionwright/internal/fixture"
	"ionwright/mol/smiles"
)

// texts lists what is written in a figure.
func texts(f draw.Figure) []string {
	var out []string
	f.Scene.Walk(func(item draw.Item, _ []*draw.Group) {
		if t, ok := item.(draw.Text); ok {
			out = append(out, t.String())
		}
	})
	slices.Sort(out)
	return out
}

// The abbreviations are common practice, no source; the groups follow from the
// structures.
func TestAbbreviations(t *testing.T) {
	all := structure.AbbreviationNames(3)
	tests := []struct {
		smiles string
		names  []string
		want   string
	}{
		{"CCOC(=O)CCc1ccccc1", all, "Bn EtO2C"},
		{"CCOC(=O)CCc1ccccc1", []string{"Ph"}, "O O Ph"},
		{"CCOC(=O)CCc1ccccc1", nil, "O O"},
		{"C[Si](C)(C)OC1CCCCC1", all, "TMSO"},
		{"COc1ccc(cc1)[N+](=O)[O-]", structure.AbbreviationNames(2), "MeO NO2"},
		{"CC(C)(C)OC(=O)C1CCCCC1", all, "tBuO2C"},
		{"CCC(C)=O", []string{"Me", "Et"}, "Et Me O"},
		{"c1ccccc1", all, ""},                        // nothing that it hangs by
		{"c1ccc2ccccc2c1", all, ""},                  // fused, no phenyl
		{"[2H]c1ccccc1C", all, "D"},                  // labelled, no phenyl
		{"CC[O]C", []string{"OMe"}, "OMe"},           // the larger rest stays
		{"OC(=O)c1ccccc1C(=O)O", all, "CO2H CO2H"},   // both; ring in between
		{"C[Si](C)(C)C#Cc1ccccc1", all, "Ph TMS"},    // on a straight chain
		{"[CH2+]c1ccccc1", all, "CH2+ Ph"},           // a charge beside, not in, the group
		{"CC(=O)Oc1ccccc1C(=O)OC", all, "CO2Me OAc"}, // ester groups, not their parts
		{"CN(C)c1ccc(cc1)C=O", []string{"NMe2"}, "NMe2 O"},
	}
	for _, test := range tests {
		m, err := smiles.Parse(test.smiles)
		if err != nil {
			t.Fatal(err)
		}
		f, err := structure.Draw(m, structure.Options{Abbreviate: test.names})
		if err != nil {
			t.Errorf("%s: %v", test.smiles, err)
			continue
		}
		got := texts(f)
		for i, text := range got { // either way round is the same group
			for _, k := range structure.Abbreviations() {
				if text == k.Turned && !slices.Contains(strings.Fields(test.want), text) {
					got[i] = k.Name
				} else if text == k.Name && slices.Contains(strings.Fields(test.want), k.Turned) && !slices.Contains(strings.Fields(test.want), k.Name) {
					got[i] = k.Turned
				}
			}
		}
		slices.Sort(got)
		if strings.Join(got, " ") != test.want {
			t.Errorf("%s with %v: written are %q, want %q", test.smiles, test.names, got, test.want)
		}
		if len(f.Table.Rows) != m.NumAtoms() {
			t.Errorf("%s: the table lists %d atoms of %d", test.smiles, len(f.Table.Rows), m.NumAtoms())
		}
	}
}

// A group that holds a marked atom stays whole, and numbers stay those of the
// whole structure.
func TestAbbreviationsKeepMarksAndNumbers(t *testing.T) {
	m, err := smiles.Parse("COC(=O)CCc1ccccc1")
	if err != nil {
		t.Fatal(err)
	}
	f, err := structure.Draw(m, structure.Options{Abbreviate: []string{"CO2Me", "OMe", "Ph"}, Atoms: []int{2}, Numbers: true})
	if err != nil {
		t.Fatal(err)
	}
	got := strings.Join(texts(f), " ")
	if !strings.Contains(got, "Ph") || strings.Contains(got, "CO2Me") || !strings.Contains(got, "OMe") && !strings.Contains(got, "MeO") {
		t.Errorf("written are %s", got)
	}
	for _, number := range []string{"3", "4", "5", "6", "7"} {
		if !slices.Contains(texts(f), number) {
			t.Errorf("atom %s isn't numbered: %s", number, got)
		}
	}
	if !strings.Contains(f.Detail, "Ph for phenyl") {
		t.Errorf("the words don't explain Ph: %q", f.Detail)
	}
	if _, err := structure.Draw(m, structure.Options{Abbreviate: []string{"Phe"}}); err == nil || !strings.Contains(err.Error(), `"Phe"`) {
		t.Errorf("an unknown abbreviation gives %v", err)
	}
}

// Every structure of the fixture can be drawn so, and no label lies on another.
func TestAbbreviatedLabelsDontOverlap(t *testing.T) {
	for _, r := range fixture.Measured(t) {
		m, err := smiles.Parse(r.SMILES)
		if err != nil {
			t.Fatal(err)
		}
		f, err := structure.Draw(m, structure.Options{Abbreviate: structure.AbbreviationNames(1)})
		if err != nil {
			t.Errorf("%s: %v", r.SMILES, err)
			continue
		}
		var boxes []draw.Box
		f.Scene.Walk(func(item draw.Item, _ []*draw.Group) {
			if g, ok := item.(*draw.Group); ok && g.Class == "atom" {
				boxes = append(boxes, draw.Bounds(g))
			}
		})
		for i, a := range boxes {
			for _, b := range boxes[:i] {
				if a.Overlaps(b) {
					t.Errorf("%s: labels overlap at %v and %v", r.SMILES, a, b)
				}
			}
		}
	}
}
