// Package jcamp reads and writes mass spectra as JCAMP-DX text: versions 4.24,
// 5.00 and 5.01 as McDonald and Wilks (Appl. Spectrosc. 42 (1988) 151) and
// Lampen, Hillig, Davies and Linscheid (Appl. Spectrosc. 48 (1994) 1545) define
// them.
//
// For most uses call Read and Write. Read refuses what is damaged or doubtful.
// Decode gives a doubtful spectrum too, with its doubts as warnings, and all
// labelled records; Encode writes several blocks and the compressed forms.
//
// Read are peak tables and XYPOINTS as (XY..XY), XYDATA as (X++(Y..Y)) in the
// AFFN, PAC, SQZ, DIF and DUP forms or as (XY..XY), PEAK ASSIGNMENTS as (XYA),
// the pages of NTUPLES, LINK blocks and several blocks in a row. Blocks of
// other data types are skipped with a warning. Peak widths and multiplicities,
// and chromatograms, aren't read.
//
// Text is read and written as UTF-8; the standard asks for ASCII, so other
// programs may show other letters wrong.
package jcamp

import (
	"fmt"
	"io"

	"ionwright/spectrum"
)

// Limits bound what reading may cost. The zero value of a field means the
// default of DefaultLimits.
type Limits struct {
	LineBytes int // longest line
	Lines     int // lines in a file
	TextBytes int // text of one labelled record
	AllText   int // text of all labelled records
	Points    int // points in a file, after DUP is unfolded
	Blocks    int // spectra in a file
}

// DefaultLimits are far above any file of mass spectra that was meant to be
// read by people: they keep a damaged file from taking memory and time.
var DefaultLimits = Limits{
	LineBytes: 64 << 10,
	Lines:     4_000_000,
	TextBytes: 1 << 20,
	AllText:   16 << 20,
	Points:    1_000_000,
	Blocks:    100_000,
}

// Record is one labelled data record that isn't a data table.
type Record struct {
	Label string // compared form: upper case without space, "-", "/" and "_"
	Text  string // without comments; lines joined with a space
	Line  int    // 1-based
}

// Assignment is one entry of PEAK ASSIGNMENTS.
type Assignment struct {
	MZ, Intensity float64
	Text          string // what stands between < and >
}

// Warning is something in a file that reading got over.
type Warning struct {
	Line    int // 1-based
	Message string
	Doubt   bool // the peaks may be incomplete or wrong
}

// String returns the warning with its line.
func (w Warning) String() string { return fmt.Sprintf("line %d: %s", w.Line, w.Message) }

// Block is one spectrum of a file: a data block, or one page of NTUPLES.
type Block struct {
	Spectrum    spectrum.Spectrum
	Assignments []Assignment // where the table is PEAK ASSIGNMENTS
	Page        string       // what ##PAGE= says, such as "T= 10"
	Records     []Record     // of the block, shared by the pages of NTUPLES
	PageRecords []Record     // of the page alone
	Line        int          // of ##TITLE= or ##PAGE=, 1-based
}

// File is what Decode returns.
type File struct {
	Blocks   []Block
	Warnings []Warning
}

// Error says at which line reading ended and why.
type Error struct {
	Line    int // 1-based
	Message string
}

// Error returns the message with its line.
func (e *Error) Error() string {
	return fmt.Sprintf("reading JCAMP-DX: line %d: %s", e.Line, e.Message)
}

// Read returns the mass spectra of a JCAMP-DX file. It fails, naming the line
// and what was expected there, for a file that is damaged, holds no mass
// spectrum, passes DefaultLimits, or contradicts itself (the number of points,
// the first or last value, an m/z that is there twice).
func Read(r io.Reader) ([]spectrum.Spectrum, error) {
	file, err := Decode(r, Limits{})
	if err != nil {
		return nil, err
	}
	for _, w := range file.Warnings {
		if w.Doubt {
			return nil, &Error{Line: w.Line, Message: w.Message}
		}
	}
	spectra := make([]spectrum.Spectrum, len(file.Blocks))
	for i, b := range file.Blocks {
		spectra[i] = b.Spectrum
	}
	return spectra, nil
}

// Write writes one spectrum as a PEAK TABLE of version 5.00. Reading it back
// gives the same numbers and the same Info. Lines have at most 80 characters.
// It fails for text that the format can't carry, and says which.
func Write(w io.Writer, s spectrum.Spectrum) error {
	return Encode(w, []Block{{Spectrum: s}}, PeakTable)
}
