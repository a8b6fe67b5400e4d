package reading

import (
	"cmp"
	"context"
	"slices"

	"ionwright/chem"
	"ionwright/compose"
)

// mostCompositionMZ is the m/z up to which compositions are listed: beyond,
// there are thousands.
const mostCompositionMZ = 250

// ionSpace is what is looked at for the composition of a fragment.
func ionSpace(mz int) compose.Space {
	atoms := func(e chem.Element, most int) compose.Range {
		return compose.Range{Species: chem.NaturalSpecies(e), Max: most}
	}
	return compose.Space{
		Elements: []compose.Range{
			{Species: chem.NaturalSpecies(chem.C), Min: 1, Max: mz / 12}, atoms(chem.H, mz), atoms(chem.N, 3), atoms(chem.O, 4),
			atoms(chem.F, 3), atoms(chem.Si, 2), atoms(chem.S, 1), atoms(chem.Cl, 1), atoms(chem.Br, 1),
		},
		Charge: 1,
		DBE:    &compose.Interval{Min: -0.5, Max: 20},
	}
}

// Compositions returns all sensible compositions of a singly charged ion of
// nominal m/z with carbon: C, H, N (up to 3), O (4), F (3), Si (2), S, Cl and
// Br (1), rings plus double bonds from -0.5, no more hydrogens than valences
// allow, those of fewest other elements than C and H first. It returns none
// below m/z 12 and above 250, where there are thousands.
func Compositions(mz int) []Assignment {
	if mz < 12 || mz > mostCompositionMZ {
		return nil
	}
	found, err := ionSpace(mz).FindNominal(context.Background(), mz)
	if err != nil {
		return nil // the space is fixed and small: it can't fail
	}
	var out []Assignment
	for _, f := range found {
		if sensible(f) {
			out = append(out, Assignment{Formula: f, Source: "all compositions of this mass"})
		}
	}
	slices.SortStableFunc(out, func(a, b Assignment) int {
		return cmp.Or(cmp.Compare(oddness(a.Formula), oddness(b.Formula)), cmp.Compare(b.Formula.Count(chem.C), a.Formula.Count(chem.C)))
	})
	return out
}

// sensible tells whether a composition can be an ion met in practice: heteroatoms
// no more than twice the carbons, and not more rings plus double bonds than
// carbons and one allow.
func sensible(f chem.Formula) bool {
	carbons := f.Count(chem.C)
	hetero := f.Atoms() - carbons - f.Count(chem.H)
	return hetero <= 2*carbons && f.DBE() <= float64(carbons)+1.5+float64(f.Count(chem.N))/2
}

// oddness counts what makes a composition less usual.
func oddness(f chem.Formula) int {
	n := 0
	for s, count := range f.All() {
		switch e := s.Element(); e {
		case chem.C, chem.H:
		case chem.O:
			n += count
		case chem.N:
			n += count + 1
		default:
			n += count + 4
		}
	}
	if f.OddElectron() {
		n += 2
	}
	return n
}
