package infer

import (
	"fmt"
	"math"
	"slices"
)

// The candidates for the molecular ion are whole m/z: peaks near the upper
// end, and places above the last peak where an ion too weak to see may lie.
const (
	reachDown = 36  // m/z below the last peak
	reachUp   = 122 // m/z above it
	lossReach = 130 // largest neutral loss that is looked at, Da
)

// intensity classes of the loss table, in % of base.
var lossClasses = [...]float32{0, 0.6, 2, 6, 20, 60}

// lossClass returns the class of an intensity: 0 for none.
func lossClass(r float32) int {
	c := 0
	for c < len(lossClasses) && r > lossClasses[c] {
		c++
	}
	return c
}

// LossTable holds the log-likelihood ratios of finding an intensity of a class
// at a distance below (positive) or above (negative) the molecular ion, against
// finding it there below any other candidate: natural logarithms.
type LossTable struct {
	Ratio [lossReach + 4][len(lossClasses) + 1]float32 // distance + 3
}

// emptySums returns the sums of the ratios of finding nothing: place k holds
// the sum over the distances -3 to k-4.
func (t *LossTable) emptySums() []float32 {
	out := make([]float32, lossReach+5)
	for k := range t.Ratio {
		out[k+1] = out[k] + t.Ratio[k][0]
	}
	return out
}

// Candidates returns the m/z at which the molecular ion is looked for.
func Candidates(v *View) []int {
	if v.Count == 0 {
		return nil
	}
	last := v.LastPeak(1)
	if last == 0 {
		last = v.Top
	}
	var out []int
	for mz := max(last-reachDown, 12); mz <= min(max(v.Top, last), last+40); mz++ {
		if v.At(mz) >= 0.2 && mz <= last+8 || mz > last-3 || mz > last+8 && v.At(mz) >= 0.5 {
			out = append(out, mz)
		}
	}
	next := last + 1
	if n := len(out); n > 0 {
		next = out[n-1] + 1
	}
	for mz := next; mz <= last+reachUp; mz++ {
		out = append(out, mz)
	}
	return out
}

// ionFeatureNames are the names of the features of a molecular-ion candidate,
// in order. Names speak of X, the candidate's m/z.
var ionFeatureNames = makeIonFeatureNames()

// contextMZ are peaks whose presence changes what losses are likely.
var contextMZ = [...]int{30, 31, 41, 43, 44, 45, 55, 57, 58, 59, 60, 69, 71, 73, 74, 75, 77, 87, 91, 105, 117, 129, 147, 149}

var directLosses = func() []int {
	var d []int
	for k := -3; k <= 100; k++ {
		if k != 0 {
			d = append(d, k)
		}
	}
	return append(d, 101, 102, 103, 104, 105, 107, 115, 116, 117, 119, 121, 122, 129)
}()

func makeIonFeatureNames() []string {
	names := []string{
		"peak at X", "(X+1)/X", "(X+1)/X per carbon", "(X+2)/X", "X/(X-1)", "X/(X-2)",
		"ion current above X+3", "strongest above X+3", "ion current above X", "last peak minus X", "parity of X", "X", "X over last peak",
		"peaks in the gap 4-14", "strongest in the gap 4-14", "peaks in the gap 21-25", "strongest in the gap 21-25",
		"distance to next peak below", "its intensity", "distance to second peak below", "its intensity (second)",
		"share of odd m/z in the upper half", "share of odd m/z", "rank from the right",
		"complementary pairs", "X mod 14", "likelihood of the losses", "likelihood of the losses relative to best",
		"likelihood of small losses", "base peak minus X", "peaks of 5 % or more above X", "lowest m/z", "number of peaks",
		"strongest within 20 below", "strongest within 60 below", "small loss count", "top minus X", "X divided by strongest near",
		"parity agrees with the upper fragments", "parity agrees with the lower fragments", "parity agrees with the strongest fragments",
		"isotope pattern at X", "its halogens", "isotope pattern at X-1", "isotope pattern at X-2", "isotope pattern at X+1", "carbons by M+1 of X+1",
	}
	for _, d := range directLosses {
		switch {
		case d < 0:
			names = append(names, fmt.Sprintf("X+%d", -d))
		default:
			names = append(names, fmt.Sprintf("X-%d", d))
		}
	}
	for _, mz := range contextMZ {
		names = append(names, fmt.Sprintf("m/z %d", mz))
	}
	return names
}

