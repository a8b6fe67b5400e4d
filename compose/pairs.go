package compose

// pairs lists the combinations of the heavy and the light species of a search
// by their mass, in cells of equal width.
type pairs struct {
	entries []pairEntry // by cell; in no order inside a cell
	begin   []uint32    // where a cell's entries begin; one more than there are cells
	perCell float64     // cells per Da
}

type pairEntry struct {
	mass float64 // Da
	n, m uint16  // heavy and light
}

// newPairs lists all combinations up to most Da, about one a cell.
func newPairs(heavy, light *dimension, most float64) pairs {
	var p pairs
	all := make([]pairEntry, 0, (heavy.max-heavy.min+1)*(light.max-light.min+1))
	for n := heavy.min; n <= heavy.max; n++ {
		for m := light.min; m <= light.max; m++ {
			mass := float64(n)*heavy.mass + float64(m)*light.mass
			if mass > most {
				break
			}
			all = append(all, pairEntry{mass, uint16(n), uint16(m)})
		}
	}
	p.perCell = float64(len(all)+1) / most
	p.begin = make([]uint32, int(most*p.perCell)+3)
	for i := range all {
		p.begin[p.cell(all[i].mass)+2]++
	}
	for i := 2; i < len(p.begin); i++ {
		p.begin[i] += p.begin[i-1]
	}
	// begin[c+1] is where the next entry of cell c goes, and in the end where
	// cell c+1 begins.
	p.entries = make([]pairEntry, len(all))
	for i := range all {
		next := &p.begin[p.cell(all[i].mass)+1]
		p.entries[*next] = all[i]
		*next++
	}
	return p
}

// cell is the cell of a mass that isn't negative.
func (p *pairs) cell(mass float64) int { return int(mass * p.perCell) }

// within returns the entries of all cells that the interval touches: those
// inside and some around.
func (p *pairs) within(low, high float64) []pairEntry {
	if high < 0 {
		return nil
	}
	last := len(p.begin) - 2
	from, to := min(p.cell(max(0, low)), last), min(p.cell(high), last)
	return p.entries[p.begin[from]:p.begin[to+1]]
}
