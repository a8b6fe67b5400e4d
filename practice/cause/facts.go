package cause

import (
	"ionwright/chem"
	"ionwright/mol"
	"ionwright/spectrum"
)

// Asks is what a question asks for; it decides which wrong rules can apply.
type Asks uint8

// The quantities and things asked for.
const (
	Anything      Asks = iota
	MolecularIon       // the m/z of the molecular ion, from a spectrum
	StrongestPeak      // the m/z of the base peak, to be foreseen from the structure
	PeakOf             // the m/z of the ion Ion
	MassOf             // the mass of an ion, from its m/z and charge
	IonAt              // the formula of the ion at MZ
	LostTo             // the formula of the neutral lost on the way to MZ
	Pattern            // the height of the peak at M + Offset, in % of that at M
	Isotopologue       // the formula of the ion at M + Offset, with mass numbers
	Carbons            // the number of carbon atoms, from Ratio
	Nitrogens          // the number of nitrogen atoms of the molecule or of Ion
	Setting            // a quantity that follows from Work
	Power              // the resolving power that tells Ion from Other
	Bending            // the ions of Flying in order, the most bent first; or why they bend
	Group              // the functional group or class, in words or by a choice
	Identity           // the structure
	Steps              // the order in which a spectrum is read
	Movement           // electron arrows
	Evidence           // reasons
	Peaks              // which peaks a compound shows
	Rearranged         // the m/z or formula of the ion of a hydrogen rearrangement
)

// Facts are what is true about a question, from which wrong rules compute
// their answers. Every field but Asks may be empty.
type Facts struct {
	Asks      Asks
	Compound  *mol.Mol          // what the question is about
	Formula   chem.Formula      // of the neutral compound
	Spectrum  spectrum.Spectrum // that the student sees, at unit m/z
	Ion       chem.Formula      // the ion asked about, with its charge
	Other     chem.Formula      // the ion to be told from it
	MZ        float64           // of the peak asked about
	Offset    int               // of an isotope peak, in mass numbers
	Ratio     float64           // of the peaks M + 1 and M, in %
	Possible  []chem.Formula    // ions that the compound forms at MZ, with charge
	Fragments []int             // m/z of the fragments that the structure gives
	Rivals    []Rival           // other structures that a student may think of
	Work      *Relation         // how the number follows from what is given
	Flying    []Flier           // ions in a field
	Protocol  []Stage           // steps of reading in the right order
	Needs     int               // independent clues that an argument needs
	Clues     []string          // a short form of each clue that counts
	Right     []string          // letters of the right choices, where several are
	Moves     []Move            // the right electron arrows
	DotAsked  bool              // an unpaired electron must be written
}

// Rival is another structure with what speaks against it.
type Rival struct {
	SMILES string
	Name   string
	Lacks  []int // m/z of the spectrum that it doesn't explain
}

// Flier is an ion in a field.
type Flier struct {
	Name   string
	Mass   float64 // Da
	Charge int
}

// Phase is a part of reading a spectrum.
type Phase uint8

// The phases, in the order in which experts go through them.
const (
	Constrain Phase = iota + 1 // what must hold: molecular ion, isotopes, nitrogen, formula
	Predict                    // what would follow: losses, ions of a group
	Verify                     // does the structure explain all strong peaks
)

// Stage is a step of reading, by its letter.
type Stage struct {
	ID    string
	Phase Phase
}

// Move is a right electron arrow: whether it is a half arrow, and its text.
type Move struct {
	Half bool
	Text string
}

// AsksName is a word for what a question asks for, as lessons write it.
type AsksName struct {
	Asks Asks
	Name string
	Doc  string // what it means and what beside the compound it needs
}

// AsksNames is the visible list.
func AsksNames() []AsksName {
	return []AsksName{
		{MolecularIon, "molecular ion", "the m/z of the molecular ion, from the spectrum"},
		{StrongestPeak, "base peak", "the m/z of the base peak, foreseen from the structure"},
		{PeakOf, "m/z", "the m/z of an ion; with the peak"},
		{MassOf, "mass", "the mass of an ion of several charges; with the peak"},
		{IonAt, "ion", "the formula of the ion at a peak"},
		{LostTo, "loss", "the formula of what the molecular ion lost on the way to a peak"},
		{Pattern, "isotope peak", "the height of an isotope peak in percent; with the peak"},
		{Isotopologue, "isotopologue", "the formula of an ion with its mass numbers"},
		{Carbons, "carbon atoms", "the number of carbon atoms, from M + 1"},
		{Nitrogens, "nitrogen atoms", "the number of nitrogen atoms, of the molecule or of the ion at a peak"},
		{Setting, "field", "the field that brings a peak to the detector of an instrument; with the peak and the instrument"},
		{Setting, "speed", "the speed of an ion; with the peak and the instrument"},
		{Power, "resolving power", "the resolving power that tells two ions apart"},
		{Bending, "bending", "which ion is bent more, or why"},
		{Group, "group", "the functional group or class"},
		{Identity, "structure", "the structure"},
		{Steps, "steps", "the order of steps"},
		{Movement, "arrows", "electron arrows"},
		{Evidence, "evidence", "reasons"},
		{Peaks, "peaks", "which peaks the compound shows"},
		{Rearranged, "rearrangement", "the ion of a hydrogen rearrangement, 0 where there is none"},
	}
}
