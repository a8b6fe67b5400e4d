package ionize

import (
	"cmp"
	"slices"
)

// byMass returns the IDs of the ions, the heaviest first, so that every ion
// comes after all its sources.
func (p *Prediction) byMass() []int {
	order := make([]int, len(p.Ions))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(p.Ions[b].MZ, p.Ions[a].MZ) })
	return order
}

// leaving returns the steps of each ion, as indices into Steps, and how many
// ions arrive at each.
func (p *Prediction) leaving() (from [][]int, arrived []float64) {
	from, arrived = make([][]int, len(p.Ions)), make([]float64, len(p.Ions))
	arrived[0] = 1
	for k, step := range p.Steps {
		from[step.From] = append(from[step.From], k)
		arrived[step.To] += step.Flow
	}
	return from, arrived
}

// shortShares returns for each ion the share, 0 to 1, of those arriving that
// came by at most MostSteps steps, if what an ion does next doesn't depend on
// how it came about.
func (p *Prediction) shortShares() []float64 {
	from, arrived := p.leaving()
	depth := make([][MostSteps + 1]float64, len(p.Ions))
	depth[0][0] = 1
	for _, i := range p.byMass() {
		if arrived[i] <= 0 {
			continue
		}
		for _, k := range from[i] {
			step := &p.Steps[k]
			for d := range MostSteps {
				depth[step.To][d+1] += depth[i][d] / arrived[i] * step.Flow
			}
		}
	}
	shares := make([]float64, len(p.Ions))
	for i := range shares {
		if arrived[i] <= 0 {
			continue
		}
		for _, n := range depth[i] {
			shares[i] += n / arrived[i]
		}
		shares[i] = min(shares[i], 1)
	}
	return shares
}

// shortRoute returns the dominant route to the ion where that has at most
// MostSteps steps, and otherwise the route of that many or fewer that most ions
// take; nothing where there is none.
func (p *Prediction) shortRoute(ion int) []Step {
	if route := p.Route(ion); len(route) <= MostSteps {
		return route
	}
	from, arrived := p.leaving()
	type reached struct {
		share float64 // of the molecular ions that come by this very route
		via   int     // the last step
	}
	best := make([][MostSteps + 1]reached, len(p.Ions))
	best[0][0].share = 1
	for _, i := range p.byMass() {
		for _, k := range from[i] {
			step := &p.Steps[k]
			for d := range MostSteps {
				if share := best[i][d].share * step.Flow / arrived[i]; share > best[step.To][d+1].share {
					best[step.To][d+1] = reached{share, k}
				}
			}
		}
	}
	length := 0
	for d := 1; d <= MostSteps; d++ {
		if best[ion][d].share > best[ion][length].share {
			length = d
		}
	}
	var back []Step
	for at := ion; length > 0; length-- {
		step := p.Steps[best[at][length].via]
		back = append(back, step)
		at = step.From
	}
	slices.Reverse(back)
	return back
}
