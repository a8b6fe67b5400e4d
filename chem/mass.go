package chem

// NominalMass returns the nominal mass in Da: the sum of the mass numbers of
// the most abundant isotope of each atom (labels count with their own). It is
// not a rounded exact mass: C100H202 has 1402.
func (f Formula) NominalMass() int {
	sum := 0
	for at, s := range f.species {
		if s == 0 {
			break
		}
		a := s.MassNumber()
		if a == 0 {
			a = principals[s.Element()].MassNumber
		}
		sum += a * int(f.counts[at])
	}
	return sum
}

// MonoisotopicMass returns the mass in Da of the species made of the most
// abundant isotope of each element (and of the labels), less the mass of the
// electrons that its charge says are missing.
func (f Formula) MonoisotopicMass() Mass {
	sum := -Mass(f.charge) * ElectronMass
	for at, s := range f.species {
		if s == 0 {
			break
		}
		sum += s.mass() * Mass(f.counts[at])
	}
	return sum
}

// AverageMass returns the mean mass in Da over the natural isotope mixture
// (labels count with their own mass), less the mass of missing electrons.
func (f Formula) AverageMass() Mass {
	sum := -Mass(f.charge) * ElectronMass
	for at, s := range f.species {
		if s == 0 {
			break
		}
		sum += s.averageMass() * Mass(f.counts[at])
	}
	return sum
}

// MZ returns the m/z of the monoisotopic ion: its mass over the number of
// charges, whatever their sign. For a neutral formula it is the mass.
func (f Formula) MZ() MZ { return MZ(f.MonoisotopicMass()) / MZ(f.charges()) }

// NominalMZ returns the nominal mass over the number of charges; it can be
// half of a whole number (C7H7 2+: 45.5).
func (f Formula) NominalMZ() float64 { return float64(f.NominalMass()) / float64(f.charges()) }

// charges returns the absolute charge, 1 for a neutral formula.
func (f Formula) charges() int {
	switch z := int(f.charge); {
	case z < 0:
		return -z
	case z > 0:
		return z
	}
	return 1
}
