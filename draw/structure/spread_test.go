package structure

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"ionwright/draw"
	"ionwright/internal/witness"
	"ionwright/mol/smiles"
)

// Where textbooks put the charge or the unpaired electron (common practice, no
// source); nil: on one atom.
func TestDelocalize(t *testing.T) {
	for _, test := range []struct {
		smiles       string
		charged, odd []int // atoms, from 1
		drawn        string
	}{
		{"[CH2+]C=C", []int{1, 3}, nil, "allyl cation"},
		{"[CH2]C=C", nil, []int{1, 3}, "allyl radical"},
		{"[CH2+]c1ccccc1", []int{1, 3, 5, 7}, nil, "benzyl ion"},
		{"[CH+]1C=CC=CC=C1", []int{1, 2, 3, 4, 5, 6, 7}, nil, "tropylium ion"},
		{"[CH+]1C=CC=C1", []int{1, 2, 3, 4, 5}, nil, "cyclopentadienyl ion"},
		{"[CH2+]C#C", []int{1, 3}, nil, "propargyl ion"},
		{"CC(=[OH+])O", []int{3, 4}, nil, "protonated acid"},
		{"[CH2][CH+]C=C", []int{1, 2, 3, 4}, []int{1, 2, 3, 4}, "butadiene ion"},
		{"[CH2]C(=[OH+])O", []int{3, 4}, []int{1}, "ion of an enediol"},
		{"[CH2+]c1ccc(OC)cc1", []int{1, 3, 5, 6, 9}, nil, "methoxybenzyl ion"},
		{"CC#[O+]", nil, nil, "acylium ion"},
		{"C=[NH2+]", nil, nil, "iminium ion"},
		{"C=[OH+]", nil, nil, "oxonium ion"},
		{"C[C+](C)C", nil, nil, "tert-butyl ion"},
		{"[C+]1=CC=CC=C1", nil, nil, "phenyl ion: the empty orbital lies in the ring's plane"},
		{"C1=CC=CC=[C]1", nil, nil, "phenyl radical"},
		{"CCC(C)=[O+]", nil, nil, "ketone ion"},
		{"[CH2]C(C)=[OH+]", nil, nil, "distonic ion of the rearrangement of a ketone"},
		{"[CH2]CC[CH2+]", nil, nil, "distonic ion without conjugation"},
		{"c1ccc2ccccc2c1", nil, nil, "naphthalene"},
		{"O=[N+]([O-])c1ccccc1", nil, nil, "nitrobenzene"},
	} {
		s, ok := Delocalize(parse(t, test.smiles))
		if want := test.charged != nil || test.odd != nil; ok != want {
			t.Errorf("%s, %s: delocalized %v, want %v", test.drawn, test.smiles, ok, want)
			continue
		}
		if !ok {
			continue
		}
		from1 := func(atoms []int) []int {
			var out []int
			for _, a := range atoms {
				out = append(out, a+1)
			}
			return out
		}
		if !slices.Equal(from1(s.Charged), test.charged) || !slices.Equal(from1(s.Odd), test.odd) {
			t.Errorf("%s: charge on %v and electron on %v, want %v and %v", test.drawn, from1(s.Charged), from1(s.Odd), test.charged, test.odd)
		}
	}
}

// An odd-electron ion is drawn as its neutral molecule (common practice, no
// source).
func TestOddElectronIonsAreMolecules(t *testing.T) {
	for ion, molecule := range map[string]string{
		"[CH2][CH+]C=C":                    "C=CC=C",
		"[CH+]1[CH]C=CC1":                  "C1C=CC=C1",
		"[CH2]C(=[OH+])O":                  "C=C(O)O",
		"[CH2]C(=[OH+])OC":                 "C=C(O)OC",
		"C[C+]1[CH]C=CC=C1":                "Cc1ccccc1",
		"O=C1C2=CC=CC=C2[C+]2[CH]C=CC=C12": "O=C1c2ccccc2-c2ccccc12",
	} {
		s, ok := Delocalize(parse(t, ion))
		if !ok {
			t.Errorf("%s: on one atom", ion)
			continue
		}
		got, want := smiles.Canonical(s.Mol), smiles.Canonical(parse(t, molecule))
		if got != want || s.Charge != 1 || s.Radical != 1 {
			t.Errorf("%s: drawn as %s with %d charges and %d dots outside, want %s with one each", ion, got, s.Charge, s.Radical, want)
		}
	}
}

// rdkitCharges prints for each cation the atoms that bear its charge in RDKit's
// resonance forms.
const rdkitCharges = `
import json, sys
from rdkit import Chem
out = []
for line in sys.stdin:
    m = Chem.MolFromSmiles(line.strip())
    atoms = set()
    for form in Chem.ResonanceMolSupplier(m):
        atoms |= {a.GetIdx() for a in form.GetAtoms() if a.GetFormalCharge() > 0}
    out.append(sorted(atoms))
print(json.dumps(out))
`

