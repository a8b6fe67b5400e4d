package ionize

import "math"

// The kinetics alone have molecular ions too often whole. A layer of its own
// corrects how many stay, by what the molecule is made of and by what the
// kinetics say: it stands for what differs from molecule to molecule in the
// energy that ionization leaves, and for what the two cosines that the
// kinetics are fitted by don't settle.

// StayingInputs is the number of quantities Staying is told, StayingUnits that
// of its hidden units.
const (
	StayingInputs = NumProperties + 2
	StayingUnits  = 64
)

// Staying is the layer. Inputs are the properties, the natural logarithm of the
// odds that the molecular ion stays whole by the kinetics, and that of the
// share that the most frequent nominal m/z among its fragments has of those
// that break.
type Staying struct {
	Center, Spread [StayingInputs]float32 // of the inputs, over the structures fitted to
	In             [StayingUnits][StayingInputs]float32
	Bias, Out      [StayingUnits]float32
	Straight       [StayingInputs]float32 // from the inputs past the units
	All            float32
}

// StayingQuantities are what the layer is told. Whole is the share, 0 to 1, of
// the molecular ions that stay by the kinetics, strongest that of the most
// frequent m/z among the fragments, of all molecular ions.
func StayingQuantities(t *Properties, whole, strongest float64) (x [StayingInputs]float32) {
	copy(x[:], t[:])
	x[NumProperties] = float32(lnOdds(whole))
	x[NumProperties+1] = float32(math.Log(max(strongest/(1-whole), 1e-4)))
	return x
}

// Inputs are the quantities in units of their spread off the center: at most
// four, so that what is unlike anything fitted to is corrected like the last
// that was.
func (w *Staying) Inputs(t *Properties, whole, strongest float64) [StayingInputs]float32 {
	x := StayingQuantities(t, whole, strongest)
	for i := range x {
		x[i] -= w.Center[i]
		if w.Spread[i] > 0 {
			x[i] /= w.Spread[i]
		}
		x[i] = min(max(x[i], -4), 4)
	}
	return x
}

// LnOdds is what to add to the natural logarithm of the odds that a molecular
// ion stays whole. Where hidden isn't nil it is filled with the input of each
// unit.
func (w *Staying) LnOdds(x *[StayingInputs]float32, hidden *[StayingUnits]float32) float64 {
	sum := w.All
	for i, v := range x {
		sum += w.Straight[i] * v
	}
	for h := range w.In {
		at := w.Bias[h]
		for i, v := range x {
			at += w.In[h][i] * v
		}
		if hidden != nil {
			hidden[h] = at
		}
		sum += w.Out[h] * max(at, 0)
	}
	return float64(sum)
}

// lnOdds is ln(p/(1-p)), with p kept away from 0 and 1.
func lnOdds(p float64) float64 {
	const edge = 1e-5
	p = min(max(p, edge), 1-edge)
	return math.Log(p / (1 - p))
}

// Remain is the share that stays when the natural logarithm of its odds is
// raised by lnOdds.
func Remain(whole, lnOdds float64) float64 {
	up := math.Exp(lnOdds)
	return whole * up / (1 - whole + whole*up)
}

// settle corrects how many molecular ions stay whole, all else in proportion.
// Arrived is the share of the molecular ions whose decay was followed.
func (s *search) settle(arrived float64) {
	root := &s.nodes[0]
	whole := root.stayed / arrived
	if !(whole > 0 && whole < 1) { // none, all, or none followed
		return
	}
	s.current = append(s.current[:0], make([]float64, root.mass+1)...)
	for i := range s.nodes {
		s.current[s.nodes[i].mass] += s.nodes[i].stayed
	}
	t := s.m.properties(&root.piece)
	x := s.fitted.Staying.Inputs(&t, whole, Strongest(s.current, root.mass)/arrived)
	corrected := Remain(whole, s.fitted.Staying.LnOdds(&x, nil))
	root.stayed = corrected * arrived
	broken := (1 - corrected) / (1 - whole)
	for i := range s.nodes[1:] {
		s.nodes[i+1].arrived *= broken
		s.nodes[i+1].stayed *= broken
	}
	for i := range s.flows {
		s.flows[i].ions *= broken
	}
}

// Strongest is the largest of the currents of the fragments, by nominal m/z.
func Strongest(current []float64, molecularIon int) float64 {
	most := 0.0
	for mz := lowestFitted; mz < min(molecularIon, len(current)); mz++ {
		most = max(most, current[mz])
	}
	return most
}
