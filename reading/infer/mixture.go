package infer

import "ionwright/reading/boost"

// MixtureModel tells whether a spectrum looks like that of two compounds at
// once.
type MixtureModel struct {
	Trees *boost.Ensemble
	Alarm float64 // score from which it is said
}

// PureAlarms is the share of pure spectra that reach MixtureModel.Alarm, of
// those that the fit had left out: two compounds are often not told from one.
const PureAlarms = 0.02

func (m *MixtureModel) parts() []part { return []part{treesPart(&m.Trees), numbersPart(&m.Alarm)} }

// extraOfMixture is how many features a mixture is told by beside the evidence.
const extraOfMixture = 13

// mixtureRow returns the features: the evidence, and what disagrees with the
// first candidate for the molecular ion.
func mixtureRow(v *View, ions []Ion, evidence []float32) []float32 {
	row := append(make([]float32, 0, len(evidence)+extraOfMixture), evidence...)
	var f [extraOfMixture]float32
	mol := ions[0].MZ
	if len(ions) > 1 {
		f[0], f[1], f[2] = float32(ions[1].Probability), float32(ions[1].MZ-mol), v.at(ions[1].MZ)
	}
	for mz := mol + 4; mz <= v.Top; mz++ {
		r := v.at(mz)
		f[3] += r
		f[4] = max(f[4], r)
	}
	for d := 4; d <= 25; d++ {
		switch {
		case d <= 14:
			gapPeak(v, mol-d, &f[5], &f[6])
		case d >= 21:
			gapPeak(v, mol-d, &f[7], &f[8])
		}
	}
	f[9], _ = halogenFit(v, mol)
	parityFeatures(v, v.lines(), mol, f[10:13])
	return append(row, f[:]...)
}

// MixtureRow exposes the features to the fit. There must be a candidate.
func MixtureRow(v *View, ions []Ion) []float32 { return mixtureRow(v, ions, Evidence(v, ions)) }
