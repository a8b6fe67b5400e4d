package sector

import (
	"math"
	"slices"
)

// Ray is the path of one ion through the instrument, for drawing.
type Ray struct {
	Points []Point // in the frame of Layout, from the source slit to where the path ends
	End    End
	Beside Metre // at the collector plane, outward of the central path; only where the ion gets there
}

// End tells where a path ends.
type End uint8

// The ends of a path.
const (
	Collected   End = iota // it gets through the collector slit
	SlitPlate              // it hits the plate beside the collector slit
	ChamberWall            // it hits the chamber in the magnet
	Plates                 // it hits a plate of the electric sector
	Turned                 // it circles in the field, or leaves it where it came in
)

// String returns where the path ends in words.
func (e End) String() string {
	switch e {
	case Collected:
		return "through the collector slit"
	case SlitPlate:
		return "on the plate beside the collector slit"
	case ChamberWall:
		return "on the chamber wall"
	case Plates:
		return "on a plate of the electric sector"
	case Turned:
		return "turned back in the field"
	}
	return "unknown"
}

// Layout is where the parts of an instrument are, in m: the source slit is at
// (0, 0), ions start along +x, and the magnet bends to the left, towards +y.
type Layout struct {
	Source      Point
	Electric    *Bend // nil without
	Magnet      Bend
	Collector   Point
	ToCollector Radian // direction of the central path at the collector, against +x
	// The faces of the magnet as lines through its ends: their directions, from
	// the inner to the outer side, against +x.
	EntryFace, ExitFace Radian
}

// Bend is an arc of the central path.
type Bend struct {
	Center, Start, End Point
	Radius             Metre
	Direction          Radian // of the path at its start, against +x
	Angle              Radian // that it turns by; negative is to the right
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

// electricAngle is the angle that the electric sector turns the path by.
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
	var l Layout
	f := frame{along: vec{1, 0}}.drift(float64(i.Before))
	if e := i.Electric; e != nil {
		after, center := f.bend(float64(e.Radius), e.turn())
		l.Electric = &Bend{public(center), public(f.at), public(after.at), e.Radius, direction(f.along), Radian(e.turn())}
		f = after.drift(float64(e.Between))
	}
	after, center := f.bend(float64(i.Radius), i.bend())
	l.Magnet = Bend{public(center), public(f.at), public(after.at), i.Radius, direction(f.along), Radian(i.bend())}
	// Outward is to the right of the path; a positive tilt moves the outer end
	// of the entry face downstream, of the exit face upstream.
	l.EntryFace = direction(f.along.left().times(-1).turned(float64(i.EntryFace)))
	l.ExitFace = direction(after.along.left().times(-1).turned(-float64(i.ExitFace)))
	f = after.drift(o.after)
	l.Collector, l.ToCollector = public(f.at), direction(f.along)
	return l, nil
}

// Ray returns the path of an ion with m/z mz in the field b that leaves the
// source slit x outward of its middle with the given slope, by closed forms with
// sharp field edges. Arcs are drawn with a point every degree or two.
func (i Instrument) Ray(mz float64, b Tesla, x Metre, slope Radian) (Ray, error) {
	t, err := i.tracer(b)
	if err != nil {
		return Ray{}, err
	}
	if err := check(massToCharge(mz)); err != nil {
		return Ray{}, err
	}
	return t.ray(mz, float64(x), float64(slope)), nil
}

// Fan returns the paths of one ion kind from the middle of the source slit over
// the divergence of the beam, n of them, evenly spread; one is the middle one.
func (i Instrument) Fan(mz float64, b Tesla, n int) ([]Ray, error) {
	t, err := i.tracer(b)
	if err != nil {
		return nil, err
	}
	if err := check(massToCharge(mz), quantity{"number of rays", float64(n), "", "expected one or more"}); err != nil {
		return nil, err
	}
	rays := make([]Ray, 0, n)
	for k := range n {
		slope := 0.0
		if n > 1 {
			slope = float64(i.Divergence) * (2*float64(k)/float64(n-1) - 1)
		}
		rays = append(rays, t.ray(mz, 0, slope))
	}
	return rays, nil
}

