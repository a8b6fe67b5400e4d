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
