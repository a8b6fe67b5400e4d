package infer

import (
	"fmt"
	"math"
)

// Evidence about a compound as a whole is a row of features: intensities at
// each m/z, intensities at each distance below the molecular ion (averaged
// over its candidates), repeated differences between peaks, and a few sums.
const (
	lowestMZ   = 14
	highestMZ  = 260
	mostLoss   = 130
	mostStep   = 62 // largest difference between peaks that is counted
	seriesStep = 14
	// lowestSeries is where a row of ions is said to begin.
	lowestSeries = 27
)

// featureKind tells what a feature of the row is.
type featureKind uint8

const (
	atMZ featureKind = iota
	atLoss
	atStep
	atSeries
	atSum
	atLossToMolecule // intensity at a loss over that of the molecular ion
	atLossToNeighbors
	atMZToNeighbors
	atLossShare // of the ion current in the upper half of the mass range
)

// feature names one feature of the row.
type feature struct {
	kind featureKind
	at   int    // m/z, loss, difference or place in the series
	name string // for atSum
}

// String is the feature in words.
func (f feature) String() string {
	switch f.kind {
	case atMZ:
		return fmt.Sprintf("m/z %d", f.at)
	case atLoss:
		return fmt.Sprintf("loss of %d", f.at)
	case atStep:
		return fmt.Sprintf("the pairs of peaks %d apart", f.at)
	case atSeries:
		first := f.at - 1
		for first < lowestSeries {
			first += seriesStep
		}
		return fmt.Sprintf("the row of ions %d, %d, %d", first, first+seriesStep, first+2*seriesStep)
	case atLossToMolecule, atLossToNeighbors, atLossShare:
		return fmt.Sprintf("loss of %d", f.at)
	case atMZToNeighbors:
		return fmt.Sprintf("m/z %d", f.at)
	}
	return f.name
}

var sumNames = [...]string{
	"the mass of the molecular ion", "the parity of its mass", "the intensity of the molecular ion", "how certain the molecular ion is",
	"M+1 over M", "M+2 over M", "M+4 over M", "where the base peak stands", "how far the base peak is from the molecular ion",
	"the share of ion current above half the mass", "the share of ion current on odd m/z", "the share on odd m/z above 60",
	"the number of peaks of 1 %", "the number of peaks of 5 %", "the aromatic ions 50-52, 63-65 and 74-78", "the alkyl ions 29, 43, 57 and so on",
	"the alkenyl ions 27, 41, 55 and so on", "pairs two apart as 3:1", "pairs two apart as 1:1", "where the record starts",
	"the strongest peak above m/z 100", "the second strongest peak", "the third strongest peak", "the mean m/z",
	"how evenly the ion current is spread", "the carbons by M+1", "the largest gap below the molecular ion", "a peak at half the mass",
}

// features is the row's layout.
var features = layFeatures()

func layFeatures() []feature {
	var out []feature
	for mz := lowestMZ; mz <= highestMZ; mz++ {
		out = append(out, feature{kind: atMZ, at: mz})
	}
	for d := 1; d <= mostLoss; d++ {
		out = append(out, feature{kind: atLoss, at: d})
	}
	for d := 1; d <= mostStep; d++ {
		out = append(out, feature{kind: atStep, at: d})
	}
	for k := range seriesStep {
		out = append(out, feature{kind: atSeries, at: k})
	}
	for _, name := range sumNames {
		out = append(out, feature{kind: atSum, name: name})
	}
	for d := 1; d <= mostRatio; d++ {
		out = append(out, feature{kind: atLossToMolecule, at: d})
	}
	for d := 1; d <= mostRatio; d++ {
		out = append(out, feature{kind: atLossToNeighbors, at: d})
	}
	for mz := lowestRatio; mz <= highestRatio; mz++ {
		out = append(out, feature{kind: atMZToNeighbors, at: mz})
	}
	for d := 1; d <= mostShare; d++ {
		out = append(out, feature{kind: atLossShare, at: d})
	}
	return out
}

// The ratios: which losses and m/z are compared with what stands beside them.
const (
	mostRatio    = 62
	lowestRatio  = 27
	highestRatio = 135
	mostShare    = 90
)

const (
	lossStart   = highestMZ - lowestMZ + 1
	stepStart   = lossStart + mostLoss
	seriesStart = stepStart + mostStep
	sumStart    = seriesStart + seriesStep
	ratioStart  = sumStart + len(sumNames)
	ratioCount  = 2*mostRatio + highestRatio - lowestRatio + 1 + mostShare
)

// ionsInPlay is how many candidates for the molecular ion the losses are
// averaged over.
const ionsInPlay = 4

// Evidence returns the row of features of a view, given the candidates for the
// molecular ion, best first.
func Evidence(v *View, ions []Ion) []float32 {
	row := make([]float32, len(features))
	for mz := lowestMZ; mz <= highestMZ; mz++ {
		row[mz-lowestMZ] = v.at(mz)
		if mz < v.Low {
			row[mz-lowestMZ] = -1 // not recorded
		}
	}
	sum := 0.0
	for _, ion := range ions[:min(len(ions), ionsInPlay)] {
		sum += ion.Probability
	}
	for _, ion := range ions[:min(len(ions), ionsInPlay)] {
		w := float32(ion.Probability / sum)
		for d := 1; d <= mostLoss; d++ {
			row[lossStart+d-1] += w * v.at(ion.MZ-d)
		}
	}
	stepFeatures(v, row)
	for mz := max(v.Low, 1); mz <= v.Top; mz++ {
		if mz <= 125 {
			row[seriesStart+(mz+1)%seriesStep] += v.at(mz) / float32(v.Total)
		}
	}
	sumFeatures(v, ions, row[sumStart:])
	ratioFeatures(v, ions, row[ratioStart:])
	return row
}

