package rival

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"

	"ionwright/chem"
	"ionwright/mol/smiles"
)

// progress is how far a search is: what a later one needs to go on.
type progress struct {
	Key      string          // of the problem, see search.key
	Formulas []lookedAt      `json:",omitempty"` // gone through
	Token    string          `json:",omitempty"` // place among the structures of the formula under way
	Seen     uint64          // structures of it looked at
	Kept     []keptStructure `json:",omitempty"`
	Passed   int
	Looked   bool     // all formulas are gone through, and Kept is what is to be computed
	Judged   []Rival  `json:",omitempty"` // in the order of Kept
	Refused  []string `json:",omitempty"` // of Kept, by SMILES
}

type lookedAt struct {
	Formula    string
	Structures uint64
	Share      float64
}

type keptStructure struct {
	SMILES string
	Score  float64
}

// key is the same for searches that find the same: for one answer, spectrum,
// information given and limits. The spectrum computed for the answer is part of
// it, so that a refitted engine doesn't go on where another one stopped.
func (s *search) key() string {
	sum := sha256.Sum256(fmt.Appendf(nil, "%s\n%s\n%s\n%v %v %q %q %d %d %v", s.result.Answer, s.spectrum.Notation(), s.computed.Notation(),
		s.problem.FormulaGiven, s.problem.MassGiven, s.problem.Groups, s.problem.Absent, s.options.Most, s.options.Look, s.options.WithoutClues))
	return hex.EncodeToString(sum[:])
}

// save hands over how far the search is.
func (s *search) save() {
	if s.options.Save == nil {
		return
	}
	s.far.Formulas = nil
	for _, f := range s.result.Formulas {
		s.far.Formulas = append(s.far.Formulas, lookedAt{f.Formula.String(), f.Structures, f.Share})
	}
	s.far.Kept = make([]keptStructure, len(s.kept))
	for i := range s.kept {
		s.kept[i].name()
		s.far.Kept[i] = keptStructure{s.kept[i].text, s.kept[i].score}
	}
	s.far.Passed = s.result.Passed
	text, err := json.Marshal(s.far)
	if err != nil {
		return // no number of a search is beyond JSON
	}
	s.options.Save(text)
}

// goOn takes up what an earlier search of the same problem saved; anything else
// is left alone, and the search begins anew.
func (s *search) goOn() {
	s.far.Key = s.key()
	var far progress
	if len(s.options.Saved) == 0 || json.Unmarshal(s.options.Saved, &far) != nil || far.Key != s.far.Key {
		return
	}
	var formulas []Formula
	for _, f := range far.Formulas {
		parsed, err := chem.ParseFormula(f.Formula)
		if err != nil {
			return
		}
		formulas = append(formulas, Formula{parsed, f.Structures, f.Share})
	}
	var kept []look
	for _, k := range far.Kept {
		m, err := smiles.Parse(k.SMILES)
		if err != nil {
			return
		}
		kept = append(kept, look{m, k.SMILES, k.Score})
	}
	if len(formulas) > len(s.formulas) || len(far.Judged)+len(far.Refused) > len(kept) {
		return
	}
	s.far, s.kept = far, kept
	s.result.Formulas, s.result.Passed = formulas, far.Passed
	s.result.Complete = far.Passed == 0
	for _, f := range formulas {
		s.result.Complete = s.result.Complete && f.Share == 1
	}
}
