package smiles

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"ionwright/chem"
	"ionwright/internal/witness"
	"ionwright/mol"
)

// askRDKit is asked about pairs of a SMILES and our canonical one, a line
// each, and answers with a JSON object each: what it makes of the first, the
// canonical SMILES of both, and the first in random orders.
const askRDKit = `
import sys, json, rdkit
from rdkit import Chem, RDLogger
from rdkit.Chem import rdMolDescriptors
RDLogger.DisableLog('rdApp.*')
print(json.dumps({'version': rdkit.__version__}))
for line in sys.stdin:
    given, ours = line.rstrip('\n').split('\t')
    m = Chem.MolFromSmiles(given)
    if m is None:
        print('{}')
        continue
    back = Chem.MolFromSmiles(ours)
    canonical = Chem.MolToSmiles(m)
    try:
        shuffled = list(Chem.MolToRandomSmilesVect(m, 4, randomSeed=1))
        shuffled = [s for s in shuffled if Chem.MolToSmiles(Chem.MolFromSmiles(s)) == canonical]
    except RuntimeError:
        shuffled = []
    print(json.dumps({
        'canonical': canonical,
        'back': Chem.MolToSmiles(back) if back is not None else '',
        'shuffled': shuffled,
        'formula': rdMolDescriptors.CalcMolFormula(m),
        'rings': sorted(len(r) for r in m.GetRingInfo().AtomRings()),
        'atoms': [[a.GetAtomicNum(), a.GetTotalNumHs(), a.GetFormalCharge(), a.GetIsotope(), a.GetNumRadicalElectrons(), int(a.GetIsAromatic())] for a in m.GetAtoms()],
    }))
`

// answer is RDKit's.
type answer struct {
	Version                  string // of RDKit, in the first answer only
	Canonical, Back, Formula string
	Shuffled                 []string
	Rings                    []int
	Atoms                    [][6]int // element, hydrogens, charge, isotope, unpaired electrons, aromatic
}

// ask asks RDKit about each SMILES.
func ask(t *testing.T, list []string) (version string, answers []answer) {
	t.Helper()
	var in bytes.Buffer
	for _, s := range list {
		m, err := Parse(s)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(&in, "%s\t%s\n", s, Canonical(m))
	}
	out := bufio.NewScanner(bytes.NewReader(witness.Python(t, "rdkit", askRDKit, in.Bytes())))
	out.Buffer(nil, 1<<24)
	for out.Scan() {
		var a answer
		if err := json.Unmarshal(out.Bytes(), &a); err != nil {
			t.Fatal(err)
		}
		if a.Version != "" {
			version = a.Version
			continue
		}
		answers = append(answers, a)
	}
	if len(answers) != len(list) {
		t.Fatalf("RDKit answered %d of %d questions", len(answers), len(list))
	}
	return version, answers
}

