package ionize

import "ionwright/chem"

// astray is what it costs to draw a step in another way than its name says.
const astray = 3.0

// startCost weighs the form in which the ion reacts against the step's name.
func (a *account) startCost(l *lewis) float64 {
	if !a.odd {
		return 0
	}
	switch a.kind {
	case SigmaCleavage:
		if l.half < 0 {
			return astray
		}
		return 0
	case AlphaCleavage:
		for i := range a.atoms {
			if l.charge[i] > a.base.charge[i] && a.atoms[i].element != chem.C && l.valence[i] > a.atoms[i].valence && a.left(l, i)%2 == 1 {
				return 0
			}
		}
		return astray
	case AllylicCleavage, BenzylicCleavage:
		for i := range a.atoms {
			if l.charge[i] > a.base.charge[i] && a.atoms[i].element == chem.C && l.half < 0 {
				return 0
			}
		}
		return astray
	default:
		if l.half >= 0 {
			return astray
		}
	}
	return 0
}

// kindCost weighs one panel against the step's name.
func (a *account) kindCost(before, after *lewis, doing []int, flights []flight) float64 {
	cuts := func(pair int) bool {
		for _, e := range doing {
			for _, p := range a.events[e].cut {
				if p == pair {
					return true
				}
			}
		}
		return false
	}
	if !a.odd {
		return 0
	}
	total := 0.0
	shifts := false // a hydrogen
	for _, e := range doing {
		shifts = shifts || len(a.events[e].cut) > 0 && len(a.events[e].form) > 0
	}
	for _, f := range flights {
		if f.electrons != 2 || !f.from.pair || !cuts(f.from.at) {
			continue
		}
		// An unpaired electron is there to draw single ones.
		if shifts {
			total += 2
		} else if f.to.pair {
			total += 2
		}
	}
	return total + a.nameCost(cuts, flights)
}

// nameCost weighs the arrows of an odd-electron ion's panel against the step's
// name.
func (a *account) nameCost(cuts func(pair int) bool, flights []flight) float64 {
	switch a.kind {
	case InductiveCleavage:
		for _, f := range flights {
			if f.from.pair && cuts(f.from.at) && !f.to.pair && f.electrons == 2 {
				return 0
			}
		}
		return astray
	case AlphaCleavage, BenzylicCleavage, AllylicCleavage:
		for _, f := range flights {
			if f.electrons == 2 {
				return astray
			}
		}
	}
	return 0
}
