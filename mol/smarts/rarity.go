package smarts

import "ionwright/chem"

// A sample is a kind of atom with its share of the heavy atoms of common
// organic compounds.
type sample struct {
	features features
	share    int // of about 1,000
}

// samples are the kinds of atoms by which the planner guesses how many atoms
// of a molecule pass a test. They steer the order of the search only, not its
// result; the shares are rough (from memory, rounded).
var samples = [...]sample{
	{typical(chem.C, 3, 1, 4, 0), 110},
	{typical(chem.C, 2, 2, 4, 0), 140},
	{typical(chem.C, 2, 2, 4, 6), 70},
	{typical(chem.C, 1, 3, 4, 0), 25},
	{typical(chem.C, 1, 3, 4, 6), 35},
	{typical(chem.C, 0, 4, 4, 0), 15},
	{typical(chem.C, 0, 4, 4, 6), 15},
	{typical(chem.C, 1, 2, 4, 0), 30},
	{typical(chem.C, 0, 3, 4, 0), 70},
	{typical(chem.C, 0, 3, 4, 6), 30},
	{typical(chem.C, 0, 2, 4, 0), 8},
	{typical(chem.C, 1, 1, 4, 0), 2},
	{aromatic(typical(chem.C, 1, 2, 4, 6)), 160},
	{aromatic(typical(chem.C, 0, 3, 4, 6)), 110},
	{typical(chem.O, 0, 1, 2, 0), 60},
	{typical(chem.O, 1, 1, 2, 0), 30},
	{typical(chem.O, 0, 2, 2, 0), 35},
	{typical(chem.O, 0, 2, 2, 6), 8},
	{typical(chem.O, 0, 1, 1, 0).with(fieldCharge, 0xff), 6},
	{aromatic(typical(chem.O, 0, 2, 2, 5)), 2},
	{typical(chem.N, 2, 1, 3, 0), 10},
	{typical(chem.N, 1, 2, 3, 0), 12},
	{typical(chem.N, 0, 3, 3, 0), 10},
	{typical(chem.N, 0, 3, 3, 6), 8},
	{typical(chem.N, 0, 2, 3, 0), 6},
	{typical(chem.N, 0, 1, 3, 0), 4},
	{typical(chem.N, 0, 3, 4, 0).with(fieldCharge, 1), 6},
	{aromatic(typical(chem.N, 0, 2, 3, 6)), 14},
	{aromatic(typical(chem.N, 1, 2, 3, 5)), 3},
	{typical(chem.S, 0, 2, 2, 0), 6},
	{typical(chem.S, 1, 1, 2, 0), 2},
	{typical(chem.S, 0, 4, 6, 0), 4},
	{aromatic(typical(chem.S, 0, 2, 2, 5)), 3},
	{typical(chem.F, 0, 1, 1, 0), 12},
	{typical(chem.Cl, 0, 1, 1, 0), 16},
	{typical(chem.Br, 0, 1, 1, 0), 6},
	{typical(chem.I, 0, 1, 1, 0), 2},
	{typical(chem.Si, 0, 4, 4, 0), 4},
	{typical(chem.P, 0, 4, 5, 0), 3},
}

// typical returns the features of an atom with the given hydrogens, neighbors
// that are atoms, valence, and ring size (0: none).
func typical(e chem.Element, hs, degree, valence, ring int) features {
	a := features{}.
		with(fieldElement, int(e)).
		with(fieldHs, hs).with(fieldHidden, hs).with(fieldHidesH, hs).
		with(fieldDegree, degree).with(fieldTotal, degree+hs).
		with(fieldValence, valence)
	if ring > 0 {
		a = a.with(fieldInRing, 1).with(fieldSmallest, ring).with(fieldRings, 1).with(fieldRingBond, 2)
	}
	return a
}

func aromatic(a features) features { return a.with(fieldAromatic, 1) }

// rarity guesses how rare the atoms are that pass an expression: minus their
// share. An environment halves the guess.
func rarity(e *expr, envs *environments) int {
	share := 0
	for i := range samples {
		if e.might(&samples[i].features, envs) {
			share += 2 * samples[i].share
		}
	}
	if e.cost() == 2 {
		share /= 2
	}
	return -share
}
