package mol

// maxLigands is the most neighbors that a chirality class has.
const maxLigands = 6

// Reorder returns the chirality that says the same of the same ligands in
// another order: order[k] is the place that the ligand now at place k had
// before. Where order doesn't have as many places as the class has ligands,
// the result is [NotChiral].
func (c Chirality) Reorder(order []int8) Chirality {
	if len(order) != c.ligands() {
		return NotChiral
	}
	switch {
	case c <= AL2:
		if odd(order) {
			return c.mirrored()
		}
		return c
	}
	return NotChiral
}

// ligands returns how many ligands the class has, a hydrogen or lone pair
// counted.
func (c Chirality) ligands() int {
	switch {
	case c == NotChiral:
		return 0
	case c < TB1:
		return 4
	case c < OH1:
		return 5
	}
	return 6
}

// odd tells whether the permutation is odd.
func odd(order []int8) bool {
	result := false
	for i := range order {
		for j := range order[:i] {
			if order[j] > order[i] {
				result = !result
			}
		}
	}
	return result
}

// mirrored returns the mirror image of a tetrahedral or allene-like
// arrangement.
func (c Chirality) mirrored() Chirality {
	switch c {
	case TH1:
		return TH2
	case TH2:
		return TH1
	case AL1:
		return AL2
	case AL2:
		return AL1
	}
	return c
}