// RDKit's resonance forms put the charge of even-electron ions on the same
// atoms.
func TestChargesAreWhereRDKitPutsThem(t *testing.T) {
	ions := strings.Fields(`[CH2+]C=C C[CH+]C=C [CH2+]c1ccccc1 C[CH+]c1ccccc1 [CH2+]c1ccc2ccccc2c1 [CH2+]C=CC=C
		CC(=[OH+])O COC(C)=[OH+] NC(C)=[NH2+] C[NH+]=CC=CN CC#[O+] C=[NH2+] CC=[OH+] C[C+](C)C [CH2+]Cc1ccccc1
		[CH2+]c1ccccc1C [CH2+]C1=CCCCC1 O=C1C=CC=C[CH+]1 [CH2+]c1ccc(Cl)cc1`)
	var want [][]int
	if err := json.Unmarshal(witness.Python(t, "rdkit", rdkitCharges, []byte(strings.Join(ions, "\n"))), &want); err != nil {
		t.Fatal(err)
	}
	for i, ion := range ions {
		m := parse(t, ion)
		s, ok := Delocalize(m)
		var got []int
		if ok {
			got = s.Charged
		} else {
			for a := range m.NumAtoms() {
				if m.Atom(a).Charge > 0 {
					got = append(got, a)
				}
			}
		}
		if !slices.Equal(got, want[i]) {
			t.Errorf("%s: charge on atoms %v (from 0), RDKit has it on %v", ion, got, want[i])
		}
	}
}

// brackets of a benzyl ion: the sign stands outside, no atom bears one, and the
// bonds of the ring and to the methylene group have a dashed line each.
func TestBrackets(t *testing.T) {
	m := parse(t, "[CH2+]c1ccccc1")
	s, ok := Delocalize(m)
	if !ok {
		t.Fatal("benzyl isn't delocalized")
	}
	f, err := Draw(m, Options{Name: "benzyl ion", Brackets: s})
	if err != nil {
		t.Fatal(err)
	}
	if got := texts(f); !slices.Equal(got, []string{"+"}) {
		t.Errorf("the drawing has the texts %q, want the sign alone", got)
	}
	dashed, brackets := 0, draw.NoBox()
	var sign draw.Box
	f.Scene.Walk(func(item draw.Item, within []*draw.Group) {
		switch it := item.(type) {
		case draw.Path:
			if it.Stroke.Dash != nil {
				dashed++
			}
			if within[len(within)-1].Class == "brackets" {
				brackets = brackets.Union(draw.Bounds(it))
			}
		case draw.Text:
			sign = it.Bounds()
		}
	})
	if dashed != 7 {
		t.Errorf("%d dashed lines, want 7", dashed)
	}
	if sign.Left < brackets.Right || sign.Top > brackets.Top+30 {
		t.Errorf("the sign stands at %v, the brackets at %v", sign, brackets)
	}
	want := "Skeletal formula of benzyl ion, C7H7+: 7 carbon atoms; 1 aromatic ring of 6 atoms; 7 bonds drawn partly double; in brackets, positive charge spread over C1, C3, C5 and C7."
	if f.Description != want {
		t.Errorf("description\n%s\nwant\n%s", f.Description, want)
	}
	if _, err := Draw(parse(t, "CC"), Options{Brackets: s}); err == nil || !strings.Contains(fmt.Sprint(err), "the brackets are for a structure of 7 atoms") {
		t.Errorf("brackets of another structure: %v", err)
	}
}

// A bare corner means four bonds: a carbon with fewer has its symbol.
func TestCornersHaveFourBonds(t *testing.T) {
	phenyl := parse(t, "[C+]1=CC=CC=C1")
	s, err := Unplaced(phenyl, 0)
	if err != nil {
		t.Fatal(err)
	}
	f, err := Draw(phenyl, Options{Brackets: s})
	if err != nil {
		t.Fatal(err)
	}
	if got := texts(f); !slices.Equal(got, []string{"C", "+"}) {
		t.Errorf("phenyl in brackets has the texts %q, want C and the sign", got)
	}
}

// The largest systems end in time and the same way each time.
func TestManyForms(t *testing.T) {
	big := parse(t, "[CH2+]c1cc2ccc3ccc4ccc5ccc6ccccc6c5c4c3c2c2ccc3ccccc3c12")
	a, ok := Delocalize(big)
	b, _ := Delocalize(big)
	if !ok || !slices.Equal(a.Charged, b.Charged) || !slices.Equal(a.Partial, b.Partial) {
		t.Errorf("delocalized %v, on %v and then on %v", ok, a.Charged, b.Charged)
	}
}
