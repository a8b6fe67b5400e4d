package reading

import "fmt"

// tellMixed says that two compounds seem to be there, and why where peaks show
// it. Nothing is taken apart.
func (d *desk) tellMixed() {
	d.mixed = true
	text := "The peaks look like those of two compounds at once"
	if mz := d.unrelated(); mz > 0 {
		text += fmt.Sprintf("; m/z %d and %d, for instance, have no common loss between them", min(mz, d.mol), max(mz, d.mol))
	}
	d.doubt("%s. What is read here presumes one compound. (One pure spectrum in fifty looks so, too, and many mixtures don't.)", text)
}

// unrelated returns the m/z of the strongest peak that can't be related to the
// first candidate for the molecular ion: just below it, where no common loss
// leads, or above its isotope peaks. It returns 0 if there is none.
func (d *desk) unrelated() int {
	const least = 3 // % of base
	best := 0
	consider := func(mz int) {
		if r := d.rel(mz); r >= least && r > d.rel(best) && !d.satellite(mz) {
			best = mz
		}
	}
	for _, mz := range forbiddenPeaks(d, d.mol) {
		consider(mz)
	}
	const isotopes = 8 // of several halogens
	for mz := d.mol + isotopes + 1; mz <= d.view.Top; mz++ {
		consider(mz)
	}
	return best
}