// tracer has what the rays of one field share.
type tracer struct {
	i      Instrument
	optics optics
	center float64 // m/z of the central path
	magnet magnet
	entry  frame // of the magnet
}

func (i Instrument) tracer(b Tesla) (tracer, error) {
	if err := i.Check(); err != nil {
		return tracer{}, err
	}
	o, err := i.optics()
	if err != nil {
		return tracer{}, err
	}
	center, err := i.MZ(b)
	if err != nil {
		return tracer{}, err
	}
	f := frame{along: vec{1, 0}}.drift(float64(i.Before))
	if e := i.Electric; e != nil {
		f, _ = f.bend(float64(e.Radius), e.turn())
		f = f.drift(float64(e.Between))
	}
	return tracer{i, o, center, i.magnet(), f}, nil
}

// arcStep is the angle between points of an arc, rad.
const arcStep = math.Pi / 120

func (t tracer) ray(mz, x, slope float64) Ray {
	i := t.i
	p := newRay(x, slope, mz/t.center, 0)
	f := frame{along: vec{1, 0}}
	var out Ray
	add := func(v vec) { out.Points = append(out.Points, public(v)) }
	add(f.point(p.x))
	f, p = f.drift(float64(i.Before)), p.drift(float64(i.Before))
	if e := i.Electric; e != nil {
		add(f.point(p.x))
		// Inside, by the first-order matrix: the eye doesn't see the difference.
		steps := int(math.Ceil(float64(e.Angle) / arcStep))
		a := math.Tan(p.angle)
		for k := 1; k < steps; k++ {
			part := float64(k) / float64(steps)
			m := electricBend(float64(e.Radius), float64(e.Angle)*part, e.Opposite)
			beside := m.xx*p.x + m.xa*a
			within, _ := f.bend(float64(e.Radius), e.turn()*part)
			add(within.point(beside))
			if e.Gap > 0 && math.Abs(beside) > float64(e.Gap)/2 {
				out.End = Plates
				return out
			}
		}
		var ok bool
		f, _ = f.bend(float64(e.Radius), e.turn())
		if p, ok = e.fly(p); !ok {
			out.End = Plates
			return out
		}
		add(f.point(p.x))
		f, p = f.drift(float64(e.Between)), p.drift(float64(e.Between))
	}
	// The magnet's frame has the entry at (r, 0) along +y.
	outward := f.along.left().times(-1)
	place := func(v vec) vec {
		return f.at.plus(outward.times(v.x - t.magnet.r)).plus(f.along.times(v.y))
	}
	a, q, ok := t.magnet.fly(p)
	sweep := a.sweep
	if !ok {
		out.End = Turned
		sweep = 2 * math.Pi
		if w, leaves := a.passes(vec{t.magnet.r, 0}, t.magnet.entryNormal); leaves {
			sweep = min(sweep, w)
		}
		if w, leaves := a.passes(t.magnet.exit, t.magnet.exitNormal); leaves {
			sweep = min(sweep, w)
		}
	}
	steps := max(int(math.Ceil(sweep/arcStep)), 1)
	half := float64(i.Chamber) / 2
	out.Points = slices.Grow(out.Points, steps+3)
	sin, cos := math.Sincos(sweep / float64(steps))
	from := a.start.minus(a.center)
	for k := 0; k <= steps; k++ {
		at := a.center.plus(from)
		from = vec{cos*from.x - sin*from.y, sin*from.x + cos*from.y}
		add(place(at))
		if half > 0 && math.Abs(at.length()-t.magnet.r) > half && k > 0 {
			out.End = ChamberWall
			return out
		}
	}
	if !ok {
		return out
	}
	f, _ = f.bend(t.magnet.r, i.bend())
	f, q = f.drift(t.optics.after), q.drift(t.optics.after)
	add(f.point(q.x))
	out.Beside = Metre(q.x)
	if math.Abs(q.x) > float64(i.CollectorSlit)/2 {
		out.End = SlitPlate
	}
	return out
}