// shared lists the structures of the shared spectra.
func shared(t *testing.T) []string {
	t.Helper()
	var list []string
	for _, file := range []string{"train", "low_train", "labelled_train"} {
		for _, record := range witness.Records(t, file) {
			list = append(list, record.SMILES)
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// odd lists testdata/odd.smi.
func odd(t testing.TB) []string {
	t.Helper()
	data, err := os.ReadFile("testdata/odd.smi")
	if err != nil {
		t.Fatal(err)
	}
	var list []string
	for line := range strings.Lines(string(data)) {
		if line = strings.TrimSpace(line); line != "" && !strings.HasPrefix(line, "#") {
			list = append(list, line)
		}
	}
	return list
}

// compare compares a molecule with RDKit's answer and returns where they
// differ.
func compare(s string, a answer) []string {
	m, err := Parse(s)
	if err != nil {
		return []string{err.Error()}
	}
	var found []string
	differ := func(format string, args ...any) { found = append(found, fmt.Sprintf(format, args...)) }
	if f, err := chem.ParseFormula(a.Formula); err != nil {
		differ("formula %s: %v", a.Formula, err)
	} else if got := m.Formula().Natural(); got != f {
		differ("formula %s, RDKit %s", got, a.Formula)
	}
	var rings []int
	for _, ring := range m.Rings() {
		rings = append(rings, len(ring))
	}
	if slices.Sort(rings); !slices.Equal(rings, a.Rings) {
		differ("rings %v, RDKit %v", rings, a.Rings)
	}
	if len(a.Atoms) != m.NumAtoms() {
		differ("%d atoms, RDKit %d", m.NumAtoms(), len(a.Atoms))
		return found
	}
	for k, name := range []string{"element", "hydrogens", "charge", "isotope", "unpaired electrons", "aromatic"} {
		for i, theirs := range a.Atoms {
			b := m.Atom(i)
			aromatic := 0
			if b.Aromatic {
				aromatic = 1
			}
			ours := [6]int{int(b.Element), int(b.Hydrogens), int(b.Charge), int(b.Isotope), int(b.Radical), aromatic}
			if ours[k] != theirs[k] {
				differ("%s of atom %d (%s): %d, RDKit %d", name, i+1, b.Element, ours[k], theirs[k])
				break
			}
		}
	}
	if a.Back != a.Canonical {
		differ("readback: %s is read by RDKit as %s, not %s", Canonical(m), a.Back, a.Canonical)
	}
	for _, again := range a.Shuffled {
		if n, err := Parse(again); err != nil {
			differ("%v", err)
		} else if Canonical(n) != Canonical(m) {
			differ("renumbered: %s, but %s is %s", Canonical(m), again, Canonical(n))
			break
		}
	}
	return found
}

// The structures of the shared spectra agree in everything but how many of
// the equally small rings of a cage are listed, and our classes of equal
// structures are RDKit's.
func TestSharedAsRDKit(t *testing.T) {
	list := shared(t)
	version, answers := ask(t, list)
	ours, theirs := map[string]string{}, map[string]string{}
	rings := 0
	for i, s := range list {
		for _, difference := range compare(s, answers[i]) {
			if strings.HasPrefix(difference, "rings") {
				rings++
				continue
			}
			t.Errorf("%s: %s", s, difference)
		}
		m, _ := Parse(s)
		mine, other := Canonical(m), answers[i].Canonical
		if before, ok := ours[mine]; ok && before != other {
			t.Errorf("%s stands for %s and %s", mine, before, other)
		}
		if before, ok := theirs[other]; ok && before != mine {
			t.Errorf("%s is %s and %s", other, before, mine)
		}
		ours[mine], theirs[other] = other, mine
	}
	t.Logf("RDKit %s: %d structures, %d different, %d with other rings", version, len(list), len(ours), rings)
	if rings > 2 { // measured: in two cages RDKit leaves out one of three equal rings
		t.Errorf("the rings of %d structures differ", rings)
	}
}

// difference is a difference to RDKit that is meant.
type difference struct {
	name string
	in   func(m *mol.Mol) bool // molecules it occurs in; nil = those RDKit refuses
	what []string              // beginnings of what may differ
	want int                   // findings in odd.smi (RDKit 2022.09)
}

// principled are the differences.
var principled = []difference{
	{"RDKit doesn't read a ring number of two digits below 10, a dot that opens a branch, '+++', leading zeros of an isotope or class, or nitrogen of five bonds without an oxygen to take a charge", nil, nil, 10},
	{"RDKit counts unpaired electrons at metals of the d and f blocks by the parity of the outer electrons", func(m *mol.Mol) bool { return has(m, outsideMainGroups) }, []string{"unpaired"}, 62},
	{"RDKit writes oxides of the halogens with separate charges", func(m *mol.Mol) bool {
		return has(m, func(m *mol.Mol, i int) bool { return m.Atom(i).Element == chem.Cl && m.Valence(i) > 1 })
	}, []string{"charge", "renumbered"}, 2},
	{"three-bonded boron gives no electron to an aromatic ring", func(m *mol.Mol) bool { return has(m, ringForm(chem.B, 3)) }, aromaticity, 1},
	{"arsenic can be aromatic", func(m *mol.Mol) bool { return has(m, ringForm(chem.As, 2)) || has(m, ringForm(chem.As, 3)) }, aromaticity, 73},
	{"sulfoxides and sulfonium ions give two electrons, and so for selenium", func(m *mol.Mol) bool { return has(m, ringForm(chem.S, 3)) || has(m, ringForm(chem.Se, 3)) }, aromaticity, 29},
	{"a carbon cation with two neighbors gives one electron", func(m *mol.Mol) bool {
		return has(m, func(m *mol.Mol, i int) bool { return ringForm(chem.C, 2)(m, i) && m.Atom(i).Charge == 1 })
	}, aromaticity, 1},
	{"silicon and tellurium have no aromatic symbol", func(m *mol.Mol) bool { return has(m, ringAtom(chem.Si)) || has(m, ringAtom(chem.Te)) }, aromaticity, 2},
	{"atoms of a triple bond aren't sp2", func(m *mol.Mol) bool {
		for i := range m.NumBonds() {
			if m.RingBond(i) && m.Bond(i).Order == mol.Triple {
				return true
			}
		}
		return false
	}, aromaticity, 1},
	{"a bridge over a ring of sp2 atoms doesn't hide it", func(m *mol.Mol) bool {
		return has(m, func(m *mol.Mol, i int) bool {
			return m.RingAtom(i) && !m.Atom(i).Aromatic && m.Degree(i) == 2 && aromaticNeighbors(m, i) == 2
		})
	}, aromaticity, 1},
	{"the order of a bond inside of a fused aromatic ring doesn't depend on the Kekule form that was written", func(m *mol.Mol) bool { return m.NumRings() > 1 }, []string{"same"}, 5},
	{"RDKit leaves out some of the equally small rings of cages", func(m *mol.Mol) bool { return m.NumRings() > 2 }, []string{"rings"}, 2},
	{"RDKit doesn't read arrangements of cumulenes", func(m *mol.Mol) bool { return has(m, cumulated) }, []string{"shared", "renumbered"}, 6},
	{"a lone pair counts where a hydrogen would; to RDKit it is another place when the atom comes first or has a ring number", func(m *mol.Mol) bool {
		return has(m, func(m *mol.Mol, i int) bool {
			return m.Atom(i).Chirality != mol.NotChiral && m.Degree(i) == 3 && m.Atom(i).Hydrogens == 0
		})
	}, []string{"shared", "renumbered"}, 2},
	{"RDKit doesn't tell substituents apart by charge", func(m *mol.Mol) bool {
		return has(m, func(m *mol.Mol, i int) bool { return m.Atom(i).Chirality != mol.NotChiral && chargedTwins(m, i) })
	}, []string{"renumbered"}, 1},
}

var aromaticity = []string{"aromatic", "same"}

func has(m *mol.Mol, f func(m *mol.Mol, i int) bool) bool {
	for i := range m.NumAtoms() {
		if f(m, i) {
			return true
		}
	}
	return false
}

func outsideMainGroups(m *mol.Mol, i int) bool {
	e := m.Atom(i).Element
	return e >= chem.Sc && e <= chem.Zn || e >= chem.Y && e <= chem.Cd || e >= chem.La && e <= chem.Hg || e >= chem.Ac && e <= chem.Cn
}

func ringAtom(e chem.Element) func(m *mol.Mol, i int) bool {
	return func(m *mol.Mol, i int) bool { return m.Atom(i).Element == e && m.RingAtom(i) }
}

// ringForm tells whether a ring atom is of the element and has that many
// neighbors, hydrogens counted.
func ringForm(e chem.Element, neighbors int) func(m *mol.Mol, i int) bool {
	return func(m *mol.Mol, i int) bool {
		a := m.Atom(i)
		return a.Element == e && m.RingAtom(i) && m.Degree(i)+int(a.Hydrogens) == neighbors
	}
}

func aromaticNeighbors(m *mol.Mol, i int) int {
	n := 0
	for _, nb := range m.Neighbors(i) {
		if m.Atom(int(nb.Atom)).Aromatic {
			n++
		}
	}
	return n
}

// chargedTwins tells whether two neighbors of an atom differ in charge only.
func chargedTwins(m *mol.Mol, i int) bool {
	for _, a := range m.Neighbors(i) {
		for _, b := range m.Neighbors(i) {
			x, y := m.Atom(int(a.Atom)), m.Atom(int(b.Atom))
			if x.Element == y.Element && x.Charge != y.Charge {
				return true
			}
		}
	}
	return false
}

func cumulated(m *mol.Mol, i int) bool {
	doubles := 0
	for _, nb := range m.Neighbors(i) {
		if m.Bond(int(nb.Bond)).Order == mol.Double {
			doubles++
		}
	}
	return doubles == 2
}

// The odd structures agree but for the principled differences, which occur as
// often as the table says.
func TestOddAsRDKit(t *testing.T) {
	list := odd(t)
	if len(list) < 2000 {
		t.Fatalf("only %d odd structures", len(list))
	}
	version, answers := ask(t, list)
	counts := make([]int, len(principled))
	ours, theirs := map[string]string{}, map[string]string{}
	for i, s := range list {
		m, _ := Parse(s)
		mine, other := Canonical(m), answers[i].Canonical
		if other == "" {
			counts[0]++
			continue
		}
		found := compare(s, answers[i])
		for k, text := range found {
			if strings.HasPrefix(text, "readback") {
				// Another Kekule form of what is aromatic to us is the same.
				if back, err := Parse(answers[i].Back); err == nil && Canonical(back) == mine {
					found[k] = "same " + text
				}
			}
		}
		if before, ok := ours[mine]; ok && before != other {
			found = append(found, fmt.Sprintf("%s stands for %s and %s", mine, before, other))
		}
		if before, ok := theirs[other]; ok && before != mine {
			found = append(found, fmt.Sprintf("shared: %s is %s and %s", other, before, mine))
		}
		ours[mine], theirs[other] = other, mine
		for _, text := range found {
			at := slices.IndexFunc(principled, func(d difference) bool {
				return d.in != nil && d.in(m) && slices.ContainsFunc(d.what, func(begin string) bool { return strings.HasPrefix(text, begin) })
			})
			if at < 0 {
				t.Errorf("%s: %s", s, text)
			} else {
				counts[at]++
			}
		}
	}
	for k, d := range principled {
		t.Logf("%3d: %s", counts[k], d.name)
		if counts[k] != d.want && strings.HasPrefix(version, "2022.09") {
			t.Errorf("%d findings, want %d: %s", counts[k], d.want, d.name)
		}
	}
}
