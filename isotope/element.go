package isotope

import "ionwright/chem"

// mixture is an element's natural isotopes as a polynomial in the mass number.
type mixture struct {
	first int       // mass number of the lightest isotope
	terms []float64 // probability of mass number first+i; they add up to 1
}

// mixtures is indexed by atomic number. It is filled once and not changed.
var mixtures = func() (all [chem.Elements + 1]mixture) {
	for e := chem.Element(1); e <= chem.Elements; e++ {
		all[e] = newMixture(e)
	}
	return all
}()

func newMixture(e chem.Element) mixture {
	isotopes := e.Isotopes()
	if len(isotopes) == 0 {
		return mixture{e.Principal().MassNumber, []float64{1}}
	}
	first := isotopes[0].MassNumber
	m := mixture{first, make([]float64, isotopes[len(isotopes)-1].MassNumber-first+1)}
	total := 0.0
	for _, i := range isotopes {
		total += i.Abundance
	}
	for _, i := range isotopes {
		m.terms[i.MassNumber-first] = i.Abundance / total
	}
	return m
}
