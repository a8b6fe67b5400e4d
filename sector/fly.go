package sector

import "math"

// ray is an ion in a plane across the central path.
type ray struct {
	x     float64 // distance from the central path, outward of the magnet's bend, m
	angle float64 // of its direction against that of the path, outward, rad
	// Relative to the ion on the central path:
	momentum float64 // momentum over charge, 1 on the path
	energy   float64 // kinetic energy over charge, 1 on the path
}

// newRay returns the ray of an ion that leaves the source slit at x with the
// given slope, with m/z over that of the central path, and with a relative
// excess of energy.
func newRay(x, slope, mz, excess float64) ray {
	return ray{x, math.Atan(slope), math.Sqrt(mz * (1 + excess)), 1 + excess}
}

// fly takes a ray from source slit to collector plane by closed forms with
// sharp edges of the fields, and returns false where it doesn't get there.
func (i Instrument) fly(p ray, after float64) (ray, bool) {
	ok := true
	p = p.drift(float64(i.Before))
	if e := i.Electric; e != nil {
		if p, ok = e.fly(p, opticalTolerance, nil); !ok {
			return p, false
		}
		p = p.drift(float64(e.Between))
	}
	_, p, ok = i.magnet().fly(p)
	if !ok {
		return p, false
	}
	return p.drift(after), true
}

// drift takes a ray along a field-free length.
func (p ray) drift(l float64) ray {
	p.x += l * math.Tan(p.angle)
	return p
}

// vec is a point or direction in the plane of the beam, m. In the magnet's
// frame the center of the central arc is at the origin, the path enters at
// (r, 0) along +y and bends to the left.
type vec struct{ x, y float64 }

func (a vec) plus(b vec) vec      { return vec{a.x + b.x, a.y + b.y} }
func (a vec) minus(b vec) vec     { return vec{a.x - b.x, a.y - b.y} }
func (a vec) times(k float64) vec { return vec{a.x * k, a.y * k} }
func (a vec) dot(b vec) float64   { return a.x*b.x + a.y*b.y }
func (a vec) left() vec           { return vec{-a.y, a.x} }
func (a vec) length() float64     { return math.Hypot(a.x, a.y) }
func (a vec) turned(angle float64) vec {
	s, c := math.Sincos(angle)
	return vec{c*a.x - s*a.y, s*a.x + c*a.y}
}
func heading(along vec, out float64) vec { return along.turned(-out) }

// magnet is the geometry of the magnet in its frame.
type magnet struct {
	r, angle float64
	exit     vec // where the central path leaves
	along    vec // its direction there
	// Normals of the faces, pointing out of the field.
	entryNormal, exitNormal vec
}

func (i Instrument) magnet() magnet {
	r, angle := float64(i.Radius), i.bend()
	sin, cos := math.Sincos(angle)
	m := magnet{r: r, angle: angle, exit: vec{r * cos, r * sin}, along: vec{-sin, cos}}
	// A positive tilt gives outer rays less field at either end.
	m.entryNormal = vec{0, -1}.turned(float64(i.EntryFace))
	m.exitNormal = m.along.turned(-float64(i.ExitFace))
	return m
}

// arc is a piece of a circle.
type arc struct {
	center vec
	start  vec     // first point
	sweep  float64 // angle turned to the left, rad
}

// fly takes a ray from the plane across the path at the entry to the one at the
// exit, and returns the arc in the field. It returns false for a ray that
// doesn't leave through the exit face.
func (m magnet) fly(p ray) (arc, ray, bool) {
	direction := heading(vec{0, 1}, p.angle)
	at := vec{m.r + p.x, 0}
	// Straight to the entry face, or back to it.
	entry := vec{m.r, 0}
	facing := direction.dot(m.entryNormal)
	if facing >= 0 {
		return arc{}, p, false
	}
	at = at.plus(direction.times(entry.minus(at).dot(m.entryNormal) / facing))
	rho := m.r * p.momentum
	a := arc{center: at.plus(direction.left().times(rho)), start: at}
	w, leaves := a.passes(m.exit, m.exitNormal)
	if back, turns := a.passes(entry, m.entryNormal); !leaves || turns && back < w-1e-9 {
		return a, p, false // it circles, or comes back out of the entry
	}
	a.sweep = w
	at = a.at(w)
	direction = direction.turned(w)
	forward := direction.dot(m.along)
	if forward <= 0 {
		return a, p, false
	}
	// On, or back, to the plane across the path.
	at = at.plus(direction.times(m.exit.minus(at).dot(m.along) / forward))
	outward := m.exit.times(1 / m.r)
	if at.dot(outward) <= 0 {
		return a, p, false // beyond the center of the bend
	}
	p.x = at.minus(m.exit).dot(outward)
	p.angle = math.Atan2(direction.dot(outward), forward)
	return a, p, true
}

// passes returns the angle after which the circle passes a straight edge,
// through point and with the given normal, in the normal's direction.
func (a arc) passes(point, normal vec) (w float64, ok bool) {
	// The distance beyond the edge after turning by w is
	// k + c cos w + s sin w = k + size cos(w - phase), here 0 and growing.
	from := a.start.minus(a.center)
	k := a.center.minus(point).dot(normal)
	c, s := from.dot(normal), from.left().dot(normal)
	size := math.Hypot(c, s)
	if math.Abs(k) > size || size == 0 {
		return 0, false
	}
	w = math.Atan2(s, c) - math.Acos(-k/size)
	const start = 1e-9 // the circle may start on the edge itself
	for w <= start {
		w += 2 * math.Pi
	}
	return w, true
}

// at returns the point of the circle after turning by w.
func (a arc) at(w float64) vec { return a.center.plus(a.start.minus(a.center).turned(w)) }
