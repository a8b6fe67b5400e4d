package ionize

import (
	"slices"

	"ionwright/chem"
)

// The forms and ways of one step are weighed against each other by what a
// textbook would draw: octets filled, the charge where the ionization energy is
// low, few arrows. The weights are orders of magnitude without a unit, chosen
// so that the textbook fragmentations are drawn as textbooks do.
const (
	perArrow     = 0.6
	together     = 2.5 // two events at once
	passing      = 0.4 // part of its cost that a form counts for when it is passed through
	unpaired     = 2.5 // two unpaired electrons more than there must be
	bentCumulene = 4.0 // a ring atom with two pi bonds
	cumulene     = 0.8 // a carbon with two double bonds
	resonance    = 1.2 // the ion rewritten as another form before it reacts
	sextet       = 8.0 // a heteroatom with six electrons
	carbene      = 4.0
	newSeparated = 3.0 // a negative charge that wasn't there
	oneElectron  = 1.8 // an ionized single bond
)

// onium and ionizedPair are what the charge costs on a heteroatom that shares
// a lone pair, and on one that has lost an electron of it.
func onium(e chem.Element) float64 {
	switch e {
	case chem.N:
		return 0.3
	case chem.O, chem.S, chem.P:
		return 0.4
	}
	return 1.0
}

func ionizedPair(e chem.Element) float64 {
	switch e {
	case chem.N:
		return 0.6
	case chem.S, chem.P:
		return 0.7
	case chem.O, chem.I:
		return 1.0
	case chem.Br:
		return 1.2
	case chem.Cl:
		return 1.4
	}
	return 3.0
}

// cost of a form.
func (a *account) cost(l *lewis) float64 {
	total := 0.0
	for i := range a.atoms {
		left := a.left(l, i)
		switch {
		case l.charge[i] > a.base.charge[i] && l.charge[i] > 0:
			total += a.cationCost(l, i, left)
		case l.charge[i] < 0 && a.base.charge[i] >= 0:
			total += a.anionCost(l, i)
		case l.charge[i] > 0 && l.valence[i] < a.atoms[i].valence && a.atoms[i].group != 4:
			total += sextet
		}
		total += a.radicalCost(l, i, left)
	}
	alone := 0
	for i := range a.atoms {
		alone += int(a.loose(l, i) & 1)
		if a.piAt(l, i) >= 2 {
			if a.inRing(l, i) {
				total += bentCumulene
			} else if a.degree(l, i) == 2 && a.atoms[i].element == chem.C && a.cumulated(l, i) {
				total += cumulene
			}
		}
	}
	total += unpaired * float64(alone/2)
	if l.half >= 0 {
		p := a.pairs[l.half]
		total += oneElectron
		if slices.ContainsFunc(l.pi, func(n int8) bool { return n > 0 }) {
			total += 1.5 // a pi bond is ionized before a single one
		}
		for _, end := range p {
			if a.atoms[end].element == chem.H {
				total += 0.8
			}
			total -= 0.1 * float64(a.degree(l, end))
		}
	}
	return total
}

// inRing reports whether atom i is in a ring: two of its neighbours are joined
// without it.
func (a *account) inRing(l *lewis, i int) bool {
	cut := l.clone()
	for _, h := range a.at[i] {
		cut.joined[h.pair] = false
	}
	seen := make([]bool, len(a.atoms))
	for _, h := range a.at[i] {
		if !l.joined[h.pair] {
			continue
		}
		if seen[h.to] {
			return true
		}
		for k, there := range a.component(cut, h.to) {
			seen[k] = seen[k] || there
		}
	}
	return false
}

func (a *account) cationCost(l *lewis, i int, left int8) float64 {
	at := &a.atoms[i]
	if at.group != 4 {
		if l.charge[i] > 1 {
			return 2 * sextet
		}
		if l.valence[i] < at.valence {
			return sextet
		}
		if left%2 == 0 {
			return onium(at.element)
		}
		cost := ionizedPair(at.element)
		if at.element == chem.N && a.piAt(l, i) > 0 {
			cost += 0.5 * float64(a.piAt(l, i))
		}
		if a.piAt(l, i) == 0 && a.besideCarbonyl(l, i) {
			cost += 0.6
		}
		return cost
	}
	cost := 3.0
	if at.element == chem.Si {
		cost = 2.0
	}
	allyl, donor := false, false
	carbons := 0
	for _, h := range a.at[i] {
		if !l.joined[h.pair] {
			continue
		}
		to := &a.atoms[h.to]
		if to.element == chem.C {
			carbons++
			allyl = allyl || l.pi[h.pair] == 0 && a.piAt(l, h.to) > 0 && !a.besideHetero(l, h.to)
			if l.pi[h.pair] == 0 && a.besideHetero(l, h.to) {
				cost++
			}
		} else if to.element != chem.H && a.loose(l, h.to) >= 2 && l.charge[h.to] == 0 {
			donor = true
		}
	}
	cost -= 0.6 * float64(carbons)
	if allyl {
		cost -= 0.8
	}
	if a.piAt(l, i) > 0 {
		cost += 1.5
	}
	if left > 0 {
		cost += 3
	}
	if donor {
		cost = max(cost, 2.2) // better drawn with the neighbour's lone pair shared
	}
	return cost
}

// cumulated reports whether the pi bonds of atom i are two double bonds.
func (a *account) cumulated(l *lewis, i int) bool {
	n := 0
	for _, h := range a.at[i] {
		if l.joined[h.pair] && l.pi[h.pair] == 1 {
			n++
		}
	}
	return n == 2
}

// besideHetero reports whether atom i has a pi bond to a heteroatom.
func (a *account) besideHetero(l *lewis, i int) bool {
	for _, h := range a.at[i] {
		if l.joined[h.pair] && l.pi[h.pair] > 0 && a.atoms[h.to].element != chem.C {
			return true
		}
	}
	return false
}

// besideCarbonyl reports whether a neighbour of atom i has a pi bond to a
// heteroatom.
func (a *account) besideCarbonyl(l *lewis, i int) bool {
	for _, h := range a.at[i] {
		if l.joined[h.pair] && l.pi[h.pair] == 0 && a.besideHetero(l, h.to) {
			return true
		}
	}
	return false
}

func (a *account) anionCost(l *lewis, i int) float64 {
	if a.atoms[i].element == chem.C && a.piAt(l, i) == 2 && a.degree(l, i) == 1 {
		return 0.3 // carbon monoxide and isocyanides
	}
	return newSeparated
}

func (a *account) radicalCost(l *lewis, i int, left int8) float64 {
	at := &a.atoms[i]
	switch {
	case left <= 0:
		return 0
	case left >= 2 && (at.element == chem.C || at.element == chem.N || at.element == chem.O):
		return carbene
	case left%2 == 0:
		return 0
	case at.element == chem.C:
		cost := 1.2
		for _, h := range a.at[i] {
			if l.joined[h.pair] && a.atoms[h.to].element == chem.C {
				cost -= 0.15
				if l.pi[h.pair] == 0 && a.piAt(l, h.to) > 0 {
					cost -= 0.3
				}
			}
		}
		if a.piAt(l, i) > 0 {
			cost += 0.9
			if a.besideHetero(l, i) {
				cost -= 0.5 // acyl
			}
		}
		return cost
	case at.group == 7:
		return 0.3
	}
	return 1.0
}
