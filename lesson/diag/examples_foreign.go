package diag

// foreignCodes have a text that isn't a lesson as example.
var foreignCodes = []Info{
	{MassFalse, Error, "A mass that is neither the nominal, the exact nor the average mass of the compound or formula beside it.",
		"The molecular mass of butanone is ⟦mass-false \"computed: 72\"⟧74.\n"},
	{ElectronMass, Error, "An exact mass that is off by the mass of an electron: the neutral's given for the ion, or the other way round.",
		"The acetyl cation C2H3O+ has m/z ⟦electron-mass \"computed: 43.0178\"⟧43.0184.\n"},
	{FormulaFalse, Error, "A name beside the formula of another compound.",
		"Acetone (⟦formula-false \"computed: C3H6O\"⟧C3H8O) is in every laboratory.\n"},
	{LossFalse, Error, "A loss with the wrong mass, an ion at the wrong m/z after a loss, or a difference worked out wrong.",
		"The loss of water (⟦loss-false \"computed: 18\"⟧17 u) is typical of alcohols.\n"},
	{IsotopeFalse, Error, "An isotope's mass or abundance, a ratio of isotope peaks, or a count of carbon atoms that isn't so.",
		"An ion with one chlorine atom has M and M+2 peaks in the ratio ⟦isotope-false \"computed: 100:32\"⟧1:1.\n"},
	{NitrogenFalse, Error, "The nitrogen rule the wrong way round.",
		"An odd molecular mass points to ⟦nitrogen-false \"an odd number\"⟧an even number of nitrogen atoms.\n"},
	{ResolutionFalse, Error, "A resolving power that doesn't belong to the two formulas.",
		"The resolving power needed to separate CO and N2 is ⟦resolution-false \"computed: 2493\"⟧1200.\n"},
	{InstrumentFalse, Error, "A statement about sectors that contradicts the relations m/z = e B² r² / (2 V u), or the make of the instrument.",
		"In the magnet ⟦instrument-false \"bent less\"⟧heavier ions are deflected more.\n"},
	{BondFalse, Error, "A charge where a radical is meant: homolysis into ions, or a cation lost from an ion with one charge.",
		"By alpha-cleavage the ion loses an ⟦bond-false \"ethyl radical\"⟧ethyl cation.\n"},
	{PeakFalse, Error, "A peak called what it isn't: another base peak than the spectrum has, a strong peak where there is none, the base peak taken for the molecular ion by definition.",
		"The base peak is always ⟦peak-false \"the strongest peak\"⟧the molecular ion.\n"},
	{ChargeToMass, Warning, "Charge to mass where mass to charge is meant.",
		"The instrument separates ions by their ⟦charge-to-mass \"mass to charge\"⟧charge-to-mass ratio.\n"},
}