// ionFeatures writes the features of every candidate, a row each.
func ionFeatures(v *View, candidates []int, table *LossTable, rows []float32) []float32 {
	width := len(ionFeatureNames)
	last := v.LastPeak(1)
	if last == 0 {
		last = v.Top
	}
	var oddUpper, allUpper, odd, all float64
	for mz := v.Low; mz <= v.Top; mz++ {
		r := math.Sqrt(v.At(mz))
		all += r
		if mz > last/2 {
			allUpper += r
		}
		if mz&1 == 1 {
			odd += r
			if mz > last/2 {
				oddUpper += r
			}
		}
	}
	above := make([]float32, last+reachUp+8)
	strongestAbove := make([]float32, len(above))
	countAbove := make([]float32, len(above))
	var sum, top, count float32
	for mz := max(v.Top, len(above)-1); mz >= 0; mz-- {
		if mz < len(above) {
			above[mz], strongestAbove[mz], countAbove[mz] = sum, top, count
		}
		r := v.at(mz)
		sum += r
		top = max(top, r)
		if r >= 5 {
			count++
		}
	}
	start := len(rows)
	best := float32(math.Inf(-1))
	peaks := v.lines()
	empty := table.emptySums()
	rows = slices.Grow(rows, width*len(candidates))
	for _, x := range candidates {
		at := len(rows)
		rows = rows[:at+width]
		clear(rows[at:])
		f := rows[at : at+width]
		r, r1, r2 := v.at(x), v.at(x+1), v.at(x+2)
		f[0] = r
		f[1], f[2], f[3] = -1, -1, -1
		if r > 0 {
			f[1] = min(r1/r, 9)
			f[2] = min(r1/r/float32(x)*14*100, 99)
			f[3] = min(r2/r, 9)
		}
		f[4], f[5] = ratio(r, v.at(x-1)), ratio(r, v.at(x-2))
		f[6], f[7], f[8] = above[x+3], strongestAbove[x+3], above[x]
		f[9] = float32(last - x)
		f[10] = float32(x & 1)
		f[11] = float32(x)
		f[12] = float32(x) / float32(last)
		for d := 4; d <= 14; d++ {
			gapPeak(v, x-d, &f[13], &f[14])
		}
		for d := 21; d <= 25; d++ {
			gapPeak(v, x-d, &f[15], &f[16])
		}
		found := 0
		for d := 1; d <= lossReach && found < 2; d++ {
			if q := v.at(x - d); q >= 1 {
				f[17+2*found], f[18+2*found] = float32(d), q
				found++
			}
		}
		for ; found < 2; found++ {
			f[17+2*found] = lossReach + 1
		}
		if allUpper > 0 {
			f[21] = float32(oddUpper / allUpper)
		}
		if all > 0 {
			f[22] = float32(odd / all)
		}
		for _, p := range peaks {
			if p.r >= 1 && p.mz > x {
				f[23]++
			}
			if p.r >= 2 && p.mz >= 26 && 2*p.mz <= x {
				if q := v.at(x - p.mz); q >= 2 {
					f[24] += min(p.r, q)
				}
			}
		}
		f[25] = float32(x % 14)
		// The sum over all distances without peaks, then what each peak changes.
		llr, small := table.Ratio[3][lossClass(r)], float32(0)
		if reach := min(x-v.Low, lossReach); reach >= -3 {
			llr += empty[reach+4]
			if reach >= 0 {
				llr -= table.Ratio[3][0]
			}
			if reach > 0 {
				small = empty[min(reach, 50)+4] - empty[4]
			}
		}
		for _, p := range peaks {
			d := x - p.mz
			if d < -3 || d > lossReach || d == 0 {
				continue
			}
			w := table.Ratio[d+3][p.class] - table.Ratio[d+3][0]
			llr += w
			if d <= 0 {
				continue
			}
			if d <= 50 {
				small += w
			}
			if d <= 60 {
				if p.r >= 1 {
					f[35]++
				}
				f[34] = max(f[34], p.r)
				if d <= 20 {
					f[33] = max(f[33], p.r)
				}
			}
		}
		f[26], f[28] = llr, small
		best = max(best, llr)
		f[29] = float32(v.Base - x)
		f[30] = countAbove[x]
		f[31], f[32] = float32(v.Low), float32(v.Count)
		f[36] = float32(v.Top - x)
		f[37] = ratio(r, f[34])
		parityFeatures(v, peaks, x, f[38:41])
		f[41], f[42] = halogenFit(v, x)
		f[43], _ = halogenFit(v, x-1)
		f[44], _ = halogenFit(v, x-2)
		f[45], _ = halogenFit(v, x+1)
		f[46] = ratio(v.at(x+2), r1) / float32(x) * 1000
		k := 47
		for _, d := range directLosses {
			f[k] = v.at(x - d)
			k++
		}
		for _, mz := range contextMZ {
			f[k] = v.at(mz)
			k++
		}
	}
	for at := start; at < len(rows); at += width {
		rows[at+27] = rows[at+26] - best
	}
	return rows
}

