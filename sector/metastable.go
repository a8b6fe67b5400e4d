package sector

import (
	"cmp"
	"math"
	"slices"
)

// Metastable returns the apparent m/z at which an ion of m/z after is recorded
// that formed from one of m/z before, of the same charge, between acceleration
// and magnet:
//
//	m* = after^2 / before
//
// It fails where the product isn't the lighter one.
func Metastable(before, after float64) (float64, error) {
	if err := check(massToCharge(before), massToCharge(after)); err != nil {
		return 0, err
	}
	if after >= before {
		return 0, &SettingError{"m/z of the product", after, "", "a product ion of the same charge is lighter than its precursor"}
	}
	apparent := after * (after / before)
	return apparent, result("apparent m/z", apparent, "")
}

// Transition is a decay in one step that a metastable peak can come from.
type Transition struct {
	Before, After float64 // m/z of precursor and product
	Apparent      float64 // m* = After^2 / Before
}

// Transitions returns the pairs of the given m/z whose metastable peak lies
// within tolerance of the observed one, nearest first. It is evidence that a
// decay happens in one step, no proof: pairs can coincide.
func Transitions(observed float64, mzs []float64, tolerance float64) ([]Transition, error) {
	if err := check(massToCharge(observed), quantity{"tolerance", tolerance, "", "expected a positive width"}); err != nil {
		return nil, err
	}
	sorted := slices.Clone(mzs)
	slices.Sort(sorted)
	sorted = slices.Compact(sorted)
	for _, mz := range sorted {
		if err := check(massToCharge(mz)); err != nil {
			return nil, err
		}
	}
	var found []Transition
	for i, after := range sorted {
		// m* falls with the precursor, so the precursors that fit stand together.
		rest := sorted[i+1:]
		from, _ := slices.BinarySearchFunc(rest, observed+tolerance, func(before, limit float64) int {
			return cmp.Compare(limit, after*after/before)
		})
		for _, before := range rest[from:] {
			apparent := after * after / before
			if apparent < observed-tolerance {
				break
			}
			found = append(found, Transition{before, after, apparent})
		}
	}
	slices.SortStableFunc(found, func(a, b Transition) int {
		return cmp.Compare(math.Abs(a.Apparent-observed), math.Abs(b.Apparent-observed))
	})
	return found, nil
}
