package compose

import "ionwright/chem"

// senior tests the three conditions of Senior's theorem for the existence of a
// connected structure. Where an element has several valences, each condition
// takes those that make it easiest: all the highest for the number of bonds;
// the lowest of an atom, and the highest of the others, for the bonds that
// this atom needs. The third, that the sum of valences is even, is a condition
// on neutral molecules and isn't asked of ions.
func senior(f chem.Formula) bool {
	sum, odd, atoms := 0, 0, 0
	for s, n := range f.All() {
		v := highestValence(s.Element())
		sum += v * n
		odd += (v & 1) * n
		atoms += n
	}
	if atoms < 2 {
		return true
	}
	if sum < 2*(atoms-1) || f.Charge() == 0 && odd&1 != 0 {
		return false
	}
	for s := range f.All() {
		if sum-highestValence(s.Element()) < s.Element().Valence() {
			return false
		}
	}
	return true
}

// highestValence is the highest valence that an element commonly has in
// molecules; for elements not listed it is the usual one, at least 4 for the
// metals that bind as many ligands.
func highestValence(e chem.Element) int {
	switch e {
	case chem.N, chem.P, chem.As, chem.Sb, chem.Bi:
		return 5
	case chem.S, chem.Se, chem.Te:
		return 6
	case chem.Cl, chem.Br, chem.I:
		return 7
	case chem.B, chem.Al:
		return 3
	case chem.O:
		return 2
	}
	switch v := e.Valence(); {
	case v != 2:
		return v
	case e == chem.Be, e == chem.Mg, e == chem.Ca, e == chem.Sr, e == chem.Ba, e == chem.Ra, e == chem.Zn, e == chem.Cd, e == chem.Hg:
		return 2
	}
	return 6
}

// limit is one row of table 1 of Kind and Fiehn 2007: the larger of the counts
// in the Dictionary of Natural Products and in the Wiley collection.
type limit struct {
	below  chem.Mass // Da
	counts []chem.Count
}

var limits = []limit{
	{500, limitRow(39, 72, 20, 20, 9, 10, 16, 10, 5, 8)},
	{1000, limitRow(78, 126, 25, 27, 9, 14, 34, 12, 8, 14)},
	{2000, limitRow(156, 236, 32, 63, 9, 14, 48, 12, 10, 15)},
	{3000, limitRow(162, 208, 48, 78, 6, 9, 16, 11, 8)},
}

// limitRow gives the counts their elements; a missing silicon isn't limited.
func limitRow(counts ...int) []chem.Count {
	elements := [...]chem.Element{chem.C, chem.H, chem.N, chem.O, chem.P, chem.S, chem.F, chem.Cl, chem.Br, chem.Si}
	row := make([]chem.Count, len(counts))
	for i, n := range counts {
		row[i] = chem.Count{Species: chem.NaturalSpecies(elements[i]), N: n}
	}
	return row
}

// counts tests the row of table 1 for the formula's mass; heavier formulas
// pass.
func counts(f chem.Formula) bool {
	mass := f.MonoisotopicMass()
	for _, row := range limits {
		if mass >= row.below {
			continue
		}
		for _, c := range row.counts {
			if f.Count(c.Species.Element()) > c.N {
				return false
			}
		}
		return true
	}
	return true
}
