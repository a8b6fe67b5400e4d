package sector

import "math"

// gate is a place where an ion that is too far from the central path hits a
// wall or plate.
type gate struct {
	to   transfer // from the source slit
	half float64  // from the central path to the wall, m
}

// gates returns the places where a beam is widest: the middle of the electric
// sector, and entry, middle and exit of the magnet; without walls there are
// none.
func (i Instrument) gates() []gate {
	var out []gate
	front := drift(float64(i.Before))
	if e := i.Electric; e != nil {
		bend := func(part float64) transfer {
			return electricBend(float64(e.Radius), float64(e.Angle)*part, e.Opposite).after(front)
		}
		if half := float64(e.Gap) / 2; half > 0 {
			out = append(out, gate{front, half}, gate{bend(0.5), half}, gate{bend(1), half})
		}
		front = drift(float64(e.Between)).after(bend(1))
	}
	if half := float64(i.Chamber) / 2; half > 0 {
		front = face(float64(i.Radius), float64(i.EntryFace)).after(front)
		for _, part := range []float64{0, 0.5, 1} {
			out = append(out, gate{magnetBend(float64(i.Radius), i.bend()*part).after(front), half})
		}
	}
	return out
}

// passes reports whether an ion gets through. Where it reaches the collector,
// its momentum is about that of the central path.
func (g gate) passes(x, slope, excess float64) bool {
	return math.Abs(g.to.xx*x+g.to.xa*slope+(g.to.xe+g.to.xd/2)*excess) <= g.half
}