// parityFeatures notes which share of the fragments has the m/z parity that
// simple cleavages of a molecular ion x without nitrogen in the fragment give:
// the other parity than x.
func parityFeatures(v *View, peaks []line, x int, f []float32) {
	var agree, all [2]float32
	var strongest [3]line
	for _, p := range peaks {
		if p.mz < 26 || p.mz > x-12 || p.satellite {
			continue
		}
		half := 0
		if 2*p.mz < x {
			half = 1
		}
		all[half] += p.root
		if (x-p.mz)&1 == 1 {
			agree[half] += p.root
		}
		for k := range strongest {
			if p.r > strongest[k].r {
				copy(strongest[k+1:], strongest[k:len(strongest)-1])
				strongest[k] = p
				break
			}
		}
	}
	for half := range all {
		f[half] = -1
		if all[half] > 0 {
			f[half] = agree[half] / all[half]
		}
	}
	for _, p := range strongest {
		if p.mz > 0 && (x-p.mz)&1 == 1 {
			f[2]++
		}
	}
}

// halogenPatterns are the ratios one to six above an ion for small numbers of
// chlorine and bromine, without carbon; the sum of both counts comes first.
var halogenPatterns = [...]struct {
	count     float32
	two, four float64
	six       float64
}{
	{0, 0, 0, 0}, {1, 0.320, 0, 0}, {2, 0.640, 0.102, 0}, {3, 0.960, 0.307, 0.033}, {4, 1.280, 0.614, 0.131},
	{1, 0.973, 0, 0}, {2, 1.946, 0.946, 0}, {2, 1.293, 0.311, 0}, {3, 1.613, 0.725, 0.100},
}

// halogenFit is how well the peaks above x fit the best pattern of halogens
// (0 is perfect, less is worse) and how many halogens that has; -99 without a
// peak at x.
func halogenFit(v *View, x int) (fit, halogens float32) {
	r := v.At(x)
	if r < 0.8 {
		return -99, 0
	}
	fit = -99
	carbon := float64(x) / 14 * 0.0108
	for _, p := range halogenPatterns {
		score := 0.0
		for _, q := range [...]struct{ seen, expected float64 }{
			{v.At(x+1) / r, carbon * 0.8}, {v.At(x+2) / r, p.two + carbon*carbon/2}, {v.At(x+3) / r, p.two * carbon}, {v.At(x+4) / r, p.four}, {v.At(x+6) / r, p.six},
		} {
			if q.seen == 0 && q.expected*r < 1.5 {
				continue
			}
			z := (q.seen - q.expected) / (0.02 + 0.15*q.expected + 0.5/r)
			score -= math.Log(1 + z*z/4)
		}
		if score > float64(fit) {
			fit, halogens = float32(score), p.count
		}
	}
	return fit, halogens
}

func gapPeak(v *View, mz int, count, strongest *float32) {
	if q := v.at(mz); q >= 1 {
		*count++
		*strongest = max(*strongest, q)
	}
}

func ratio(a, b float32) float32 {
	if b <= 0 {
		if a <= 0 {
			return -1
		}
		return 99
	}
	return min(a/b, 99)
}

// FitIonTable counts the loss table on views with known molecular ions.
func FitIonTable(views []*View, masses []int, weights []float64) *LossTable {
	var here, there [lossReach + 4][len(lossClasses) + 1]float64
	var hereAll, thereAll [lossReach + 4]float64
	for i, v := range views {
		candidates := Candidates(v)
		for _, x := range candidates {
			if x != masses[i] && (x-masses[i] > 60 || masses[i]-x > 60) {
				continue
			}
			for d := -3; d <= lossReach; d++ {
				if x-d < v.Low {
					continue
				}
				c := lossClass(v.at(x - d))
				if x == masses[i] {
					here[d+3][c] += weights[i]
					hereAll[d+3] += weights[i]
				} else {
					there[d+3][c] += weights[i] / float64(len(candidates))
					thereAll[d+3] += weights[i] / float64(len(candidates))
				}
			}
		}
	}
	t := &LossTable{}
	const prior = 20 // pseudo-counts, spread as the other candidates' shares
	for d := range here {
		for c := range here[d] {
			q := (there[d][c] + 0.01) / (thereAll[d] + 0.07)
			p := (here[d][c] + prior*q) / (hereAll[d] + prior)
			t.Ratio[d][c] = float32(math.Log(p / q))
		}
	}
	return t
}

// IonRows exposes the candidates' features to the fit.
func IonRows(v *View, candidates []int, table *LossTable) (rows [][]float32) {
	width := len(ionFeatureNames)
	flat := ionFeatures(v, candidates, table, nil)
	for at := 0; at < len(flat); at += width {
		rows = append(rows, flat[at:at+width])
	}
	return rows
}
