package isotope

import (
	"cmp"
	"math"
	"slices"

	"ionwright/chem"
)

// partial is an isotopologue of the atoms of one element.
type partial struct {
	mass        chem.Mass
	massNumber  int
	probability float64
	counts      []chem.Count
}

// partials returns the isotopologues of n atoms of s with a probability of at
// least minimum, the most probable first, and false where there are more than
// most, or finding them takes too long.
func partials(s chem.Species, n int, minimum float64, most int) ([]partial, bool) {
	isotopes := isotopesOf(s)
	e := enumeration{isotopes: isotopes, minimum: minimum, most: most}
	// share[i] is the probability of isotope i among those from i on.
	total := 0.0
	for i := len(isotopes) - 1; i >= 0; i-- {
		total += isotopes[i].Abundance
		e.share[i] = isotopes[i].Abundance / total
	}
	if !e.descend(0, n, 1) {
		return nil, false
	}
	slices.SortFunc(e.found, func(a, b partial) int {
		return cmp.Or(cmp.Compare(b.probability, a.probability), cmp.Compare(a.mass, b.mass))
	})
	return e.found, true
}

// byAbundance is indexed by atomic number: the isotopes that an atom of the
// natural mixture can be, most abundant first; the representative one, with
// abundance 1, where there is no mixture. It is filled once and not changed.
var byAbundance = func() (all [chem.Elements + 1][]chem.Isotope) {
	for e := chem.Element(1); e <= chem.Elements; e++ {
		all[e] = slices.Clone(e.Isotopes())
		if len(all[e]) == 0 {
			all[e] = pure(e.Principal())
		}
		slices.SortStableFunc(all[e], func(a, b chem.Isotope) int { return cmp.Compare(b.Abundance, a.Abundance) })
	}
	return all
}()

// isotopesOf returns the isotopes that an atom of s can be, most abundant
// first. The slice may be shared.
func isotopesOf(s chem.Species) []chem.Isotope {
	if s.MassNumber() == 0 {
		return byAbundance[s.Element()]
	}
	label, _ := s.Element().Isotope(s.MassNumber())
	return pure(label)
}

// pure is a mixture of one isotope.
func pure(i chem.Isotope) []chem.Isotope {
	i.Abundance = 1
	return []chem.Isotope{i}
}

// mostIsotopes is at least the number of natural isotopes of any element (tin
// has ten).
const mostIsotopes = 12

// enumeration finds the partials of one element.
type enumeration struct {
	isotopes []chem.Isotope
	share    [mostIsotopes]float64
	minimum  float64
	most     int
	counts   [mostIsotopes]int // of the isotopes, as far as chosen
	steps    int               // calls of descend
	found    []partial
	arena    []chem.Count // of the counts of found
}

// stepsPerFound bounds the work spent on one element: with many isotopes and
// atoms, far more choices begin than end above the minimum.
const stepsPerFound = 2

// descend chooses how many of the n atoms left are isotope i; probability is
// that of the choices so far, whatever the later ones are. False means that
// there are too many.
func (e *enumeration) descend(i, n int, probability float64) bool {
	if i == len(e.isotopes)-1 {
		e.counts[i] = n
		return e.add(probability)
	}
	if e.steps++; e.steps > e.most*stepsPerFound {
		return false
	}
	q := e.share[i]
	mode := min(n, int(float64(n+1)*q))
	top := binomial(n, mode, q) * probability
	// From the mode down, then from above the mode up, as long as the bound
	// allows.
	for k, p := mode, top; k >= 0 && p >= e.minimum; k-- {
		e.counts[i] = k
		if !e.descend(i+1, n-k, p) {
			return false
		}
		p *= float64(k) * (1 - q) / (float64(n-k+1) * q)
	}
	for k, p := mode, top; k < n; k++ {
		p *= float64(n-k) * q / (float64(k+1) * (1 - q))
		if p < e.minimum {
			break
		}
		e.counts[i] = k + 1
		if !e.descend(i+1, n-k-1, p) {
			return false
		}
	}
	return true
}

// add adds the chosen counts, whose probability is known to be enough.
func (e *enumeration) add(probability float64) bool {
	if probability < e.minimum {
		return true
	}
	if len(e.found) == e.most {
		return false
	}
	p := partial{probability: probability}
	begin := len(e.arena)
	for i, n := range e.counts[:len(e.isotopes)] {
		if n == 0 {
			continue
		}
		isotope := e.isotopes[i]
		p.mass += isotope.Mass * chem.Mass(n)
		p.massNumber += isotope.MassNumber * n
		e.arena = append(e.arena, chem.Count{Species: chem.LabelledSpecies(isotope.Element, isotope.MassNumber), N: n})
	}
	p.counts = e.arena[begin:len(e.arena):len(e.arena)]
	e.found = append(e.found, p)
	return true
}

// binomial is the probability of k successes in n trials, q in (0, 1) being
// that of one.
func binomial(n, k int, q float64) float64 {
	if n == 0 {
		return 1
	}
	a, _ := math.Lgamma(float64(n + 1))
	b, _ := math.Lgamma(float64(k + 1))
	c, _ := math.Lgamma(float64(n - k + 1))
	return math.Exp(a - b - c + float64(k)*math.Log(q) + float64(n-k)*math.Log1p(-q))
}
