package reading

import (
	"cmp"
	"slices"

	"ionwright/reading/infer"
	"ionwright/spectrum"
)

// contamination is a background that is told by its own peaks. What it adds to
// each of them is taken off before anything is inferred.
type contamination struct {
	name  string // of the row in backgroundRows
	ions  []backgroundIon
	least int // how many of the ions that are keys must be seen
}

// backgroundIon is an ion of a contamination: how strong it is beside the
// first of the list, by which factor that varies among instruments, and the
// heights of the peaks one and two above it as shares of its own.
type backgroundIon struct {
	mz       int
	height   float64
	varies   float64
	one, two float64 // one may be hidden
	key      bool    // clear enough to tell the contamination by
}

// hidden stands for isotope peaks where compounds have peaks of their own.
const hidden = -1

// contaminations: heights in air by its composition, the isotope peaks by the
// ions' formulas, the rest common practice, no source.
var contaminations = [...]contamination{
	{"air", []backgroundIon{
		{28, 1, 1.6, hidden, 0, true}, {32, 0.26, 1.6, 0, 0, true}, {40, 0.016, 2, 0, 0, false}, {14, 0.07, 2, 0, 0, false}, {16, 0.04, 2, 0, 0, false},
	}, 2},
	{"water", []backgroundIon{{18, 1, 1.4, 0, 0, true}, {17, 0.22, 1.4, hidden, 0, true}, {16, 0.02, 2, 0, 0, false}}, 2},
	{"column bleed", []backgroundIon{ // C5H15O3Si3, C7H21O4Si4, C9H27O5Si5 and so on, silicon and oxygen in rings
		{207, 1, 3, 0.205, 0.135, true}, {281, 0.45, 3, 0.285, 0.19, true}, {355, 0.12, 4, 0.36, 0.26, true}, {429, 0.03, 4, 0.44, 0.33, false},
		{73, 0.4, 4, 0.085, 0.035, false}, {133, 0.08, 4, 0.13, 0.07, false}, {147, 0.06, 4, 0.15, 0.08, false}, {191, 0.09, 4, 0.19, 0.12, false}, {193, 0.06, 4, 0.19, 0.12, false},
	}, 2},
	{"calibration gas", []backgroundIon{ // perfluorotributylamine: CF3, C2F4, C2F5, C3F5, C4F9, C5F10N and so on
		{219, 1, 2.2, 0.043, 0, true}, {131, 0.86, 2.2, 0.033, 0, true}, {264, 0.23, 2.2, 0.055, 0, true}, {69, 2.86, 2.2, 0.011, 0, true}, {100, 0.34, 2.2, 0.022, 0, true}, {119, 0.23, 2.2, 0.022, 0, true},
		{169, 0.08, 3, 0.033, 0, false}, {414, 0.09, 3, 0.09, 0, false}, {464, 0.03, 3, 0.1, 0, false}, {502, 0.04, 3, 0.1, 0, false},
	}, 3},
}

// What a weak peak may differ from its share, and up to which height records
// leave peaks out, in % of base.
const (
	tolerated = 0.35
	leftOut   = 1.0
)

// alone tells whether the peaks one and two above an ion are those of its
// isotopes and the one below is weaker, so that nothing else stands there.
func (ion backgroundIon) alone(v *infer.View) bool {
	r := v.At(ion.mz)
	if ion.one == hidden {
		return r >= 0.5
	}
	fits := func(seen, share float64) bool {
		return seen >= 0.65*share*r-tolerated && seen <= 1.4*share*r+tolerated
	}
	return r >= 0.5 && r > v.At(ion.mz-1) && fits(v.At(ion.mz+1), ion.one) && fits(v.At(ion.mz+2), ion.two)
}

// height tells how strong the first ion of the contamination is, in % of base;
// 0 if the contamination isn't there.
func (c contamination) height(v *infer.View) float64 {
	// Each key would have the first ion so high; the right height is the one
	// that most keys agree with.
	best, most := 0.0, 0
	for _, ion := range c.ions {
		if !ion.key || !ion.alone(v) {
			continue
		}
		height := v.At(ion.mz) / ion.height
		if agree := c.agree(v, height); agree > most {
			best, most = height, agree
		}
	}
	if most < c.least {
		return 0
	}
	return best
}

// agree counts the keys that have the height they should, within what they
// vary; it is 0 if an ion that should be there is missing.
func (c contamination) agree(v *infer.View, height float64) int {
	count := 0
	for _, ion := range c.ions {
		r, expected := v.At(ion.mz), ion.height*height
		if r < expected/ion.varies-leftOut && ion.mz >= v.Low {
			return 0
		}
		if ion.key && ion.alone(v) && r <= expected*ion.varies && r >= expected/ion.varies {
			count++
		}
	}
	return count
}

// takeOff notes for each m/z how much of its height belongs to the
// contamination, in % of base: all of a peak that isn't much stronger than the
// contamination gives.
func (c contamination) takeOff(v *infer.View, height float64, off map[int]float64) {
	for _, ion := range c.ions {
		r, expected := v.At(ion.mz), ion.height*height
		if r <= 0 {
			continue
		}
		if r > expected*ion.varies {
			r = expected
		}
		off[ion.mz] += r
		for k, share := range [...]float64{ion.one, ion.two, ion.one * ion.two} {
			mz := ion.mz + k + 1
			if seen := v.At(mz); seen > 0 && share > 0 {
				if seen <= 1.4*share*r+tolerated {
					off[mz] += seen
				} else {
					off[mz] += share * r
				}
			}
		}
	}
}

// setApart returns the peaks less those of the contaminations found, the m/z
// of peaks that lost half or more, and the contaminations' names. It takes off
// nothing if nothing would be left.
func setApart(v *infer.View, peaks []spectrum.Peak) (kept []spectrum.Peak, left []int, names []string) {
	off := map[int]float64{}
	for _, c := range contaminations {
		if height := c.height(v); height > 0 {
			names = append(names, c.name)
			c.takeOff(v, height, off)
		}
	}
	if len(names) == 0 {
		return peaks, nil, nil
	}
	for mz, height := range off {
		if height >= v.At(mz)/2 {
			left = append(left, mz)
		}
	}
	slices.SortFunc(left, cmp.Compare[int])
	for _, p := range peaks {
		mz := spectrum.UnitMZ(p.MZ)
		const trace = 0.05 // share of a peak that isn't worth keeping
		if share := 1 - off[mz]/v.At(mz); share > trace {
			p.Intensity *= min(share, 1)
			kept = append(kept, p)
		}
	}
	if len(kept) == 0 {
		return peaks, nil, nil
	}
	return kept, left, names
}
