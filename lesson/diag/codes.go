package diag

import "slices"

// Code names a kind of finding. It is printed after every message and stays
// the same when the message's words change.
type Code string

// Severity is the code's row in Codes; Error for a code without a row.
func (c Code) Severity() Severity {
	for _, info := range append(Codes(), ForeignCodes()...) {
		if info.Code == c {
			return info.Severity
		}
	}
	return Error
}

// Info documents a code.
type Info struct {
	Code     Code
	Severity Severity
	// Summary says in a sentence what is wrong.
	Summary string
	// Example is a lesson that has the mistake. ⟦code "words"⟧ stands right
	// before the place that the diagnostic points at, with words of its text;
	// a line "-- name --" begins another file of the lesson's folder. What
	// stands before the first such line is lesson.md.
	Example string
}

// Codes is the visible list of everything that can be found in a lesson, in
// the order in which a lesson is read: files, source, data, expressions,
// claims, structure, warnings, advice.
func Codes() []Info {
	var all []Info
	all = append(all, fileCodes...)
	all = append(all, sourceCodes...)
	all = append(all, dataCodes...)
	all = append(all, claimCodes...)
	all = append(all, structureCodes...)
	all = append(all, warningCodes...)
	return append(all, adviceCodes...)
}

// ForeignCodes is the visible list of everything that can be found in a text
// that isn't a lesson. The examples are plain text.
func ForeignCodes() []Info { return slices.Clone(foreignCodes) }

// What can be wrong with the files of a lesson.
const (
	MissingFile     Code = "missing-file"
	Unreadable      Code = "unreadable"
	OutsidePath     Code = "outside-path"
	TooLarge        Code = "too-large"
	BadEncoding     Code = "bad-encoding"
	CircularInclude Code = "circular-include"
)

// What can be wrong with the text of the source.
const (
	FrontMatter  Code = "front-matter"
	BadYAML      Code = "bad-yaml"
	MissingKey   Code = "missing-key"
	UnknownKey   Code = "unknown-key"
	WrongType    Code = "wrong-type"
	BadName      Code = "bad-name"
	Duplicate    Code = "duplicate"
	UnknownBlock Code = "unknown-block"
	OpenValue    Code = "open-value"
	RawHTML      Code = "raw-html"
	Picture      Code = "picture"
)

// What can be wrong with compounds and spectra.
const (
	BadSMILES        Code = "bad-smiles"
	BadSpectrum      Code = "bad-spectrum"
	SpectrumMismatch Code = "spectrum-mismatch"
	NotComputed      Code = "not-computed"
	NoLicense        Code = "no-license"
	LicenseForbids   Code = "license-forbids"
)

// What can be wrong with expressions, and what they can contradict.
const (
	BadExpression  Code = "bad-expression"
	UnknownName    Code = "unknown-name"
	NoIon          Code = "no-ion"
	NoPeak         Code = "no-peak"
	ClaimFalse     Code = "claim-false"
	TextFalse      Code = "text-false"
	QuestionAnswer Code = "question-answer"
	QuestionScheme Code = "question-scheme"
)

// What can be missing from a lesson as a whole.
const (
	IdeaUnexplained   Code = "idea-unexplained"
	IdeaWithoutFigure Code = "idea-without-figure"
	IdeaUnasked       Code = "idea-unasked"
	IdeaNotRecapped   Code = "idea-not-recapped"
	FigureUnmentioned Code = "figure-unmentioned"
)

// What is risky though true.
const (
	ClueAlternatives Code = "clue-alternatives"
	MolecularIonWeak Code = "molecular-ion-weak"
	LowConfidence    Code = "low-confidence"
	NumberUnchecked  Code = "number-unchecked"
	ProseFalse       Code = "prose-false"
	CalledMeasured   Code = "called-measured"
	HookNotRecalled  Code = "hook-not-recalled"
	TermUnused       Code = "term-unused"
	TermDiscouraged  Code = "term-discouraged"
	AmbiguousUnknown Code = "ambiguous-unknown"
	UnknownUnchecked Code = "unknown-unchecked"
)

// What would make the lesson easier to follow.
const (
	LongSentence Code = "long-sentence"
	HardReading  Code = "hard-reading"
	LongSection  Code = "long-section"
)

// What the computation contradicts in a text that isn't a lesson.
const (
	MassFalse       Code = "mass-false"
	ElectronMass    Code = "electron-mass"
	FormulaFalse    Code = "formula-false"
	LossFalse       Code = "loss-false"
	IsotopeFalse    Code = "isotope-false"
	NitrogenFalse   Code = "nitrogen-false"
	ResolutionFalse Code = "resolution-false"
	InstrumentFalse Code = "instrument-false"
	BondFalse       Code = "bond-false"
	ChargeToMass    Code = "charge-to-mass"
	PeakFalse       Code = "peak-false"
)
