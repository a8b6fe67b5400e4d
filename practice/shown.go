package practice

import (
	"slices"

	"ionwright/practice/cause"
)

// readFrom are the things that are read from the spectrum when asked for.
var readFrom = []cause.Asks{
	cause.MolecularIon, cause.IonAt, cause.LostTo, cause.Carbons, cause.Group, cause.Identity, cause.Evidence, cause.Peaks,
}

// ShowsSpectrum tells whether the question is answered from the spectrum of
// its facts, so that a student must see it; for other questions it could give
// the answer away.
func (q *Question) ShowsSpectrum() bool {
	if len(q.Facts.Spectrum.Peaks) == 0 {
		return false
	}
	switch q.Key.(type) {
	case Peaks, Assign:
		return true
	}
	return slices.Contains(readFrom, q.Facts.Asks)
}
