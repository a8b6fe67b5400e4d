package ionize

// The handbook values of the energy scheme, in electronvolts. They are
// rounded means over common compounds as printed in physical-chemistry
// handbooks (bond dissociation energies and ionization energies), written
// here from memory; the fitted corrections move
// steps by their surroundings, and a step without evidence stays as it stands
// here.

// sigma is the energy of a single bond between two elements, and of a bond to
// hydrogen in the last column.
var sigma = symmetric([]bondEnergy{
	{iC, iC, 3.65}, {iC, iN, 3.25}, {iC, iO, 3.70}, {iC, iF, 4.80}, {iC, iSi, 3.60}, {iC, iP, 2.80},
	{iC, iS, 2.95}, {iC, iCl, 3.55}, {iC, iBr, 3.00}, {iC, iI, 2.40}, {iC, iH, 4.25},
	{iN, iN, 1.70}, {iN, iO, 2.10}, {iN, iF, 2.90}, {iN, iSi, 3.60}, {iN, iP, 3.00}, {iN, iS, 2.60},
	{iN, iCl, 2.00}, {iN, iBr, 1.80}, {iN, iI, 1.60}, {iN, iH, 4.05},
	{iO, iO, 1.60}, {iO, iF, 1.95}, {iO, iSi, 4.80}, {iO, iP, 3.80}, {iO, iS, 2.90}, {iO, iCl, 2.10},
	{iO, iBr, 2.00}, {iO, iI, 2.00}, {iO, iH, 4.75},
	{iF, iSi, 6.00}, {iF, iP, 5.00}, {iF, iS, 3.40}, {iF, iH, 5.90},
	{iSi, iSi, 3.00}, {iSi, iP, 2.80}, {iSi, iS, 3.10}, {iSi, iCl, 4.40}, {iSi, iBr, 3.80}, {iSi, iI, 3.00}, {iSi, iH, 3.80},
	{iP, iP, 2.10}, {iP, iS, 2.80}, {iP, iCl, 3.30}, {iP, iBr, 2.70}, {iP, iI, 2.20}, {iP, iH, 3.35},
	{iS, iS, 2.60}, {iS, iCl, 2.65}, {iS, iBr, 2.25}, {iS, iI, 2.00}, {iS, iH, 3.75},
	{iCl, iCl, 2.50}, {iCl, iH, 4.47}, {iBr, iBr, 2.00}, {iBr, iH, 3.79}, {iI, iI, 1.57}, {iI, iH, 3.10},
	{iH, iH, 4.52},
})

// piBond is the energy of the second bond of a double bond.
var piBond = symmetric([]bondEnergy{
	{iC, iC, 2.75}, {iC, iN, 3.10}, {iC, iO, 3.95}, {iC, iS, 2.70}, {iC, iP, 1.90}, {iC, iSi, 1.50},
	{iN, iN, 2.70}, {iN, iO, 3.60}, {iN, iS, 2.00}, {iN, iP, 2.00}, {iO, iO, 3.50}, {iO, iS, 2.60},
	{iO, iP, 2.60}, {iO, iSi, 2.30}, {iO, iCl, 1.20}, {iO, iBr, 1.20}, {iO, iI, 1.20}, {iS, iS, 1.80}, {iS, iP, 2.00},
})

const (
	otherSigma     = 2.5  // a pair the table lacks
	otherPi        = 1.5  //
	aromaticRing   = 1.3  // gained by an intact aromatic ring over its Kekule form
	ringTriple     = 1.6  // lost by a triple bond in a ring, as in benzyne
	conjugatedPair = 0.15 // gained by two double bonds joined by a single one
)

// strain is what a ring of so many members costs, in eV: cyclopropane 1.2,
// cyclobutane 1.15, cyclopentane 0.27.
var strain = [6]float64{3: 1.2, 4: 1.15, 5: 0.27}

type bondEnergy struct {
	a, b   int
	energy float64
}

