package names

import (
	"testing"

	"ionwright/internal/witness"
	"ionwright/mol/smiles"
)

// resolvedFloor is how many different names of the measured set resolve, at
// least: measured 5,217 of 6,608.
const resolvedFloor = 5150

// TestMeasuredNames resolves the names that measured spectra carry. Every
// structure that comes out must be the record's, except where the record
// contradicts its own name (recordFaults) or draws another tautomer.
func TestMeasuredNames(t *testing.T) {
	records := append(witness.Records(t, "train"), witness.Records(t, "low_train")...)
	resolved, all := map[string]bool{}, map[string]bool{}
	used := map[string]bool{}
	for _, record := range records {
		all[record.Name] = true
		got, err := SMILES(record.Name)
		if err != nil {
			continue
		}
		m, err := smiles.Parse(record.SMILES)
		if err != nil {
			t.Errorf("%s: %v", record.ID, err)
			continue
		}
		resolved[record.Name] = true
		if got == smiles.Canonical(m) {
			continue
		}
		if _, ok := recordFaults[record.ID]; ok {
			used[record.ID] = true
			continue
		}
		t.Errorf("%s: %s is %s, the record has %s", record.ID, record.Name, got, record.SMILES)
	}
	t.Logf("%d of %d names resolve, %d records contradict their name", len(resolved), len(all), len(used))
	if len(resolved) < resolvedFloor {
		t.Errorf("%d names resolve, want at least %d", len(resolved), resolvedFloor)
	}
	for id := range recordFaults {
		if !used[id] {
			t.Errorf("%s is listed as a fault but isn't one", id)
		}
	}
}

// TestLabelledNames checks that no name with isotopic labels resolves to a
// structure without them.
func TestLabelledNames(t *testing.T) {
	for _, record := range witness.Records(t, "labelled_train") {
		if got, err := SMILES(record.Name); err == nil {
			t.Errorf("%s: %s is read as %s, without its labels", record.ID, record.Name, got)
		}
	}
}

// recordFaults lists the records whose name and structure don't agree, by
// accession, with the reason.
var recordFaults = map[string]string{
	"MSBNK-Fac_Eng_Univ_Tokyo-JP000133": "named decan-2-one, drawn decan-3-one",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP000842": "named for isobutyraldehyde, drawn for butyraldehyde",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP000845": "named for isobutyraldehyde, drawn for butyraldehyde",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP001945": "named (trisilyl)methyl on SiF3, drawn CF3 on silicon",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP002367": "named 6-methylene-7-octen-4-ol, drawn with the hydroxy group beside the diene",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP002416": "named geranyl, drawn with its double bond moved",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP002528": "named oleyl acetate, drawn ethyl oleate",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP004474": "named acetamido (bonded through nitrogen), drawn carbamoylmethyl",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP005743": "tautomer: the triol of cyanuric acid",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP007920": "tautomer: benzimidazole substituted at 6",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP008281": "tautomer: 2H-tetrazole",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP008284": "tautomer: thione",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP008599": "named 3-hydroxy-3-methyl, drawn 4-hydroxy-4-methyl",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP008895": "named phosphite, drawn phosphonate",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP008977": "named 2-methyl, drawn 4-methyl",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP009496": "tautomer: named 1H-tetrazole, drawn 2H-tetrazole",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP009497": "tautomer: named 1H-tetrazole, drawn 2H-tetrazole",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP009501": "tautomer of hypoxanthine",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP009792": "named nonan-4-ol, drawn nonan-1-ol",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP009793": "named 2-cyano-4-phenyl, drawn with the phenyl group one carbon nearer",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP010141": "named butanedicarboxylic acid, drawn butanedioic acid",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP010161": "named dodecadiene-1-carboxylic acid, drawn dodecadienoic acid",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP010162": "named dodecadiene-1-carboxylic acid, drawn dodecadienoic acid",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP010199": "named tridecen-6-one, drawn with other positions",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP010263": "named 1-pyrroline with phenyl at 2, drawn with phenyl on nitrogen",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP010865": "named hexanone, drawn nonanone",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP010920": "tautomer: thione",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP010948": "drawn with two methyl groups that the name lacks",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP011064": "tautomer: 2H-benzotriazole",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP011308": "named 3-hydroxy-4-methoxy, drawn 4-hydroxy-3-methoxy",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP011336": "named malic, drawn maleic anhydride",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP011402": "named dipropyl, drawn diisopropyl",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP011469": "named 3-isoquinolyl, drawn 1-isoquinolyl",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP011564": "named malic, drawn maleic anhydride",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP011648": "tautomer of guanine",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP011680": "named 3,4-dimethyl-1,1-diphenyl, drawn 1,1-dimethyl-2,5-diphenyl",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP011744": "named 1-phenyldisilanyl, drawn with phenyl at 2",
	"MSBNK-Fac_Eng_Univ_Tokyo-JP011745": "named 1-phenyldisilanyl, drawn with phenyl at 2",
}
