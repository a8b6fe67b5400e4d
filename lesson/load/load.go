// Package load looks up what a lesson's source names: structures are parsed,
// measured spectra read, and spectra computed where none is measured. For most
// uses call [Load].
//
// The package evaluates no expression and judges nothing that a lesson says.
package load

import (
	"context"
	"crypto/sha256"
	"errors"
	"io/fs"
	"slices"

	"ionwright/chem"
	"ionwright/ionize"
	"ionwright/lesson/diag"
	"ionwright/lesson/source"
	"ionwright/mol"
	"ionwright/mol/smiles"
	"ionwright/sector"
	"ionwright/spectrum"
)

// Lesson is a lesson's source with everything it names.
type Lesson struct {
	Source      *source.Lesson
	Compounds   []*Compound
	Instruments []*Instrument
}

// Compound is a substance of the lesson. Spectrum is at unit m/z with base
// peak 100, and has at least one peak.
type Compound struct {
	Source   source.Compound
	Key      string // by which expressions call it
	Name     string // which students read
	SMILES   string
	Mol      *mol.Mol
	Formula  chem.Formula
	Spectrum spectrum.Spectrum
	// Measured is true where Spectrum comes from File, and false where it was
	// computed.
	Measured bool
	File     string
	Hash     [sha256.Size]byte // of File
	// Prediction holds the ions of the structure. It is nil for a measured
	// compound whose structure is beyond the engine.
	Prediction *ionize.Prediction
}

// NominalMass is the nominal mass of the neutral molecule in Da.
func (c *Compound) NominalMass() int { return c.Formula.NominalMass() }

// Origin says in two words where the spectrum comes from.
func (c *Compound) Origin() string {
	if c.Measured {
		return "measured, " + c.File
	}
	return "computed"
}

// Instrument is a magnetic sector of the lesson.
type Instrument struct {
	Source source.Instrument
	Key    string
	Name   string
	Sector sector.Instrument
}

// Compound returns the compound with a key, or nil.
func (l *Lesson) Compound(key string) *Compound {
	i := slices.IndexFunc(l.Compounds, func(c *Compound) bool { return c.Key == key })
	if i < 0 {
		return nil
	}
	return l.Compounds[i]
}

// Instrument returns the instrument with a key, or nil.
func (l *Lesson) Instrument(key string) *Instrument {
	i := slices.IndexFunc(l.Instruments, func(c *Instrument) bool { return c.Key == key })
	if i < 0 {
		return nil
	}
	return l.Instruments[i]
}

// Load looks everything up. Compounds that can't be loaded are left out, with
// a diagnostic for each; err is only ever the context's.
func Load(ctx context.Context, fsys fs.FS, l *source.Lesson) (*Lesson, diag.List, error) {
	out := &Lesson{Source: l}
	var diags diag.List
	for _, c := range l.Compounds {
		compound, err := loadCompound(ctx, fsys, c, &diags)
		if err != nil {
			return nil, nil, err
		}
		if compound != nil {
			out.Compounds = append(out.Compounds, compound)
		}
	}
	for _, i := range l.Instruments {
		instrument, d := loadInstrument(fsys, i)
		if d != nil {
			diags.Add(*d)
		}
		if instrument != nil {
			out.Instruments = append(out.Instruments, instrument)
		}
	}
	return out, diags, nil
}

func loadCompound(ctx context.Context, fsys fs.FS, s source.Compound, diags *diag.List) (*Compound, error) {
	at := s.Structure()
	if at.IsZero() {
		return nil, nil // reported as a missing key
	}
	c := &Compound{Source: s, Key: s.Key.Value, Name: s.Name.Value}
	if c.Name == "" {
		c.Name = c.Key
	}
	if !c.structure(fsys, diags) {
		return nil, nil
	}
	if !s.Measured.IsZero() && !c.measure(fsys, diags) {
		return nil, nil
	}
	var err error
	c.Prediction, err = ionize.Predict(ctx, c.Mol, ionize.Settings{})
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	if c.Measured {
		return c, nil
	}
	if err != nil {
		d := diag.New(diag.NotComputed, at.Place(), "the spectrum of %q can't be computed: %v", c.SMILES, err)
		diags.Add(d.Suggesting("give a measured spectrum: measured: file.jdx"))
		return nil, nil
	}
	c.Spectrum = c.Prediction.Spectrum().Unit().Scaled(100)
	if _, ok := c.Spectrum.Base(); !ok {
		diags.Add(diag.New(diag.NotComputed, at.Place(), "the computed spectrum of %q is empty", c.SMILES))
		return nil, nil
	}
	return c, nil
}

// badSMILES points at the character that the SMILES reader stopped at.
func badSMILES(t source.Text, err error) diag.Diagnostic {
	var parse *smiles.Error
	if !errors.As(err, &parse) {
		return diag.New(diag.BadSMILES, t.Place(), "%q isn't SMILES: %v", t.Value, err)
	}
	offset := min(max(parse.Offset, 0), len(t.Value))
	d := diag.New(diag.BadSMILES, t.Span(offset, min(offset+max(len(parse.Token), 1), len(t.Value))),
		"%q isn't SMILES: character %d, %q: %s", t.Value, parse.Position(), parse.Token, parse.Problem)
	if parse.Hint != "" {
		d = d.Suggesting("%s", parse.Hint)
	}
	return d
}
