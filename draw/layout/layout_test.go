package layout_test

import (
	"cmp"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"ionwright/draw/layout"
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

func distance(p, q layout.Point) float64 { return math.Hypot(p.X-q.X, p.Y-q.Y) }

// faults are what a drawing of a structure mustn't have.
type faults struct {
	touching bool // two atoms nearer than half a bond
	through  bool // a bond nearer than a fifth of a bond to an atom that isn't its own
	length   bool // a bond that is off by more than 5 %, in a structure without bridged rings
	crossing bool
}

func inspect(m *mol.Mol, p []layout.Point) faults {
	var f faults
	for a := range p {
		for b := range a {
			f.touching = f.touching || distance(p[a], p[b]) < 0.5
		}
	}
	side := func(p, q, r layout.Point) float64 { return (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X) }
	for i := range m.NumBonds() {
		e := m.Bond(i)
		u, v := p[e.Begin], p[e.End]
		length := distance(u, v)
		f.length = f.length || math.Abs(length-1) > 0.05
		for k := range i {
			g := m.Bond(k)
			if e.Begin == g.Begin || e.Begin == g.End || e.End == g.Begin || e.End == g.End {
				continue
			}
			w, x := p[g.Begin], p[g.End]
			f.crossing = f.crossing || side(u, v, w)*side(u, v, x) < -1e-9 && side(w, x, u)*side(w, x, v) < -1e-9
		}
		for a, q := range p {
			if int32(a) == e.Begin || int32(a) == e.End || length == 0 {
				continue
			}
			along := ((q.X-u.X)*(v.X-u.X) + (q.Y-u.Y)*(v.Y-u.Y)) / length
			f.through = f.through || along > 0 && along < length && math.Abs(side(u, v, q))/length < 0.2
		}
	}
	f.length = f.length && !bridged(m)
	return f
}

// bridged reports whether two smallest rings share more than one bond.
func bridged(m *mol.Mol) bool {
	rings := m.Rings()
	for i, r := range rings {
		for _, s := range rings[:i] {
			shared := 0
			for k, a := range r {
				b := r[(k+1)%len(r)]
				j := slices.Index(s, a)
				if j >= 0 && (s[(j+1)%len(s)] == b || s[(j+len(s)-1)%len(s)] == b) {
					shared++
				}
			}
			if shared > 1 {
				return true
			}
		}
	}
	return false
}

// Structures that are hard to draw flat: cages, crowded centers, long and
// branched chains, systems fused and joined in every way.
var hard = strings.Fields(`
	C1CC2CCC1C2 C1CC2CCC1CC2 C1C2CC3CC1CC(C2)C3 CC1(C)C2CCC1(C)C(=O)C2 CC1=CCC2CC1C2(C)C CN1C2CCC1CC(OC(=O)C(CO)c1ccccc1)C2
	CC12CCC3C(CCC4=CC(=O)CCC34C)C1CCC2O CC(C)CCCC(C)C1CCC2C1(CCC3C2CC=C4C3(CCC(C4)O)C)C
	c1cc2ccc3cccc4ccc(c1)c2c34 c1ccc2c(c1)ccc1ccccc12 C1CC11CCCC1 C1CCC2(CC1)OCCO2 C1CCCCCCCCCCCCC1=O
	c1ccc(C(c2ccccc2)(c2ccccc2)c2ccccc2)cc1 CC(C)(C)C(C)(C)C(C)(C)C C[Si](C)(C)[Si]([Si](C)(C)C)([Si](C)(C)C)[Si](C)(C)C
	OCC1OC(OC2(CO)OC(CO)C(O)C2O)C(O)C(O)C1O C1=Cc2cccc3cccc1c23 C1CC2CCC3CCCC23C1 C#CC#CC=C=CC N#CC(C#N)=C(C#N)C#N
	CC(=O)Oc1c(OC(C)=O)c(OC(C)=O)c(OC(C)=O)c(OC(C)=O)c1OC(C)=O O=S(=O)(c1ccccc1)N OP(O)(O)=O FS(F)(F)(F)(F)F [Na+].[Cl-]
	C1OCCOCCOCCOCCOCCO1 c1cc2cc(c1)CCc1cccc(c1)CC2 CC1CCC2C(C)C(=O)OC3OC4(C)CCC1C23OO4`)

func TestHardStructures(t *testing.T) {
	for _, s := range hard {
		m := parse(t, s)
		f := inspect(m, layout.Coordinates(m))
		if f.touching || f.through || f.length {
			t.Errorf("%s: %+v", s, f)
		}
	}
}

func TestFixtureStructures(t *testing.T) {
	for _, r := range fixture.Measured(t) {
		m := parse(t, r.SMILES)
		if f := inspect(m, layout.Coordinates(m)); f != (faults{}) {
			t.Errorf("%s: %+v", r.SMILES, f)
		}
	}
}

// rdkitCrossings counts the structures in which RDKit's layout has crossing
// bonds, by the same test as inspect.
const rdkitCrossings = `
import sys, json
from rdkit import Chem, RDLogger
from rdkit.Chem import rdDepictor
RDLogger.DisableLog('rdApp.*')
side = lambda p,q,r: (q[0]-p[0])*(r[1]-p[1])-(q[1]-p[1])*(r[0]-p[0])
crossing = total = 0
for line in sys.stdin:
    m = Chem.MolFromSmiles(line.strip())
    if m is None: continue
    total += 1
    rdDepictor.Compute2DCoords(m)
    c = m.GetConformer()
    p = [(c.GetAtomPosition(i).x/1.5, c.GetAtomPosition(i).y/1.5) for i in range(m.GetNumAtoms())]
    bonds = [(b.GetBeginAtomIdx(), b.GetEndAtomIdx()) for b in m.GetBonds()]
    def bad():
        for k,(i,j) in enumerate(bonds):
            for (u,v) in bonds[:k]:
                if len({i,j,u,v}) == 4 and side(p[i],p[j],p[u])*side(p[i],p[j],p[v]) < -1e-9 and side(p[u],p[v],p[i])*side(p[u],p[v],p[j]) < -1e-9:
                    return True
    crossing += bool(bad())
print(json.dumps({"total": total, "crossing": crossing}))
`

// All structures of the shared spectra: nothing touches, no bond runs through
// an atom, bonds keep their length, and bonds cross in no more structures than
// in RDKit's layout.
func TestSharedStructures(t *testing.T) {
	var all []string
	for _, file := range []string{"train", "low_train", "labelled_train"} {
		for _, r := range witness.Records(t, file) {
			all = append(all, r.SMILES)
		}
	}
	slices.Sort(all)
	all = slices.Compact(all)
	crossing := 0
	for _, s := range all {
		m := parse(t, s)
		f := inspect(m, layout.Coordinates(m))
		if f.touching || f.through || f.length {
			t.Errorf("%s: %+v", s, f)
		}
		if f.crossing {
			crossing++
		}
	}
	var reference struct{ Total, Crossing int }
	if err := json.Unmarshal(witness.Python(t, "rdkit", rdkitCrossings, []byte(strings.Join(all, "\n"))), &reference); err != nil {
		t.Fatal(err)
	}
	if reference.Total < 5000 {
		t.Fatalf("RDKit has laid out only %d structures", reference.Total)
	}
	if crossing > reference.Crossing {
		t.Errorf("bonds cross in %d of %d structures, in RDKit's layout in %d", crossing, len(all), reference.Crossing)
	}
}

func TestRegularRings(t *testing.T) {
	for _, s := range []string{"C1CC1", "C1CCC1", "c1ccccc1", "C1CCCCCC1", "c1ccc2ccccc2c1", "c1ccc2cc3ccccc3cc2c1", "c1ccc2c(c1)[nH]c1ccccc12"} {
		m := parse(t, s)
		p := layout.Coordinates(m)
		for _, ring := range m.Rings() {
			n := len(ring)
			want := 2 * math.Cos(math.Pi/float64(n)) // across one atom of a regular polygon of side 1
			for i, a := range ring {
				if d := distance(p[a], p[ring[(i+2)%n]]); n > 3 && math.Abs(d-want) > 1e-6 {
					t.Errorf("%s: atoms %d and %d are %v apart, want %v", s, a+1, ring[(i+2)%n]+1, d, want)
				}
			}
		}
	}
}

// Zigzag, 120 degrees, lying: common practice of drawing.
func TestChainsLieFlat(t *testing.T) {
	m := parse(t, "CCCCCCCC")
	p := layout.Coordinates(m)
	for i := 1; i < len(p); i++ {
		if dy := math.Abs(p[i].Y - p[i-1].Y); math.Abs(dy-0.5) > 1e-6 {
			t.Errorf("bond %d climbs by %v, want 0.5", i, dy)
		}
		if i > 1 && math.Abs(distance(p[i], p[i-2])-math.Sqrt(3)) > 1e-6 {
			t.Errorf("the angle at atom %d isn't 120 degrees", i)
		}
	}
}

func TestCarbonylsPointUp(t *testing.T) {
	for _, s := range []string{"CC(C)=O", "CCC(C)=O", "CCCCC(=O)CCC", "COC(=O)CC", "CC(=O)c1ccccc1"} {
		m := parse(t, s)
		p := layout.Coordinates(m)
		for i := range m.NumBonds() {
			b := m.Bond(i)
			if b.Order != mol.Double {
				continue
			}
			c, o := b.Begin, b.End
			if m.Atom(int(c)).Element == 8 {
				c, o = o, c
			}
			if p[o].Y-p[c].Y < 0.99 {
				t.Errorf("%s: C=O points (%.2f, %.2f)", s, p[o].X-p[c].X, p[o].Y-p[c].Y)
			}
		}
	}
}

func TestStraightAtoms(t *testing.T) {
	m := parse(t, "CC#CC")
	p := layout.Coordinates(m)
	if d := distance(p[0], p[3]); math.Abs(d-3) > 1e-6 {
		t.Errorf("the ends of 2-butyne are %v apart, want 3", d)
	}
	if math.Abs(p[0].Y-p[3].Y) > 1e-6 {
		t.Errorf("2-butyne doesn't lie: %v", p)
	}
}

// The ends of F/C=C/F lie on opposite sides, of F/C=C\F on the same side
// (OpenSMILES 3.9.3).
func TestDoubleBondsAreDrawnAsGiven(t *testing.T) {
	for s, cis := range map[string]bool{
		`F/C=C/F`: false, `F/C=C\F`: true, `CCCC/C=C/CCC`: false, `CCCC/C=C\CCC`: true,
		`C/C(Cl)=C(/C)Br`: false, `C/C(Cl)=C(\C)Br`: true, `CC(C)(C)/C=C\C(C)(C)C`: true, `C1CCCCC1/C=C\c1ccccc1`: true,
	} {
		m := parse(t, s)
		p := layout.Coordinates(m)
		seen := false
		for i := range m.NumBonds() {
			b := m.Bond(i)
			if b.Stereo == mol.NoStereo {
				continue
			}
			seen = true
			first := func(end, other int32) layout.Point {
				for _, n := range m.Neighbors(int(end)) {
					if n.Atom != other {
						return p[n.Atom]
					}
				}
				return layout.Point{}
			}
			u, v := p[b.Begin], p[b.End]
			side := func(q layout.Point) float64 { return (v.X-u.X)*(q.Y-u.Y) - (v.Y-u.Y)*(q.X-u.X) }
			same := side(first(b.Begin, b.End))*side(first(b.End, b.Begin)) > 0
			if same != (b.Stereo == mol.Cis) {
				t.Errorf("%s: the neighbors are drawn on the same side: %v, the graph says %v", s, same, b.Stereo)
			}
			if (b.Stereo == mol.Cis) != cis && strings.HasPrefix(s, "F") {
				t.Errorf("%s: read as %v", s, b.Stereo)
			}
		}
		if !seen {
			t.Errorf("%s: no arrangement was read", s)
		}
	}
}

// Double bonds in large rings: (E)-cyclooctene to germacrene and humulene.
func TestDoubleBondsInLargeRings(t *testing.T) {
	for _, test := range []struct {
		smiles     string
		cis, trans int // ring double bonds by the side of their ring neighbors
	}{
		{`C1CCC/C=C/CC1`, 0, 1}, {`C1CCC/C=C\CC1`, 1, 0}, {`C1CCCC/C=C/CCC1`, 0, 1}, {`C1CC/C=C/CC/C=C/CC1`, 0, 2},
		{`C/C1=C\CC/C(C)=C/CC(C)(C)/C=C/C1`, 0, 3},    // humulene
		{`C/C1=C\CC/C(C)=C/C[C@@H](CC1)C(C)=C`, 0, 2}, // germacrene A
		{`CC(=O)O[C@@H]1C/C=C/CCCCCCCCC(=O)O1`, 0, 1}, // an unsaturated macrolactone
		{`C1CCCCCC/C=C\CCCCCC1`, 1, 0}, {`C1CC/C=C/C/C=C\C1`, 1, 1},
		{`C/C1=C\CCC(=C)[C@H]2CC(C)(C)[C@@H]2CC1`, 0, 1}, // caryophyllene
		{`C1CC=CCCC=C1`, 2, 0},                           // nothing given: as a polygon
	} {
		m := parse(t, test.smiles)
		p := layout.Coordinates(m)
		if f := inspect(m, p); f != (faults{}) {
			t.Errorf("%s: %+v", test.smiles, f)
		}
		cis, trans := 0, 0
		for _, ring := range m.Rings() {
			n := len(ring)
			for i, a := range ring {
				b := ring[(i+1)%n]
				bond, _ := m.BondBetween(int(a), int(b))
				if m.Bond(bond).Order != mol.Double {
					continue
				}
				side := func(q layout.Point) float64 {
					u, v := p[a], p[b]
					return (v.X-u.X)*(q.Y-u.Y) - (v.Y-u.Y)*(q.X-u.X)
				}
				if side(p[ring[(i+n-1)%n]])*side(p[ring[(i+2)%n]]) > 0 {
					cis++
				} else {
					trans++
				}
			}
		}
		if cis != test.cis || trans != test.trans {
			t.Errorf("%s: %d double bonds drawn cis and %d trans, want %d and %d", test.smiles, cis, trans, test.cis, test.trans)
		}
	}
}

// shuffled is m with its atoms and bonds in another order, and where each atom
// went.
func shuffled(t *testing.T, m *mol.Mol, random *rand.Rand) (*mol.Mol, []int) {
	t.Helper()
	to := random.Perm(m.NumAtoms())
	atoms := make([]mol.Atom, m.NumAtoms())
	for i, k := range to {
		atoms[k] = m.Atom(i)
	}
	var bonds []mol.Bond
	for _, i := range random.Perm(m.NumBonds()) {
		b := m.Bond(i)
		bonds = append(bonds, mol.Bond{Begin: int32(to[b.End]), End: int32(to[b.Begin]), Order: b.Order})
	}
	other, err := mol.New(atoms, bonds)
	if err != nil {
		t.Fatal(err)
	}
	return other, to
}

// picture is a drawing without the numbers of its atoms.
func picture(m *mol.Mol, p []layout.Point) []string {
	var out []string
	round := func(v float64) float64 { return math.Round(v*1e4) / 1e4 }
	for i, q := range p {
		out = append(out, fmt.Sprintf("%d %.3f %.3f", m.Atom(i).Element, round(q.X)+0, round(q.Y)+0))
	}
	slices.SortFunc(out, cmp.Compare)
	return out
}

func TestRenumberingChangesNothing(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 5))
	for _, s := range append(slices.Clone(hard), "CC(=O)Oc1ccccc1C(=O)O", "CCN(CC)CC", "CN1C=NC2=C1C(=O)N(C)C(=O)N2C") {
		if strings.ContainsAny(s, "/\\@") {
			continue
		}
		m := parse(t, s)
		want := picture(m, layout.Coordinates(m))
		for range 3 {
			other, _ := shuffled(t, m, random)
			if got := picture(other, layout.Coordinates(other)); !slices.Equal(got, want) {
				t.Errorf("%s: renumbered, it is drawn otherwise", s)
				break
			}
		}
	}
}

