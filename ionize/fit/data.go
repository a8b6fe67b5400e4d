// Package fit fits the corrections of ionize to measured spectra: the loss is
// one minus the mean of two cosines between computed and measured spectra
// (figures A and B), its gradient goes back through the kinetics
// analytically, and the steps are Adagrad's (Duchi, Hazan, Singer, J. Mach.
// Learn. Res. 12 (2011) 2121) with a pull towards the handbook values as a
// prior.
//
// For most uses call Fit and then Model.Write. The package reads no files: the
// caller passes the data in.
package fit

import (
	"math"

	"ionwright/ionize"
	"ionwright/isotope"
)

// Sample is one structure to fit: its network and its measured spectra.
type Sample struct {
	SMILES   string
	EnergyEV float64 // of the electrons; 0 for the usual 70 eV
	Network  *ionize.Network
	Spectra  []map[int]float64 // unit m/z -> intensity, any unit
}

// energy of the electrons, in eV.
func (s *Sample) energy() float64 {
	if s.EnergyEV == 0 {
		return ionize.UsualEnergy
	}
	return s.EnergyEV
}

// example is a sample laid out for fitting.
type example struct {
	graph
	sample     *Sample
	deposited  ionize.Distribution // before the warmth
	codes      []int32             // rows of the model this example uses, each once
	uses       []int32             // for each step in turn, indices into codes
	from       []int32             // first use of each step; one more at the end
	made       []int32             // for each piece in turn, indices into codes
	begin      []int32             // first of each piece; one more at the end
	source     []int32             // piece of each ion as the one that breaks
	product    []int32             // piece of each step's ion that comes out
	neutral    []int32             // piece of each step's neutral
	dense      [][ionize.NumStepDense]float32
	properties []ionize.Properties // of each piece
	denseOf    []int               // where they begin among the dense quantities
	mz         []int32             // of each ion
	pattern    []pattern           // of each ion
	top        int                 // highest m/z
	molecular  int                 // m/z of the molecular ion
	height     float64             // its measured height, relative to the base peak
	target     [2][]float64
}

// pattern is an ion's isotope pattern from its nominal m/z up.
type pattern struct {
	before int // m/z steps below the nominal one at which it starts
	share  []float64
}

// Lowest m/z that is compared (see the definition of the metrics).
const lowest = 29

func newExample(s *Sample, index map[uint32]int32) *example {
	n := s.Network
	e := &example{sample: s}
	e.deposited, e.cold = ionize.Arriving(s.energy(), n.Ionization)
	e.arrive = e.deposited
	for i := range n.Ions {
		ion := &n.Ions[i]
		e.first = append(e.first, int32(ion.First))
		e.last = append(e.last, int32(ion.Last))
		e.oscillators = append(e.oscillators, float32(ion.Oscillators))
		unit := isotope.Unit(ion.Formula)
		p := pattern{before: ion.MZ - unit.First}
		p.share = append(p.share, unit.Abundance...)
		for len(p.share) > 1 && p.share[len(p.share)-1] < 1e-3 {
			p.share = p.share[:len(p.share)-1]
		}
		e.mz = append(e.mz, int32(ion.MZ))
		e.pattern = append(e.pattern, p)
		e.top = max(e.top, ion.MZ+len(p.share))
	}
	e.molecular = n.Ions[0].MZ
	local := map[int32]int32{}
	use := func(uses []int32, codes []uint32) []int32 {
		for _, code := range codes {
			r, ok := index[code]
			if !ok {
				continue
			}
			l, ok := local[r]
			if !ok {
				l = int32(len(e.codes))
				local[r] = l
				e.codes = append(e.codes, r)
			}
			uses = append(uses, l)
		}
		return uses
	}
	for i := range n.Ions {
		e.source = append(e.source, int32(n.Ions[i].Source))
	}
	for i := range n.Pieces {
		p := &n.Pieces[i]
		e.properties, e.denseOf = append(e.properties, p.Properties), append(e.denseOf, p.Dense)
		e.begin = append(e.begin, int32(len(e.made)))
		e.made = use(e.made, p.Codes)
	}
	e.begin = append(e.begin, int32(len(e.made)))
	for k := range n.Steps {
		st := &n.Steps[k]
		e.steps = append(e.steps, chainStep{
			to: int32(st.To), share: float32(st.Share), base: float32(st.Critical),
			logA: float32(st.LogFrequency * math.Ln10),
		})
		e.dense = append(e.dense, st.Dense)
		e.from = append(e.from, int32(len(e.uses)))
		e.uses = use(e.uses, st.Codes)
		e.product = append(e.product, int32(n.Ions[st.To].Product))
		e.neutral = append(e.neutral, int32(st.Neutral))
	}
	e.from = append(e.from, int32(len(e.uses)))
	e.setTarget()
	return e
}

// setTarget sums the measured spectra's unit vectors, as the two cosines see
// them: square roots of intensities, and these times m/z.
func (e *example) setTarget() {
	for _, s := range e.sample.Spectra {
		for mz := range s {
			e.top = max(e.top, mz)
		}
	}
	for w := range e.target {
		e.target[w] = make([]float64, e.top+1)
	}
	for _, s := range e.sample.Spectra {
		v := View(s)
		e.height += v[e.molecular] / float64(len(e.sample.Spectra))
		for w := range e.target {
			norm := 0.0
			for mz, y := range v {
				x := math.Sqrt(y) * weight(w, mz)
				norm += x * x
			}
			if norm == 0 {
				continue
			}
			norm = math.Sqrt(norm)
			for mz, y := range v {
				e.target[w][mz] += math.Sqrt(y) * weight(w, mz) / norm / float64(len(e.sample.Spectra))
			}
		}
	}
}

func weight(w, mz int) float64 {
	if w == 0 {
		return 1
	}
	return float64(mz)
}

// View is a spectrum as the metrics see it: m/z of at least 29, relative to
// the base peak there, without peaks under 1 %.
func View(s map[int]float64) map[int]float64 {
	base := 0.0
	for mz, y := range s {
		if mz >= lowest {
			base = max(base, y)
		}
	}
	v := map[int]float64{}
	for mz, y := range s {
		if mz >= lowest && y >= base/100 && y > 0 {
			v[mz] = y / base
		}
	}
	return v
}
