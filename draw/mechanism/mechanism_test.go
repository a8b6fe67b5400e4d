package mechanism

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"ionwright/draw"
	"ionwright/draw/svg"
	"ionwright/internal/textbook"
	"ionwright/ionize"
	"ionwright/mol/smiles"
)

func predict(t testing.TB, text string) *ionize.Prediction {
	t.Helper()
	m, err := smiles.Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	p, err := ionize.Predict(context.Background(), m, ionize.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// part is what a drawing holds, sorted by what mustn't overlap.
type part struct {
	texts  []draw.Box
	arrows [][][]draw.Point // by arrow: its lines and head as polylines
	dots   []draw.Box
}

// partsOf takes a drawing apart: one part for each ion, and one for the words of
// the steps.
func partsOf(s draw.Scene) (ions []*part, steps *part) {
	steps = &part{}
	byGroup := map[*draw.Group]*part{}
	arrowOf := map[*draw.Group]int{}
	s.Walk(func(item draw.Item, within []*draw.Group) {
		current := steps
		var arrow *draw.Group
		class := ""
		for _, g := range within {
			class = g.Class
			if g.Class == "ion" {
				if byGroup[g] == nil {
					byGroup[g] = &part{}
					ions = append(ions, byGroup[g])
				}
				current = byGroup[g]
			}
			if strings.HasPrefix(g.Class, "electron") {
				arrow = g
			}
		}
		switch it := item.(type) {
		case draw.Text:
			current.texts = append(current.texts, it.Bounds())
		case draw.Path:
			if arrow != nil {
				k, known := arrowOf[arrow]
				if !known {
					k = len(current.arrows)
					arrowOf[arrow] = k
					current.arrows = append(current.arrows, nil)
				}
				current.arrows[k] = append(current.arrows[k], it.Flatten(0.2)...)
			} else if class == "ion" && it.Fill == draw.Ink {
				current.dots = append(current.dots, draw.Bounds(it))
			}
		}
	})
	return ions, steps
}

// overlaps lists what lies on what.
func overlaps(s draw.Scene) []string {
	var out []string
	ions, steps := partsOf(s)
	var all []draw.Box
	for _, ion := range ions {
		all = append(all, ion.texts...)
	}
	all = append(all, steps.texts...)
	for i, b := range all {
		for _, c := range all[:i] {
			if b.Grow(-0.4).Overlaps(c) {
				out = append(out, fmt.Sprintf("texts at %v and %v", b, c))
			}
		}
		if !(draw.Box{Right: s.Width, Bottom: s.Height}).Contains(b) {
			out = append(out, fmt.Sprintf("a text at %v is off the canvas", b))
		}
	}
	for k, ion := range ions {
		for i, arrow := range ion.arrows {
			for _, line := range arrow {
				for j := 1; j < len(line); j++ {
					for _, box := range all {
						if box.Grow(-0.4).CrossedBy(line[j-1], line[j]) {
							out = append(out, fmt.Sprintf("ion %d: arrow %d on the text at %v", k+1, i+1, box))
						}
					}
					for _, other := range ion.arrows[:i] {
						for _, l := range other {
							for m := 1; m < len(l); m++ {
								if meet(line[j-1], line[j], l[m-1], l[m]) {
									out = append(out, fmt.Sprintf("ion %d: arrows %d and another cross", k+1, i+1))
								}
							}
						}
					}
				}
			}
		}
		for _, dot := range ion.dots {
			for _, box := range all {
				if box.Grow(-0.2).Overlaps(dot) {
					out = append(out, fmt.Sprintf("ion %d: a dot on the text at %v", k+1, box))
				}
			}
		}
	}
	return out
}

// Every textbook route is drawn without one thing lying on another, at the
// widths of a page, of a telephone and in one row.
func TestTextbookRoutesHaveNoOverlaps(t *testing.T) {
	predictions := map[string]*ionize.Prediction{}
	for i, row := range textbook.Rows() {
		if testing.Short() && i%6 != 0 {
			continue
		}
		p := predictions[row.SMILES]
		if p == nil {
			p = predict(t, row.SMILES)
			predictions[row.SMILES] = p
		}
		for _, width := range []float64{0, 720, 350} {
			f, err := Peak(p, row.MZ, Options{Name: row.Compound, Width: width})
			if err != nil {
				t.Fatal(err)
			}
			for _, o := range overlaps(f.Scene) {
				t.Errorf("%s, m/z %d, %g pixels: %s", row.Compound, row.MZ, width, o)
			}
			if width == 720 && f.Scene.Width > width {
				t.Errorf("%s, m/z %d: %g pixels wide", row.Compound, row.MZ, f.Scene.Width)
			}
		}
	}
}

// Every arrow of the textbook routes is drawn from the bond or beside the atom
// that it takes electrons from to the bond or atom that receives them. That the
// electrons are there, and that none is lost, is checked where they are worked
// out, in ionize.
func TestArrowsEndWhereElectronsGo(t *testing.T) {
	arrows := 0
	for i, row := range textbook.Rows() {
		if testing.Short() && i%6 != 0 {
			continue
		}
		p := predict(t, row.SMILES)
		movements, err := p.RouteMovements(p.At(row.MZ)[0].ID)
		if err != nil {
			t.Fatal(err)
		}
		s := &strip{o: Options{Bond: 30}}
		var at places
		for _, m := range movements {
			at = at.enter(m)
			for k, panel := range m.Panels {
				b, _, err := s.prepare(&at, panel, visible(m, k), asWritten)
				if err != nil {
					t.Fatal(err)
				}
				if len(b.arrows) != len(panel.Arrows) {
					t.Errorf("%s, m/z %d: %d arrows drawn of %d", row.Compound, row.MZ, len(b.arrows), len(panel.Arrows))
				}
				for _, a := range b.arrows {
					arrows++
					if d := b.fromSite(a.curve.p[0], a.From); d > 0.9 {
						t.Errorf("%s, m/z %d: an arrow begins %.1f bonds from %s", row.Compound, row.MZ, d, siteWords(panel.Before, a.From, a.Electrons))
					}
					if d := b.fromSite(a.curve.p[3], a.To); d > 0.9 {
						t.Errorf("%s, m/z %d: an arrow ends %.1f bonds from %s", row.Compound, row.MZ, d, siteWords(panel.Before, a.To, 0))
					}
				}
			}
		}
	}
	if arrows < 30 {
		t.Errorf("only %d arrows seen", arrows)
	}
}

// fromSite is how far a point is from a place of electrons, in bonds; more than
// 9 where another atom, or the middle of another bond, is nearer. A new bond is
// reached at its middle or at either atom.
func (b *board) fromSite(p draw.Point, s ionize.Site) float64 {
	x := b.artist.Place(b.index[s.Begin])
	if !s.Bond {
		for i := range b.mol.NumAtoms() {
			if i != b.index[s.Begin] && distance(p, b.artist.Place(i)) < distance(p, x) {
				return 9.1
			}
		}
		return distance(p, x) / b.bond
	}
	y := b.artist.Place(b.index[s.End])
	if _, joined := b.mol.BondBetween(b.index[s.Begin], b.index[s.End]); !joined {
		return min(distance(p, middle(x, y)), distance(p, x), distance(p, y)) / b.bond
	}
	near := nearLine(p, x, y)
	for k := range b.mol.NumBonds() {
		other := b.mol.Bond(k)
		u, v := b.artist.Place(int(other.Begin)), b.artist.Place(int(other.End))
		if distance(middle(u, v), middle(x, y)) > 0.1 && nearLine(p, u, v) < near-0.1 {
			return 9.2
		}
	}
	return near / b.bond
}

// An ion at the end of a route stands in brackets where its charge is spread,
// and then its sign is outside: ethylbenzene's benzyl ion, the ion of
// buta-1,3-diene; the acylium of a ketone is written with its charge. (Common
// practice, no source.) The words say the same.
func TestDelocalizedIonsAreInBrackets(t *testing.T) {
	for _, test := range []struct {
		smiles string
		mz     int
		sign   string // outside brackets; empty: no brackets
		words  string
	}{
		{"CCc1ccccc1", 91, "+", "m/z 91, is in brackets: positive charge spread over"},
		{"C1CCC=CC1", 54, "+•", "m/z 54, is in brackets: positive charge spread over"},
		{"CCCC(C)=O", 43, "", ""},
	} {
		f, err := Peak(predict(t, test.smiles), test.mz, Options{})
		if err != nil {
			t.Fatal(err)
		}
		sign := ""
		f.Scene.Walk(func(item draw.Item, within []*draw.Group) {
			if text, ok := item.(draw.Text); ok && within[len(within)-1].Class == "brackets" {
				sign += text.String()
			}
		})
		if sign != test.sign || !strings.Contains(f.Detail, test.words) {
			t.Errorf("%s, m/z %d: %q outside brackets, want %q; the words are %s", test.smiles, test.mz, sign, test.sign, f.Detail)
		}
	}
}

// An alpha-cleavage has three arrows with a single barb, an inductive cleavage
// one with a double barb: the heads have as many corners beside the tip.
func TestBarbs(t *testing.T) {
	for _, test := range []struct {
		smiles     string
		mz         int
		ones, twos int
	}{
		{"CCCC(C)=O", 71, 3, 0},  // alpha-cleavage: three single electrons, IUPAC
		{"CC(C)Br", 43, 0, 1},    // inductive cleavage: one pair, IUPAC
		{"CCCC(C)=O", 58, 6, 0},  // hydrogen shift and cleavage, three single electrons each: common practice, no source
		{"CC(C)(C)C", 57, 1, 0},  // one electron of the ionized bond stays with the methyl: common practice, no source
		{"CCCCO", 56, 3, 1},      // hydrogen shift by single electrons, then water takes a pair: common practice, no source
		{"Clc1ccccc1", 77, 0, 1}, // common practice, no source
	} {
		f, err := Peak(predict(t, test.smiles), test.mz, Options{})
		if err != nil {
			t.Fatal(err)
		}
		ones, twos := 0, 0
		f.Scene.Walk(func(item draw.Item, _ []*draw.Group) {
			if g, ok := item.(*draw.Group); ok {
				head := g.Items
				switch g.Class {
				case "electron":
					ones++
					if n := len(head[1].(draw.Path).Segments); n != 4 { // three corners, closed
						t.Errorf("%s: a head of %d segments for one electron", test.smiles, n)
					}
				case "electron-pair":
					twos++
					if n := len(head[1].(draw.Path).Segments); n != 5 {
						t.Errorf("%s: a head of %d segments for two electrons", test.smiles, n)
					}
				}
			}
		})
		if ones != test.ones || twos != test.twos {
			t.Errorf("%s, m/z %d: %d arrows of one electron and %d of two, want %d and %d", test.smiles, test.mz, ones, twos, test.ones, test.twos)
		}
	}
}

func TestSameBytes(t *testing.T) {
	draws := []func() (draw.Figure, error){
		func() (draw.Figure, error) { return Peak(predict(t, "CCCC(C)=O"), 58, Options{Width: 500}) },
		func() (draw.Figure, error) { return Map(predict(t, "CCCC(C)=O"), MapOptions{}) },
	}
	for i, figure := range draws {
		var first []byte
		for range 3 {
			f, err := figure()
			if err != nil {
				t.Fatal(err)
			}
			for _, palette := range []draw.Palette{draw.Dark(), draw.Print(), draw.Light()} {
				text, err := svg.Marshal(f, svg.Options{Palette: palette})
				if err != nil {
					t.Fatal(err)
				}
				if palette.Name == "light" {
					if first != nil && !bytes.Equal(first, text) {
						t.Errorf("figure %d: other bytes the second time", i)
					}
					first = text
				}
			}
		}
	}
}

// The atoms of an ion keep their places from cell to cell where no ring is laid
// out for a shift: butanone's carbonyl group stays where it is.
func TestSkeletonStays(t *testing.T) {
	p := predict(t, "CC(=O)c1ccccc1")
	movements, err := p.RouteMovements(p.At(77)[0].ID)
	if err != nil {
		t.Fatal(err)
	}
	steps := p.Route(p.At(77)[0].ID)
	s, err := newStrip(p, steps, movements, Options{Bond: 30})
	if err != nil {
		t.Fatal(err)
	}
	// The ring's lowest corner stands at one height in all three ions.
	bottom := func(c cell) float64 {
		lowest := math.Inf(-1)
		draw.Scene{Items: c.items}.Walk(func(item draw.Item, within []*draw.Group) {
			if p, ok := item.(draw.Path); ok && len(within) > 1 && within[len(within)-1].Class == "bond" {
				lowest = max(lowest, draw.Bounds(p).Bottom)
			}
		})
		return lowest
	}
	if len(s.cells) != 3 {
		t.Fatalf("%d ions drawn", len(s.cells))
	}
	for _, c := range s.cells[1:] {
		if math.Abs(bottom(c)-bottom(s.cells[0])) > 0.01 {
			t.Errorf("the ring moves from %g to %g", bottom(s.cells[0]), bottom(c))
		}
	}
}

func TestErrors(t *testing.T) {
	p := predict(t, "CCO")
	other := predict(t, "CCC")
	for _, test := range []struct {
		name string
		do   func() error
		want string
	}{
		{"no ion", func() error { _, err := Route(p, 9999, Options{}); return err }, "there is no ion 9999"},
		{"molecular ion", func() error { _, err := Route(p, 0, Options{}); return err }, "no step leads to this ion"},
		{"no peak", func() error { _, err := Peak(p, 33, Options{}); return err }, "no ion there; the nearest is at m/z 31"},
		{"width", func() error { _, err := Peak(p, 31, Options{Width: 3}); return err }, "the width is 3 pixels; it can be 200 to 20000"},
		{"bond", func() error { _, err := Peak(p, 31, Options{Bond: math.NaN()}); return err }, "the bond length is NaN pixels"},
		{"map width", func() error { _, err := Map(p, MapOptions{Width: 1}); return err }, "the width is 1 pixels"},
		{"map least", func() error { _, err := Map(p, MapOptions{Least: 101}); return err }, "it can be above 0 to 100"},
		{"map most", func() error { _, err := Map(p, MapOptions{Most: -1}); return err }, "-1 ions"},
		{"step", func() error { _, err := Step(other, ionize.Step{}, Options{}); return err }, "isn't one of the prediction's steps"},
	} {
		if err := test.do(); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%s: %v, want %q", test.name, err, test.want)
		}
	}
}

func BenchmarkPeak(b *testing.B) {
	p := predict(b, "CCCC(C)=O")
	for b.Loop() {
		if _, err := Peak(p, 58, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
