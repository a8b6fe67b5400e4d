package load

import (
	"bytes"
	"errors"
	"io/fs"
	"strings"

	"ionwright/lesson/diag"
	"ionwright/lesson/source"
	"ionwright/mol"
	"ionwright/mol/molfile"
	"ionwright/mol/names"
	"ionwright/mol/smiles"
)

// maxDrawing is the length in bytes of the longest structure drawing that is
// read.
const maxDrawing = 1 << 20

// structure reads the compound's structure, which the lesson gives as SMILES,
// by a chemical name or as a drawing, and reports false, with a diagnostic,
// where it can't.
func (c *Compound) structure(fsys fs.FS, diags *diag.List) bool {
	var d *diag.Diagnostic
	s := c.Source
	c.SMILES = s.SMILES.Value
	switch {
	case !s.Drawn.IsZero():
		c.Mol, d = readDrawing(fsys, c.Key, s.Drawn)
	case !s.Named.IsZero():
		c.Mol, d = readName(s.Named)
	default:
		var byName bool
		if c.Mol, byName, d = readSMILES(s); byName {
			c.SMILES = ""
		}
	}
	if d != nil {
		diags.Add(*d)
		return false
	}
	if c.SMILES == "" {
		c.SMILES = smiles.Canonical(c.Mol)
	}
	c.Formula = c.Mol.Formula()
	return true
}

// readSMILES reads SMILES; where the lesson gives a structure without saying
// how, a name will do too.
func readSMILES(s source.Compound) (m *mol.Mol, byName bool, d *diag.Diagnostic) {
	m, err := smiles.Parse(s.SMILES.Value)
	if err == nil {
		return m, false, nil
	}
	wrong := badSMILES(s.SMILES, err)
	named, nameErr := names.Structure(s.SMILES.Value)
	switch near := nearestName(nameErr); {
	case nameErr == nil && s.Bare:
		return named, true, nil
	case nameErr == nil:
		wrong = wrong.Suggesting("it is a name: write %s: { named: %s }", s.Key.Value, s.SMILES.Value)
	case near != "":
		wrong = wrong.Suggesting("if a name is meant: write %s: { named: %s }", s.Key.Value, near)
	}
	return nil, false, &wrong
}

// readName reads a chemical name.
func readName(t source.Text) (*mol.Mol, *diag.Diagnostic) {
	m, err := names.Resolve(t.Value)
	if err == nil {
		return m, nil
	}
	reason, _, _ := strings.Cut(err.Error(), "\n")
	d := diag.New(diag.BadSMILES, t.Place(), "%s", reason)
	switch near := nearestName(err); {
	case near != "":
		d = d.Suggesting("did you mean %q?", near)
	default:
		if m, err := smiles.Parse(t.Value); err == nil && m.NumAtoms() > 0 {
			d = d.Suggesting("it is SMILES: write smiles: %s", t.Value)
		} else {
			d = d.Suggesting("give the structure as SMILES, smiles: ..., or as a drawing, drawn: file.mol")
		}
	}
	return nil, &d
}

// nearestName is the known name that an unknown one is most like, or "".
func nearestName(err error) string {
	var unknown *names.UnknownError
	if errors.As(err, &unknown) && len(unknown.Suggestions) > 0 {
		return unknown.Suggestions[0]
	}
	return ""
}

// readDrawing reads a structure drawing, a MOL file.
func readDrawing(fsys fs.FS, key string, name source.Text) (*mol.Mol, *diag.Diagnostic) {
	data, d, ok := source.OpenFile(fsys, name, maxDrawing)
	if !ok {
		return nil, &d
	}
	record, err := molfile.Read(bytes.NewReader(data))
	if err == nil && record.Mol.NumAtoms() == 0 {
		err = errors.New("it holds no atoms")
	}
	if err != nil {
		reason, _, _ := strings.Cut(err.Error(), "\n")
		d := diag.New(diag.BadSMILES, name.Place(), "reading the structure of %q from %q: %s", key, name.Value, reason).
			Suggesting("save the drawing as a MOL file (V2000 or V3000)")
		return nil, &d
	}
	return record.Mol, nil
}
