package molfile_test

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"ionwright/internal/witness"
	"ionwright/mol/molfile"
	"ionwright/mol/smiles"
)

// drawByRDKit draws each SMILES, and half of them with some arrangement in
// space that it has room for, and writes tables of both versions.
const drawByRDKit = `
import sys, json
from rdkit import Chem, RDLogger
from rdkit.Chem import AllChem
from rdkit.Chem.EnumerateStereoisomers import EnumerateStereoisomers, StereoEnumerationOptions
RDLogger.DisableLog('rdApp.*')
options = StereoEnumerationOptions(maxIsomers=2, rand=1)
for line in sys.stdin:
    m = Chem.MolFromSmiles(line.strip())
    forms = [m] + list(EnumerateStereoisomers(m, options=options))
    for form in forms:
        canonical = Chem.MolToSmiles(form)
        form = Chem.MolFromSmiles(canonical)
        AllChem.Compute2DCoords(form)
        v2, v3 = Chem.MolToMolBlock(form), Chem.MolToV3KMolBlock(form)
        if Chem.MolToSmiles(Chem.MolFromMolBlock(v2)) == canonical:
            print(json.dumps({'smiles': canonical, 'v2': v2, 'v3': v3}))
`

// readByRDKit reads tables, one JSON string a line.
const readByRDKit = `
import sys, json
from rdkit import Chem, RDLogger
RDLogger.DisableLog('rdApp.*')
for line in sys.stdin:
    m = Chem.MolFromMolBlock(json.loads(line))
    print(Chem.MolToSmiles(m) if m is not None else '')
`

// quinoneDioxime has two arrangements, the hydroxyl groups on one side or on
// opposite sides, which RDKit draws but doesn't write.
const quinoneDioxime = "ON=C1C=CC(=NO)C=C1"

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