func TestOddInput(t *testing.T) {
	empty, err := mol.New(nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	if p := layout.Coordinates(empty); len(p) != 0 {
		t.Errorf("the empty graph has places %v", p)
	}
	for _, s := range []string{"C", "[H][H]", "[Na+].[Cl-].O", "C.C.C.C", strings.Repeat("C", 700), "C" + strings.Repeat("C(C)(C)", 60), strings.Repeat("C1CC1", 20), strings.Repeat("c1ccc(cc1)", 40) + "C"} {
		m := parse(t, s)
		for i, p := range layout.Coordinates(m) {
			if math.IsNaN(p.X) || math.IsNaN(p.Y) || math.IsInf(p.X, 0) || math.IsInf(p.Y, 0) {
				t.Errorf("%.30s: atom %d stands at %v", s, i+1, p)
				break
			}
		}
	}
}

func BenchmarkCoordinates(b *testing.B) {
	var all []*mol.Mol
	for _, s := range []string{"CCC(C)=O", "CC(=O)Oc1ccccc1C(=O)O", "CCCCCCCC(=O)OCC", "CC12CCC3C(CCC4=CC(=O)CCC34C)C1CCC2O", "COc1ccc(C=CC(=O)c2ccccc2)cc1", "CCN(CC)CC"} {
		m := parse(b, s)
		m.Rings()
		all = append(all, m)
	}
	for i := 0; b.Loop(); i++ {
		layout.Coordinates(all[i%len(all)])
	}
}

func TestFollowing(t *testing.T) {
	whole := parse(t, "CCCC(=O)CCc1ccccc1")
	drawn := layout.Coordinates(whole)
	// What is left when the propyl group is lost keeps its atoms' places.
	part := parse(t, "C(=O)CCc1ccccc1")
	places := map[int]layout.Point{}
	for i := range part.NumAtoms() {
		places[i] = drawn[i+3]
	}
	for i, p := range layout.Following(part, places) {
		if distance(p, drawn[i+3]) > 1e-9 {
			t.Errorf("atom %d moved from %v to %v", i+1, drawn[i+3], p)
		}
	}
	// With only the ring known, and turned and mirrored, the ring stays.
	known := map[int]layout.Point{}
	sin, cos := math.Sincos(1)
	for i := 4; i < part.NumAtoms(); i++ {
		p := drawn[i+3]
		known[i] = layout.Point{X: 5 - p.X*cos + p.Y*sin, Y: p.X*sin + p.Y*cos - 2}
	}
	for i, p := range layout.Following(part, known) {
		if q, ok := known[i]; ok && distance(p, q) > 1e-6 {
			t.Errorf("ring atom %d stands at %v, want %v", i+1, p, q)
		}
	}
	// A ring that closes can't keep a chain's places.
	ring := parse(t, "C1CCCCC1")
	chain := layout.Coordinates(parse(t, "CCCCCC"))
	places = map[int]layout.Point{}
	for i, p := range chain {
		places[i] = p
	}
	if f := inspect(ring, layout.Following(ring, places)); f != (faults{}) {
		t.Errorf("a ring drawn after a chain: %+v", f)
	}
	if p := layout.Following(ring, nil); len(p) != 6 {
		t.Errorf("without places: %v", p)
	}
	if p := layout.Following(ring, map[int]layout.Point{0: {X: math.NaN()}}); math.IsNaN(p[0].X) {
		t.Error("a place that is no number is followed")
	}
}
