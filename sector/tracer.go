package sector

import "math"

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
	return i.tracerOf(o, b)
}

// tracerOf is tracer for an instrument that is checked and whose optics are o.
func (i Instrument) tracerOf(o optics, b Tesla) (tracer, error) {
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

// arcStep is the angle between points of an arc, rad: at most 0.0004 of the
// radius lie between arc and chord.
const arcStep = math.Pi / 60

// front is the way of a ray up to the magnet: the same for every m/z, since all
// ions have the same energy.
type front struct {
	points Polyline
	at     ray // at the magnet, of the m/z on the central path
	lost   bool
	inner  bool // of the central path, where it is lost
}

func (t *tracer) front(x, slope float64) front {
	i := t.i
	p := newRay(x, slope, 1, 0)
	f := frame{along: vec{1, 0}}
	var out front
	add := func(v vec) { out.points = append(out.points, public(v)) }
	add(f.point(p.x))
	f, p = f.drift(float64(i.Before)), p.drift(float64(i.Before))
	if e := i.Electric; e != nil {
		add(f.point(p.x))
		ok, last := true, p.x
		p, ok = e.fly(p, visibleTolerance, func(angle, beside float64) {
			within, _ := f.bend(float64(e.Radius), e.turn()*angle/float64(e.Angle))
			add(within.point(beside))
			last = beside
		})
		if !ok {
			out.lost, out.inner = true, last < 0
			return out
		}
		p = p.drift(float64(e.Between))
	}
	out.at = p
	return out
}

// fronts returns the ways to the magnet of n rays from the middle of the source
// slit, evenly spread over the divergence.
func (t *tracer) fronts(n int) []front {
	out := make([]front, n)
	for k := range out {
		slope := 0.0
		if n > 1 {
			slope = float64(t.i.Divergence) * (2*float64(k)/float64(n-1) - 1)
		}
		out[k] = t.front(0, slope)
	}
	return out
}

// ray takes an ion of m/z mz on from the magnet.
func (t *tracer) ray(mz float64, from front) Ray {
	var out Ray
	out.Points = make([]Point, 0, len(from.points)+int(1.2*t.magnet.angle/arcStep)+4)
	out.Points = append(out.Points, from.points...)
	if from.lost {
		out.End, out.Inner = Plates, from.inner
		return out
	}
	p := from.at
	p.momentum = math.Sqrt(mz / t.center)
	if q, ok := t.bend(p, &out); ok {
		f, _ := t.entry.bend(t.magnet.r, t.i.bend())
		after := t.optics.after
		if half, tan := float64(t.i.Chamber)/2, math.Tan(q.angle); half > 0 && math.Abs(q.x+after*tan) > half {
			after = (math.Copysign(half, q.x+after*tan) - q.x) / tan
			f, q = f.drift(after), q.drift(after)
			out.Points = append(out.Points, public(f.point(q.x)))
			out.End, out.Inner = ChamberWall, q.x < 0
			return out
		}
		f, q = f.drift(after), q.drift(after)
		out.Points = append(out.Points, public(f.point(q.x)))
		out.Beside, out.Inner = Metre(q.x), q.x < 0
		if math.Abs(q.x) > float64(t.i.CollectorSlit)/2 {
			out.End = SlitPlate
		}
	}
	return out
}

// rays returns the rays of an ion, one for each front.
func (t *tracer) rays(mz float64, fronts []front) []Ray {
	out := make([]Ray, len(fronts))
	for k, from := range fronts {
		out[k] = t.ray(mz, from)
	}
	return out
}

// bend takes a ray through the magnet and adds its arc to the drawing. It
// returns false for a ray that ends there.
func (t *tracer) bend(p ray, out *Ray) (ray, bool) {
	// The magnet's frame has the entry at (r, 0) along +y.
	outward := t.entry.along.left().times(-1)
	add := func(v vec) {
		v = t.entry.at.plus(outward.times(v.x - t.magnet.r)).plus(t.entry.along.times(v.y))
		out.Points = append(out.Points, public(v))
	}
	a, q, ok := t.magnet.fly(p)
	sweep := a.sweep
	if !ok {
		out.End, out.Inner = Turned, p.momentum < 1
		sweep = 2 * math.Pi
		if w, leaves := a.passes(vec{t.magnet.r, 0}, t.magnet.entryNormal); leaves {
			sweep = min(sweep, w)
		}
		if w, leaves := a.passes(t.magnet.exit, t.magnet.exitNormal); leaves {
			sweep = min(sweep, w)
		}
	}
	if half := float64(t.i.Chamber) / 2; half > 0 {
		if w, inner := a.hits(t.magnet.r-half, t.magnet.r+half); w < sweep {
			sweep, ok = w, false
			out.End, out.Inner = ChamberWall, inner
		}
	}
	steps := max(int(math.Ceil(sweep/arcStep)), 1)
	sin, cos := math.Sincos(sweep / float64(steps))
	from := a.start.minus(a.center)
	for range steps + 1 {
		add(a.center.plus(from))
		from = vec{cos*from.x - sin*from.y, sin*from.x + cos*from.y}
	}
	return q, ok
}

// hits returns the angle after which the arc meets one of the two circles
// about the origin between which it starts, and whether it is the inner one;
// an infinite angle where it meets neither, and 0 where it starts beyond them.
func (a arc) hits(inner, outer float64) (w float64, onInner bool) {
	start := a.start.length()
	if start <= inner || start >= outer {
		return 0, start <= inner
	}
	w = math.Inf(1)
	from := a.start.minus(a.center)
	rho, away := from.length(), a.center.length()
	if away == 0 {
		return w, false
	}
	// The distance from the origin after turning by w is
	// sqrt(away^2 + rho^2 + 2 away rho cos(w - phase)).
	phase := math.Atan2(a.center.y, a.center.x) - math.Atan2(from.y, from.x)
	for _, wall := range []float64{inner, outer} {
		cos := (wall*wall - away*away - rho*rho) / (2 * away * rho)
		if math.Abs(cos) > 1 {
			continue
		}
		for _, side := range []float64{-1, 1} {
			at := math.Mod(phase+side*math.Acos(cos), 2*math.Pi)
			if at < 0 {
				at += 2 * math.Pi
			}
			if at < w {
				w, onInner = at, wall == inner
			}
		}
	}
	return w, onInner
}