// ratioFeatures compares intensities with those beside them, for the first
// candidate for the molecular ion: a weak peak alone says more than the same
// peak among strong ones.
func ratioFeatures(v *View, ions []Ion, f []float32) {
	mol := 0
	if len(ions) > 0 {
		mol = ions[0].MZ
	}
	whole := v.at(mol) + 1
	upper := float32(1)
	for mz := max(mol/2+1, v.Low+1); mz < mol; mz++ {
		upper += v.at(mz)
	}
	k := 0
	for d := 1; d <= mostRatio; d++ {
		f[k] = v.at(mol-d) / whole
		f[k+mostRatio] = v.at(mol-d) / max(0.5, v.at(mol-d-1), v.at(mol-d+1))
		k++
	}
	k += mostRatio
	for mz := lowestRatio; mz <= highestRatio; mz++ {
		f[k] = v.at(mz) / max(0.5, v.at(mz-2), v.at(mz-1), v.at(mz+1), v.at(mz+2))
		k++
	}
	for d := 1; d <= mostShare; d++ {
		f[k] = v.at(mol-d) / upper
		k++
	}
}

// stepFeatures adds up for each difference the weaker of the two intensities
// of all pairs of peaks with that difference.
func stepFeatures(v *View, row []float32) {
	var mz []int
	for m := max(v.Low, 24); m <= v.Top; m++ {
		if v.at(m) >= 2 {
			mz = append(mz, m)
		}
	}
	for i, a := range mz {
		for j := i - 1; j >= 0 && a-mz[j] <= mostStep; j-- {
			row[stepStart+a-mz[j]-1] += min(v.at(a), v.at(mz[j]))
		}
	}
}

func sumFeatures(v *View, ions []Ion, f []float32) {
	mol := 0
	if len(ions) > 0 {
		mol = ions[0].MZ
		f[3] = float32(ions[0].Probability)
	}
	f[0], f[1], f[2] = float32(mol), float32(mol&1), v.at(mol)
	f[4], f[5], f[6], f[25] = -1, -1, -1, -1
	if r := v.at(mol); r >= 2 {
		f[4], f[5], f[6] = min(v.at(mol+1)/r, 9), min(v.at(mol+2)/r, 9), min(v.at(mol+4)/r, 9)
		f[25] = v.at(mol+1) / r / float32(mol) * 1000
	}
	f[7], f[8] = float32(v.Base), float32(mol-v.Base)
	var upper, odd, oddAbove, above, meanMZ, entropy float64
	var strongest [3]int
	for mz := v.Low; mz <= v.Top; mz++ {
		r := v.At(mz)
		if r <= 0 {
			continue
		}
		if 2*mz > mol {
			upper += r
		}
		if mz > 60 {
			above += r
		}
		if mz&1 == 1 {
			odd += r
			if mz > 60 {
				oddAbove += r
			}
		}
		meanMZ += r * float64(mz)
		p := r / v.Total
		entropy -= p * math.Log(p)
		if r >= 1 {
			f[12]++
		}
		if r >= 5 {
			f[13]++
		}
		if mz > 100 && (f[20] == 0 || r > v.At(int(f[20]))) {
			f[20] = float32(mz)
		}
		for k := range strongest {
			if r > v.At(strongest[k]) {
				copy(strongest[k+1:], strongest[k:len(strongest)-1])
				strongest[k] = mz
				break
			}
		}
		if r >= 2 {
			pairFeatures(v, mz, f)
		}
	}
	if v.Total > 0 {
		f[9], f[10] = float32(upper/v.Total), float32(odd/v.Total)
		f[23], f[24] = float32(meanMZ/v.Total), float32(entropy)
	}
	if above > 0 {
		f[11] = float32(oddAbove / above)
	}
	for _, mz := range [...]int{50, 51, 52, 63, 64, 65, 74, 75, 76, 77, 78} {
		f[14] += v.at(mz)
	}
	for mz := 29; mz <= 113; mz += 14 {
		f[15] += v.at(mz)
		f[16] += v.at(mz - 2)
	}
	f[19] = float32(v.Low)
	f[21], f[22] = float32(strongest[1]), float32(strongest[2])
	gap := 0
	for mz := mol - 3; mz > v.Low && mz > 0; mz-- {
		if v.at(mz) >= 1 {
			break
		}
		gap++
	}
	f[26] = float32(gap)
	for mz := mol/2 - 2; mz <= mol/2+1; mz++ {
		f[27] = max(f[27], v.at(mz))
	}
}

// pairFeatures notes pairs two apart in the ratio of one chlorine or bromine.
func pairFeatures(v *View, mz int, f []float32) {
	r, next, two := v.at(mz), v.at(mz+1), v.at(mz+2)
	if next > 0.4*r {
		return
	}
	if q := two / r; q > 0.27 && q < 0.38 {
		f[17] = max(f[17], r)
	} else if q > 0.85 && q < 1.12 {
		f[18] = max(f[18], r)
	}
}