// Tables drawn by RDKit read as the SMILES they were drawn from, and RDKit
// reads what we write of them as the same.
func TestTablesAsRDKit(t *testing.T) {
	var list []string
	for i, s := range shared(t) {
		if i%4 == 0 {
			list = append(list, s)
		}
	}
	drawn := bufio.NewScanner(bytes.NewReader(witness.Python(t, "rdkit", drawByRDKit, []byte(strings.Join(list, "\n")))))
	drawn.Buffer(nil, 1<<24)
	var questions bytes.Buffer
	var wanted []string
	arranged := 0
	for drawn.Scan() {
		var d struct{ SMILES, V2, V3 string }
		if err := json.Unmarshal(drawn.Bytes(), &d); err != nil {
			t.Fatal(err)
		}
		want := canonical(t, d.SMILES)
		if strings.ContainsAny(want, `@/\`) {
			arranged++
		}
		for _, text := range []string{d.V2, d.V3} {
			record, err := molfile.Read(strings.NewReader(text))
			if err != nil {
				t.Errorf("%s: %v", d.SMILES, err)
				continue
			}
			if got := smiles.Canonical(record.Mol); got != want && d.SMILES != quinoneDioxime {
				t.Errorf("%s: read as %s", want, got)
			}
			for _, version := range []molfile.Version{molfile.V2000, molfile.V3000} {
				var ours bytes.Buffer
				if err := molfile.Write(&ours, record, version); err != nil {
					t.Errorf("%s: %v", d.SMILES, err)
					continue
				}
				line, err := json.Marshal(ours.String())
				if err != nil {
					t.Fatal(err)
				}
				fmt.Fprintf(&questions, "%s\n", line)
				wanted = append(wanted, d.SMILES)
			}
		}
	}
	answers := strings.Split(strings.TrimRight(string(witness.Python(t, "rdkit", readByRDKit, questions.Bytes())), "\n"), "\n")
	if len(answers) != len(wanted) {
		t.Fatalf("RDKit answered %d of %d questions", len(answers), len(wanted))
	}
	for i, answer := range answers {
		if answer != wanted[i] {
			t.Errorf("RDKit reads our table of %s as %s", wanted[i], answer)
		}
	}
	t.Logf("%d tables, a quarter of them from %d arranged drawings", len(wanted), arranged)
}

// inchi asks the InChI program about the records of an SD file. Arrangements
// in space are left out: tables without coordinates don't tell them.
func inchi(t *testing.T, file []byte) []string {
	t.Helper()
	cmd := exec.Command(witness.InChI(t), "-STDIO", "-AuxNone", "-NoLabels", "-SNon", "-W10")
	cmd.Stdin = bytes.NewReader(file)
	out, err := cmd.Output()
	if _, failed := err.(*exec.ExitError); err != nil && !failed {
		t.Fatal(err) // it exits with 1 after mere warnings
	}
	var list []string
	for line := range strings.Lines(string(out)) {
		if strings.HasPrefix(line, "InChI=") {
			list = append(list, strings.TrimSpace(line))
		}
	}
	return list
}

// Each structure has one identifier, whichever way its atoms are numbered and
// whoever writes the table; and two structures that share one are the same
// compound to InChI: tautomers, or the same salt.
func TestOneIdentifierEach(t *testing.T) {
	list := shared(t)
	script := `
import sys
from rdkit import Chem
for line in sys.stdin:
    print(Chem.MolToMolBlock(Chem.MolFromSmiles(line.strip())) + '$$$$')
`
	byRDKit := inchi(t, witness.Python(t, "rdkit", script, []byte(strings.Join(list, "\n"))))
	r := rand.New(rand.NewPCG(13, 14))
	var straight, shuffled bytes.Buffer
	for _, s := range list {
		m, err := smiles.Parse(s)
		if err != nil {
			t.Fatal(err)
		}
		again, err := m.Renumbered(r.Perm(m.NumAtoms()))
		if err != nil {
			t.Fatal(err)
		}
		if err := molfile.WriteSD(&straight, molfile.Record{Mol: m}, molfile.V2000); err != nil {
			t.Fatal(err)
		}
		if err := molfile.WriteSD(&shuffled, molfile.Record{Mol: again}, molfile.V2000); err != nil {
			t.Fatal(err)
		}
	}
	ours, again := inchi(t, straight.Bytes()), inchi(t, shuffled.Bytes())
	if len(ours) != len(list) || len(again) != len(list) || len(byRDKit) != len(list) {
		t.Fatalf("%d structures, %d, %d and %d identifiers", len(list), len(ours), len(again), len(byRDKit))
	}
	structures := map[string][]string{}
	for i, s := range list {
		if ours[i] != again[i] {
			t.Errorf("%s: %s, renumbered %s", s, ours[i], again[i])
		}
		if ours[i] != byRDKit[i] {
			t.Errorf("%s: %s, from RDKit's table %s", s, ours[i], byRDKit[i])
		}
		structures[ours[i]] = append(structures[ours[i]], s)
	}
	t.Logf("%d structures, %d identifiers", len(list), len(structures))
}

// The identifiers of the odd structures don't depend on the numbering either.
func TestOddIdentifiers(t *testing.T) {
	data, err := os.ReadFile("../smiles/testdata/odd.smi")
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(15, 16))
	var list []string
	var files [2]bytes.Buffer
	for line := range strings.Lines(string(data)) {
		line = strings.TrimSpace(line)
		if strings.HasPrefix(line, "#") || strings.Contains(line, "$") {
			continue // no type for quadruple bonds
		}
		m, err := smiles.Parse(line)
		if err != nil {
			t.Fatal(err)
		}
		again, err := m.Renumbered(r.Perm(m.NumAtoms()))
		if err != nil {
			t.Fatal(err)
		}
		if err := molfile.WriteSD(&files[0], molfile.Record{Mol: m}, molfile.V2000); err != nil {
			t.Fatal(err)
		}
		if err := molfile.WriteSD(&files[1], molfile.Record{Mol: again}, molfile.V2000); err != nil {
			t.Fatal(err)
		}
		list = append(list, line)
	}
	a, b := inchi(t, files[0].Bytes()), inchi(t, files[1].Bytes())
	t.Logf("%d structures, %d and %d identifiers", len(list), len(a), len(b))
	if len(a) != len(b) {
		t.Fatalf("%d identifiers, renumbered %d", len(a), len(b))
	}
	for i := range a {
		if a[i] != b[i] {
			t.Errorf("identifier %d: %s, renumbered %s", i+1, a[i], b[i])
		}
	}
}
