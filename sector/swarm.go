package sector

import (
	"fmt"
	"math"
	"math/rand/v2"

	"ionwright/spectrum"
)

// Swarm is a sweep flown ion by ion: ions that start at random places of the
// source slit, with random slopes and energies, go through the transfer
// matrices with the second-order term.
type Swarm struct {
	Trace spectrum.Trace // number of ions that reach the collector against the field in T
	Flown int            // ions in all
	// Ions that no field brings to the collector.
	OnWalls   int // they hit the chamber in the magnet, or a plate of the electric sector
	Scattered int // they hit molecules of the residual gas
}

// FlySwarm flies n ions, shared among the kinds by their intensities, through
// all fields of a sweep. The same seed gives the same ions. Each ion stands for
// a steady beam: it is flown anew at each field and counted at all those that
// bring it through the collector slit. It fails like Sweep, whose steps it
// takes; decays aren't flown.
func FlySwarm(i Instrument, ions []Ion, set SweepSettings, n int, seed uint64) (*Swarm, error) {
	if n < 1 || n > 100_000_000 {
		return nil, &SettingError{"number of ions", float64(n), "", "expected 1 to 100000000"}
	}
	set.Decays = nil
	rec, err := newRecording(i, ions, set)
	if err != nil {
		return nil, err
	}
	fields := rec.Trace.X
	f, err := newFlyer(i, rec.ready, rand.New(rand.NewPCG(seed, 0)))
	if err != nil {
		return nil, err
	}
	place := placer(fields, set.Exponential)
	var total float64
	for _, ion := range ions {
		total += ion.Intensity
	}
	if total == 0 {
		return nil, &SettingError{"intensity", 0, "", "no ion has any; there is nothing to fly"}
	}
	out := &Swarm{}
	changes := make([]int32, len(fields)+1) // of the number of ions from field to field
	reached, before := 0, 0.0
	for _, ion := range ions {
		// By rounding the running sum, the shares add up to n.
		from := int(math.Round(before / total * float64(n)))
		before += ion.Intensity
		to := int(math.Round(before / total * float64(n)))
		center, err := Field(ion.MZ, i.Voltage, i.Radius)
		if err != nil {
			return nil, err
		}
		for range to - from {
			out.Flown++
			low, high, fate := f.fly(float64(center))
			switch fate {
			case onWall:
				out.OnWalls++
				continue
			case scattered:
				out.Scattered++
				continue
			}
			first, last := place(low), place(high)
			if first < last {
				changes[first]++
				changes[last]--
				reached++
			}
		}
	}
	if reached == 0 {
		return nil, &SettingError{"number of steps", float64(len(fields)), "", fmt.Sprintf("none of the %d ions reaches the collector at any field of the sweep from %.6g T to %.6g T; take more steps, or other ends", n, fields[0], fields[len(fields)-1])}
	}
	out.Trace = spectrum.Trace{X: fields, Y: make([]float64, len(fields)), XUnit: "T"}
	var now int32
	for at := range fields {
		now += changes[at]
		out.Trace.Y[at] = float64(now)
	}
	return out, nil
}

// placer returns a function that tells how many of the fields lie below b.
func placer(fields []float64, exponential bool) func(b float64) int {
	first, last, n := fields[0], fields[len(fields)-1], len(fields)
	scale := float64(n-1) / (last - first)
	logScale := float64(n-1) / math.Log(last/first)
	return func(b float64) int {
		var at float64
		if exponential {
			at = math.Log(b/first) * logScale
		} else {
			at = (b - first) * scale
		}
		k := int(min(max(math.Ceil(at), 0), float64(n)))
		// Rounding may be off by one.
		for k < n && fields[k] < b {
			k++
		}
		for k > 0 && fields[k-1] >= b {
			k--
		}
		return k
	}
}

// fate is what becomes of an ion.
type fate uint8

const (
	through fate = iota
	onWall
	scattered
)

// flyer flies single ions with what is the same for all of them.
type flyer struct {
	random                    *rand.Rand
	optics                    optics
	slit, collector           float64
	divergence, aberration    float64
	spread, thermal, survival float64
	gates                     []gate
}

func newFlyer(i Instrument, s ready, random *rand.Rand) (*flyer, error) {
	f := &flyer{
		random: random, optics: s.optics,
		slit: float64(i.SourceSlit), collector: float64(i.CollectorSlit), divergence: float64(i.Divergence),
		spread: float64(i.EnergySpread / i.Voltage), thermal: boltzmann * float64(i.Temperature) / float64(i.Voltage),
		gates: i.gates(), survival: s.survival,
	}
	if f.divergence > 0 {
		var err error
		if f.aberration, err = i.aberration(s.optics); err != nil {
			return nil, err
		}
	}
	return f, nil
}

// fly returns the fields between which a random ion with the given central
// field gets through the collector slit.
func (f *flyer) fly(center float64) (low, high float64, what fate) {
	r := f.random
	if f.survival < 1 && r.Float64() > f.survival {
		return 0, 0, scattered
	}
	x := f.slit * (r.Float64() - 0.5)
	var slope, excess float64
	if f.divergence > 0 {
		slope = f.divergence * (2*r.Float64() - 1)
	}
	if f.spread > 0 {
		excess = f.spread * (r.Float64() - 0.5)
	}
	if f.thermal > 0 {
		excess += f.thermal * r.ExpFloat64()
	}
	for _, g := range f.gates {
		if !g.passes(x, slope, excess) {
			return 0, 0, onWall
		}
	}
	o := &f.optics
	// Beside its image by the momentum: beside + dispersion (p/B - 1), with p
	// the field at which the ion's own momentum is that of the path.
	p := center
	beside := o.magnification*x + o.defocus*slope + f.aberration*slope*slope + (o.energy-o.dispersion/2)*excess
	if excess != 0 {
		p *= math.Sqrt(1 + excess)
	}
	low = p / (1 + (f.collector/2-beside)/o.dispersion)
	high = p / (1 + (-f.collector/2-beside)/o.dispersion)
	return low, high, through
}
