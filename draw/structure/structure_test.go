package structure

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"ionwright/draw"
	"ionwright/draw/layout"
	"ionwright/draw/svg"
	"ionwright/internal/fixture"
	"ionwright/internal/witness"
	"ionwright/mol"
	"ionwright/mol/smiles"
)

func parse(t testing.TB, s string) *mol.Mol {
	t.Helper()
	m, err := smiles.Parse(s)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func figure(t testing.TB, s string, o Options) draw.Figure {
	t.Helper()
	f, err := Draw(parse(t, s), o)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// texts are the lines of text in a figure, in the order they are drawn.
func texts(f draw.Figure) []string {
	var out []string
	f.Scene.Walk(func(item draw.Item, _ []*draw.Group) {
		if t, ok := item.(draw.Text); ok {
			out = append(out, t.String())
		}
	})
	return out
}

// Labels as chemists write them (common practice, no source): the hydrogens on
// the side without a bond.
func TestLabels(t *testing.T) {
	tests := []struct{ smiles, want string }{
		{"CCO", "OH"},
		{"OCC", "OH"},
		{"C", "CH4"},
		{"O", "OH2"},
		{"CO", "H3C OH"},
		{"CNC", "N H"},
		{"C[NH3+]", "H3C NH3+"},
		{"CC(C)=O", "O"},
		{"CCC(C)=[O+]", "O+•"}, // IUPAC recommendations 2013: the radical dot after the charge
		{"[CH3+]", "CH3+"},
		{"C[CH+]C", "+"},
		{"[CH2]CC", "H2C•"},
		{"OS(=O)(=O)O", "HO S O O OH"},
		{"[2H]C([2H])([2H])[2H]", "D D D D"},
		{"[13CH4]", "13CH4"},
		{"[C-]#[O+]", "C− O+"},
		{"O=C=O", "O C O"},
		{"c1ccccc1", ""},
		{"[NH4+].[Cl-]", "Cl− NH4+"},
	}
	for _, test := range tests {
		got := texts(figure(t, test.smiles, Options{}))
		want := strings.Fields(test.want)
		slices.Sort(got)
		slices.Sort(want)
		if !slices.Equal(got, want) {
			t.Errorf("%s: labels %q, want %q", test.smiles, got, want)
		}
	}
}

// Lines that a structure is drawn with: one for each bond, one more for each
// order above one.
func TestLinesOfBonds(t *testing.T) {
	for s, want := range map[string]int{"CC": 1, "CCC": 2, "CC=C": 3, "CC#C": 4, "c1ccccc1": 9, "C=C=C": 4, "CC(=O)O": 4} {
		n := 0
		figure(t, s, Options{}).Scene.Walk(func(item draw.Item, within []*draw.Group) {
			if _, ok := item.(draw.Path); ok && within[len(within)-1].Class == "bond" {
				n++
			}
		})
		if n != want {
			t.Errorf("%s is drawn with %d lines, want %d", s, n, want)
		}
	}
}

// No line of a bond may run through a label, and no label over another.
func TestNothingOverlapsLabels(t *testing.T) {
	for _, r := range fixture.Measured(t) {
		f := figure(t, r.SMILES, Options{})
		var labels []draw.Box
		f.Scene.Walk(func(item draw.Item, _ []*draw.Group) {
			if text, ok := item.(draw.Text); ok {
				labels = append(labels, text.Bounds())
			}
		})
		canvas := draw.Box{Right: f.Scene.Width, Bottom: f.Scene.Height}
		for i, a := range labels {
			if !canvas.Contains(a) {
				t.Errorf("%s: the label at %v is off the canvas", r.SMILES, a)
			}
			for _, b := range labels[:i] {
				if a.Grow(-1).Overlaps(b.Grow(-1)) {
					t.Errorf("%s: labels at %v and %v overlap", r.SMILES, a, b)
				}
			}
		}
		f.Scene.Walk(func(item draw.Item, within []*draw.Group) {
			p, ok := item.(draw.Path)
			if !ok {
				return
			}
			for _, part := range p.Flatten(0.1) {
				for k := 1; k < len(part); k++ {
					for _, box := range labels {
						if box.Grow(-0.8).CrossedBy(part[k-1], part[k]) {
							t.Errorf("%s: a bond runs through the label at %v", r.SMILES, box)
						}
					}
				}
			}
		})
	}
}

func TestLonePairs(t *testing.T) {
	tests := []struct { // valence electrons less bonds, charge and unpaired ones, halved
		smiles string
		atom   int
		want   int
	}{
		{"O", 0, 2}, {"N", 0, 1}, {"[NH4+]", 0, 0}, {"CC(C)=O", 3, 2}, {"CC(C)=[O+]", 3, 1}, {"[Cl-]", 0, 4},
		{"CCl", 1, 3}, {"C", 0, 0}, {"[C-]#[O+]", 0, 1}, {"[C-]#[O+]", 1, 1}, {"[CH2-]C", 0, 1}, {"CC(C)=[OH+]", 3, 1},
	}
	for _, test := range tests {
		a, err := NewArtist(parse(t, test.smiles), Options{LonePairs: true})
		if err != nil {
			t.Fatal(err)
		}
		if got := a.LonePairs(test.atom); got != test.want {
			t.Errorf("%s: atom %d has %d lone pairs, want %d", test.smiles, test.atom+1, got, test.want)
		}
		dots := 0
		for _, item := range a.lonePairs(test.atom) {
			if _, ok := item.(draw.Path); ok {
				dots++
			}
		}
		if dots != 2*test.want {
			t.Errorf("%s: atom %d has %d dots, want %d", test.smiles, test.atom+1, dots, 2*test.want)
		}
	}
}

func TestWords(t *testing.T) {
	f := figure(t, "CC(=O)c1ccccc1", Options{Name: "acetophenone"})
	if want := "Structure of acetophenone"; f.Title != want {
		t.Errorf("title %q, want %q", f.Title, want)
	}
	want := "Skeletal formula of acetophenone, C8H8O: 8 carbon atoms and 1 oxygen atom; 1 aromatic ring of 6 atoms; 1 double bond C=O."
	if f.Description != want {
		t.Errorf("description\n%s\nwant\n%s", f.Description, want)
	}
	ion := figure(t, "CCC(C)=[O+]", Options{})
	for _, part := range []string{"C4H8O+", "1 positive charge on oxygen", "1 unpaired electron on oxygen"} {
		if !strings.Contains(ion.Description, part) {
			t.Errorf("the description lacks %q: %s", part, ion.Description)
		}
	}
	if len(f.Table.Rows) != 9 || f.Table.Rows[1][4] != "1, =3, 4" {
		t.Errorf("the table of atoms: %q", f.Table.Rows)
	}
}

func TestMarks(t *testing.T) {
	f := figure(t, "CCC(C)=O", Options{Atoms: []int{4}, Bonds: []int{1, 2}, Numbers: true})
	marks := 0
	f.Scene.Walk(func(item draw.Item, within []*draw.Group) {
		if p, ok := item.(draw.Path); ok && within[len(within)-1].Class == "marks" && p.Stroke.Role == draw.Accent {
			marks++
		}
	})
	if marks != 3 {
		t.Errorf("%d marks, want 3", marks)
	}
	if got := texts(f); !slices.Contains(got, "5") || !slices.Contains(got, "1") {
		t.Errorf("the atoms aren't numbered: %q", got)
	}
}

func TestWhatCantBeDrawn(t *testing.T) {
	m := parse(t, "CCO")
	tests := []struct {
		o    Options
		want string
	}{
		{Options{Bond: 1}, "the bond length is 1 pixels"},
		{Options{Bond: math.NaN()}, "the bond length is NaN"},
		{Options{Places: []layout.Point{{}}}, "places for 1 atoms, and 3 atoms"},
		{Options{Places: []layout.Point{{}, {X: math.Inf(1)}, {}}}, "atom 2 stands at (+Inf, 0)"},
		{Options{Atoms: []int{3}}, "atom 4 is to be marked, and there are 3"},
		{Options{Bonds: []int{-1}}, "bond 0 is to be marked"},
	}
	for _, test := range tests {
		_, err := Draw(m, test.o)
		if err == nil || !strings.Contains(err.Error(), test.want) || !strings.Contains(err.Error(), `"C2H6O"`) {
			t.Errorf("%+v: error %v, want one with %q and the formula", test.o, err, test.want)
		}
	}
	empty, err := mol.New(nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	f, err := Draw(empty, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := svg.Marshal(f, svg.Options{}); err != nil {
		t.Errorf("the empty structure: %v", err)
	}
}

// chiral structures, with the usual ways for a center to be bonded;
var chiral = []string{
	"N[C@@H](C)C(=O)O", "N[C@H](C)C(=O)O", "F[C@](Cl)(Br)I", "F[C@@](Cl)(Br)I", "C[C@H](O)[C@@H](N)C(=O)O",
	"C[C@@]12CC[C@H]3[C@@H](CC=C4C[C@@H](O)CC[C@]34C)[C@@H]1CC[C@@H]2O", "C[C@H]1CC[C@@H](C(C)C)C[C@@H]1O",
	"OC[C@H]1O[C@@H](O)[C@H](O)[C@@H](O)[C@@H]1O", "CC(=C)[C@@H]1CC=C(C)C(=O)C1", "C[C@]1(O)CCCC[C@@H]1N", "C[C@@H](F)Cl",
	"CC[C@@](C)(N)c1ccccc1", "O[C@@H]1CCC[C@@]12CCCC2", "C[S@](=O)c1ccccc1",
	// and double bonds, in large rings too
	`C/C=C/C`, `C/C=C\C`, `C1CCC/C=C/CC1`, `C1CCC/C=C\CC1`, `C/C1=C\CC/C(C)=C/CC(C)(C)/C=C/C1`, `C/C1=C\CCC(=C)[C@H]2CC(C)(C)[C@@H]2CC1`,
}

// readBack reads molfiles, four dollar signs between them, and prints each
// structure's canonical isomeric SMILES beside that of the SMILES it was drawn
// from.
const readBack = `
import sys
from rdkit import Chem
for record in sys.stdin.read().split('$$$$\n'):
    if not record.strip(): continue
    want, block = record.split('\n', 1)
    m = Chem.MolFromMolBlock(block, removeHs=True)
    ref = Chem.MolFromSmiles(want)
    print(Chem.MolToSmiles(m), Chem.MolToSmiles(ref))
`

// The witness reads each drawing, its places and wedges, and must see the
// structure that was drawn.
func TestWedgesAreReadBack(t *testing.T) {
	var input strings.Builder
	for _, s := range chiral {
		fmt.Fprintf(&input, "%s\n%s$$$$\n", s, molfile(t, parse(t, s)))
	}
	lines := strings.Split(strings.TrimSpace(string(witness.Python(t, "rdkit", readBack, []byte(input.String())))), "\n")
	if len(lines) != len(chiral) {
		t.Fatalf("%d structures read back of %d:\n%s", len(lines), len(chiral), strings.Join(lines, "\n"))
	}
	for i, line := range lines {
		got, want, _ := strings.Cut(line, " ")
		if got != want {
			t.Errorf("%s: drawn as %s, want %s", chiral[i], got, want)
		}
	}
}

// molfile is a connection table (V2000) of a drawing: places, and the wedges
// with their tip first.
func molfile(t *testing.T, m *mol.Mol) string {
	t.Helper()
	a, err := NewArtist(m, Options{})
	if err != nil {
		t.Fatal(err)
	}
	shown := a.wedges()
	type atom struct {
		symbol string
		p      draw.Point
		charge int
	}
	type bond struct{ from, to, order, stereo int }
	var atoms []atom
	var bonds []bond
	for i := range m.NumAtoms() {
		atoms = append(atoms, atom{m.Atom(i).Element.Symbol(), a.at[i], int(m.Atom(i).Charge)})
	}
	code := func(front bool) int {
		if front {
			return 1
		}
		return 6
	}
	for i := range m.NumBonds() {
		b := m.Bond(i)
		one := bond{int(b.Begin), int(b.End), int(m.KekuleOrder(i)), 0}
		if w, ok := shown.bonds[i]; ok {
			one = bond{int(w.from), int(b.Other(w.from)), 1, code(w.front)}
		}
		bonds = append(bonds, one)
	}
	for i := range m.NumAtoms() {
		if front, ok := shown.hydrogens[i]; ok {
			d := a.freeDirection(i, 0)
			atoms = append(atoms, atom{"H", draw.Point{X: a.at[i].X + 15*d.X, Y: a.at[i].Y + 15*d.Y}, 0})
			bonds = append(bonds, bond{i, len(atoms) - 1, 1, code(front)})
		}
	}
	var out strings.Builder
	fmt.Fprintf(&out, "\n\n\n%3d%3d  0  0  1  0  0  0  0  0999 V2000\n", len(atoms), len(bonds))
	for _, at := range atoms {
		fmt.Fprintf(&out, "%10.4f%10.4f%10.4f %-3s 0  0  0  0  0  0  0  0  0  0  0  0\n", at.p.X/20, -at.p.Y/20, 0.0, at.symbol)
	}
	for _, b := range bonds {
		fmt.Fprintf(&out, "%3d%3d%3d%3d  0  0  0\n", b.from+1, b.to+1, b.order, b.stereo)
	}
	for i, at := range atoms {
		if at.charge != 0 {
			fmt.Fprintf(&out, "M  CHG  1 %3d %3d\n", i+1, at.charge)
		}
	}
	return out.String() + "M  END\n"
}

func BenchmarkDraw(b *testing.B) {
	m := parse(b, "CC12CCC3C(CCC4=CC(=O)CCC34C)C1CCC2O")
	places := layout.Coordinates(m)
	for b.Loop() {
		if _, err := Draw(m, Options{Places: places}); err != nil {
			b.Fatal(err)
		}
	}
}

// TestBondsHaveIDsWhenAsked lets a page find a bond by its number.
func TestBondsHaveIDsWhenAsked(t *testing.T) {
	for asked, want := range map[bool]int{true: 4, false: 0} { // butanone has 4 bonds between its atoms
		count := 0
		figure(t, "CCC(C)=O", Options{BondIDs: asked}).Scene.Walk(func(item draw.Item, _ []*draw.Group) {
			if g, ok := item.(*draw.Group); ok && strings.HasPrefix(g.ID, "bond-") {
				count++
			}
		})
		if count != want {
			t.Errorf("BondIDs %v: %d bonds have an id, want %d", asked, count, want)
		}
	}
}
