package chem

// DBE returns the double bond equivalents (rings plus double bonds)
//
//	1 + sum of count x (valence - 2) / 2
//
// over all atoms, with the lowest common valence of each element: 1 for H,
// the alkali metals and the halogens, 2 for O, S and the rest of their group
// and the alkaline earths, 3 for N and P with their group and B with its, 4
// for C with its group; 2, so no contribution, for noble and transition
// metals, f elements and noble gases. A structure with higher valences
// (sulfoxide, nitro, phosphate drawn with double bonds) has more double bonds
// drawn than this counts.
//
// The charge is not looked at, as is the custom for mass spectra (McLafferty
// and Turecek, Interpretation of Mass Spectra, 4th ed. 1993, section 2.7): so
// for neutrals and singly charged ions a whole number means an even number of
// electrons in a neutral and an odd-electron ion, and a half-integer a radical
// or an even-electron ion. The protonated molecule's value is half less than
// the molecule's.
func (f Formula) DBE() float64 {
	twice := 2
	for at, s := range f.species {
		if s == 0 {
			break
		}
		twice += int(f.counts[at]) * (s.Element().Valence() - 2)
	}
	return float64(twice) / 2
}

// Valence returns the lowest common valence of e, as [Formula.DBE] counts it;
// 2 where none is meant.
func (e Element) Valence() int {
	switch e {
	case H, Li, Na, K, Rb, Cs, Fr, F, Cl, Br, I, At, Ts:
		return 1
	case B, Al, Ga, In, Tl, Nh, N, P, As, Sb, Bi, Mc:
		return 3
	case C, Si, Ge, Sn, Pb, Fl:
		return 4
	}
	return 2
}

// Electrons returns the number of electrons: the atomic numbers less the
// charge.
func (f Formula) Electrons() int {
	n := -int(f.charge)
	for at, s := range f.species {
		if s == 0 {
			break
		}
		n += int(s.Element()) * int(f.counts[at])
	}
	return n
}

// OddElectron tells whether the number of electrons is odd: a radical, or an
// odd-electron ion such as a molecular ion.
func (f Formula) OddElectron() bool { return f.Electrons()&1 != 0 }

// NitrogenRuleOdd tells whether the nitrogen rule gives f an odd nominal mass.
//
// For a molecule or an odd-electron ion of charge one: odd exactly if the
// number of nitrogen atoms is odd; each change of the electron parity or of
// the charge by one turns the answer. The rule holds for the elements whose
// principal isotope has a mass number of the same parity as the element's
// valence, nitrogen apart: H, C, O, Si, P, S, halogens and most others; labels
// such as 2H and 13C break it. Compare with the parity of
// [Formula.NominalMass].
func (f Formula) NitrogenRuleOdd() bool {
	odd := f.Count(N)&1 != 0
	if f.OddElectron() != (f.charge&1 != 0) {
		odd = !odd
	}
	return odd
}