func symmetric(rows []bondEnergy) (table [numElements + 1][numElements + 1]float64) {
	for _, row := range rows {
		table[row.a][row.b], table[row.b][row.a] = row.energy, row.energy
	}
	return table
}

// radicalIE is the ionization energy of a radical whose unpaired electron sits
// on an atom of the element and that carries hydrogen only: CH3, NH2, OH, F,
// SiH3, PH2, SH, Cl, Br, I.
var radicalIE = [numElements]float64{9.84, 11.1, 13.0, 17.4, 8.1, 9.8, 10.4, 12.97, 11.81, 10.45}

// alkylOnRadical is what the first, second and third carbon on a radical
// carbon take off its ionization energy: CH3 9.84, C2H5 8.12, i-C3H7 7.37,
// t-C4H9 6.70.
var alkylOnRadical = [4]float64{0, 1.72, 2.47, 3.14}

// donorOnRadical is what a neighbour with a lone pair takes off, by element:
// CH2NH2 6.2, CH2OH 7.55, CH2F 9.04, CH2SH 7.5, CH2Cl 8.75, CH2Br 8.6.
var donorOnRadical = [numElements]float64{0, 3.6, 2.3, 0.8, 1.7, 2.6, 2.3, 1.1, 1.2, 1.3}

// moleculeIE is the ionization energy of a closed-shell molecule through the
// lone pair of an element that carries carbon (amine, alcohol, fluoride,
// silane, phosphane, thiol, chloride, bromide, iodide), and what each further
// carbon on it takes off.
var moleculeIE = [numElements]struct{ one, perCarbon float64 }{
	iC: {11.5, 0}, iN: {8.9, 0.5}, iO: {10.5, 0.6}, iF: {12.5, 0}, iSi: {10.5, 0.25}, iP: {9.1, 0.4},
	iS: {9.4, 0.6}, iCl: {11.1, 0}, iBr: {10.4, 0}, iI: {9.4, 0},
}

// smallMolecule are neutrals that the additive rules miss: energy to take the
// molecule apart into atoms, and ionization energy.
var smallMolecule = map[counts]struct{ binding, ionization float64 }{
	{iO: 1, iH: 2}:        {9.5, 12.6},  // H2O
	{iN: 1, iH: 3}:        {12.0, 10.1}, // NH3
	{iC: 1, iO: 1}:        {11.1, 14.0}, // CO
	{iC: 1, iO: 2}:        {16.6, 13.8}, // CO2
	{iN: 2}:               {9.8, 15.6},  // N2
	{iC: 1, iN: 1, iH: 1}: {13.1, 13.6}, // HCN
	{iF: 1, iH: 1}:        {5.9, 16.0},  // HF
	{iCl: 1, iH: 1}:       {4.5, 12.7},  // HCl
	{iBr: 1, iH: 1}:       {3.8, 11.7},  // HBr
	{iI: 1, iH: 1}:        {3.1, 10.4},  // HI
	{iS: 1, iH: 2}:        {7.5, 10.5},  // H2S
	{iS: 1, iO: 2}:        {11.0, 12.3}, // SO2
	{iC: 1, iO: 1, iH: 2}: {15.5, 10.9}, // CH2O
	{iN: 1, iO: 1}:        {6.5, 9.3},   // NO
	{iN: 1, iO: 2}:        {9.6, 9.6},   // NO2
	{iC: 1, iO: 1, iH: 1}: {11.6, 8.1},  // CHO
	{iC: 1, iH: 4}:        {17.0, 12.6}, // CH4
	{iC: 2, iH: 4}:        {23.0, 10.5}, // C2H4
	{iC: 2, iH: 2}:        {16.9, 11.4}, // C2H2
	{iC: 1, iN: 1}:        {7.8, 14.0},  // CN
	{iN: 2, iO: 1}:        {11.4, 12.9}, // N2O
	{iC: 1, iS: 2}:        {11.9, 10.1}, // CS2
	{iC: 1, iO: 1, iS: 1}: {14.3, 11.2}, // COS
}
