package sector

import (
	"math"
)

// Layout is where the parts of an instrument are, in m: the source slit is at
// (0, 0), ions start along +x, and the magnet bends to the left, towards +y.
type Layout struct {
	Source      Point  `json:"source"`
	Electric    *Bend  `json:"electric,omitempty"` // nil without
	Magnet      Bend   `json:"magnet"`
	Collector   Point  `json:"collector"`
	ToCollector Radian `json:"toCollector"` // direction of the central path at the collector, against +x
	// The faces of the magnet as lines through its ends: their directions, from
	// the inner to the outer side, against +x.
	EntryFace Radian `json:"entryFace"`
	ExitFace  Radian `json:"exitFace"`
}

// Bend is an arc of the central path.
type Bend struct {
	Center    Point  `json:"center"`
	Start     Point  `json:"start"`
	End       Point  `json:"end"`
	Radius    Metre  `json:"radius"`
	Direction Radian `json:"direction"` // of the path at its start, against +x
	Angle     Radian `json:"angle"`     // that it turns by; negative is to the right
	Half      Metre  `json:"half"`      // from the central path to a wall or plate; 0 is as wide as needed
}

// frame places a plane across the central path.
type frame struct {
	at    vec
	along vec
}

func (f frame) point(x float64) vec { return f.at.minus(f.along.left().times(x)) } // outward of a left bend is right

func (f frame) drift(l float64) frame { return frame{f.at.plus(f.along.times(l)), f.along} }

// bend goes along an arc of the given radius that turns by angle.
func (f frame) bend(r, angle float64) (frame, vec) {
	side := 1.0
	if angle < 0 {
		side = -1
	}
	center := f.at.plus(f.along.left().times(side * r))
	return frame{center.plus(f.at.minus(center).turned(angle)), f.along.turned(angle)}, center
}

func public(v vec) Point { return Point{v.x, v.y} }

func direction(v vec) Radian { return Radian(math.Atan2(v.y, v.x)) }

// turn is the angle that the electric sector turns the path by.
func (e *ElectricSector) turn() float64 {
	if e.Opposite {
		return -float64(e.Angle)
	}
	return float64(e.Angle)
}

// Layout returns where the parts of the instrument are.
func (i Instrument) Layout() (Layout, error) {
	if err := i.Check(); err != nil {
		return Layout{}, err
	}
	o, err := i.optics()
	if err != nil {
		return Layout{}, err
	}
	return i.layout(o), nil
}

func (i Instrument) layout(o optics) Layout {
	var l Layout
	f := frame{along: vec{1, 0}}.drift(float64(i.Before))
	if e := i.Electric; e != nil {
		after, center := f.bend(float64(e.Radius), e.turn())
		l.Electric = &Bend{public(center), public(f.at), public(after.at), e.Radius, direction(f.along), Radian(e.turn()), e.Gap / 2}
		f = after.drift(float64(e.Between))
	}
	after, center := f.bend(float64(i.Radius), i.bend())
	l.Magnet = Bend{public(center), public(f.at), public(after.at), i.Radius, direction(f.along), Radian(i.bend()), i.Chamber / 2}
	// Outward is to the right of the path; a positive tilt moves the outer end
	// of the entry face downstream, of the exit face upstream.
	l.EntryFace = direction(f.along.left().times(-1).turned(float64(i.EntryFace)))
	l.ExitFace = direction(after.along.left().times(-1).turned(-float64(i.ExitFace)))
	f = after.drift(o.after)
	l.Collector, l.ToCollector = public(f.at), direction(f.along)
	return l
}
