package cause

// The codes, in the order of the list.
const (
	ChargeLeftOff      Code = "charge-left-off"
	MassDiffers        Code = "mass-differs"
	NeutralPeak        Code = "neutral-peak"
	LostPart           Code = "lost-part"
	BaseForMolecular   Code = "base-for-molecular"
	HighestIsMolecular Code = "highest-is-molecular"
	AverageMass        Code = "average-mass"
	HalogenPattern     Code = "halogen-pattern"
	CarbonCount        Code = "carbon-count"
	NitrogenRule       Code = "nitrogen-rule"
	ChargeTwo          Code = "charge-two"
	BendingOrder       Code = "bending-order"
	BendingCause       Code = "bending-cause"
	MassNumberPlace    Code = "mass-number-place"
	UnitSlip           Code = "unit-slip"
	OneCue             Code = "one-cue"
	Undirected         Code = "undirected"
	BiggerIsStronger   Code = "bigger-is-stronger"
	AtomsNotBonds      Code = "atoms-not-bonds"
	Unchecked          Code = "unchecked"
	StepIncomplete     Code = "step-incomplete"
	ArrowKind          Code = "arrow-kind"
	ElectronParity     Code = "electron-parity"
	ThirtyOne          Code = "thirty-one"
	WaterMust          Code = "water-must"
	NoGammaHydrogen    Code = "no-gamma-hydrogen"
	OneMeaning         Code = "one-meaning"
	ResolutionTerm     Code = "resolution-term"
)

// All is the visible list of causes, in the order in which the difficulties
// are documented.
func All() []Cause {
	var all []Cause
	for _, family := range [][]Cause{ionCauses, molecularIonCauses, isotopeCauses, instrumentCauses, argumentCauses, mechanismCauses, fragmentCauses} {
		all = append(all, family...)
	}
	return all
}
