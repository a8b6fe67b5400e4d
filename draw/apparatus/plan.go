package apparatus

import (
	"math"

	"ionwright/sector"
)

// plan is an instrument seen along the magnet's field. Its frame is that of
// sector.Point: the magnet's center of bend at the origin, the central path
// entering at (r, 0) along +y and bending to the left.
type plan struct {
	instrument sector.Instrument
	o          RayOptions
	r, angle   float64 // of the magnet
	before     float64 // straight path from the source, or from the electric sector, to the magnet
	after      float64 // straight path from the magnet to the collector
	half       float64 // half the width of the chamber
	walled     bool    // the instrument gives that width
	exit       point   // where the central path leaves the magnet
	along      point   // its direction there
	collector  point
	source     point // where the central path starts
	start      point // its direction there
	beams      []beam
	boxSize    float64 // of the source's and the detector's boxes, which are symbols
}

// measure works the geometry out; the instrument has been checked.
func (p *plan) measure() {
	i := p.instrument
	p.r, p.angle = float64(i.Radius), float64(i.Angle)
	if p.angle == 0 {
		p.angle = math.Pi
	}
	p.before, p.after = float64(i.Before), float64(i.After)
	if i.After == 0 {
		if image, err := i.ImageDistance(); err == nil {
			p.after = float64(image)
		}
	}
	p.half, p.walled = float64(i.Chamber)/2, i.Chamber > 0
	if !p.walled {
		p.half = 0.35 * p.r
	}
	sin, cos := math.Sincos(p.angle)
	p.exit, p.along = point{p.r * cos, p.r * sin}, point{-sin, cos}
	p.collector = p.exit.plus(p.along.times(p.after))
	p.source, p.start = point{p.r, -p.before}, point{0, 1}
	if e := i.Electric; e != nil {
		p.before = float64(e.Between)
		at, heading := p.electricEntry()
		p.source, p.start = at.minus(heading.times(float64(i.Before))), heading
	}
}

// electricCenter is the center of bend of the electric sector, and the sense
// of its bend: 1 to the left, as the magnet, -1 to the right.
func (p *plan) electricCenter() (point, float64) {
	e := p.instrument.Electric
	sense := 1.0
	if e.Opposite {
		sense = -1
	}
	return point{p.r - sense*float64(e.Radius), -float64(e.Between)}, sense
}

// electricAt is a point beside the central path in the electric sector, after
// a part of its angle, and the direction of the path there; outward counts
// away from the center of the sector's bend.
func (p *plan) electricAt(part, outward float64) (point, point) {
	e := p.instrument.Electric
	center, sense := p.electricCenter()
	left := float64(e.Angle) * (1 - part) // still to bend
	heading := point{math.Sin(sense * left), math.Cos(left)}
	return center.plus(heading.left().times(-sense * (float64(e.Radius) + outward))), heading
}

func (p *plan) electricEntry() (point, point) { return p.electricAt(0, 0) }

// followTolerance is the integrator's error bound: far tighter than a drawing
// needs, so that its steps are short and the path looks as round as it is.
const followTolerance = 1e-13

// beam follows an ion: through the electric sector, if there is one, down the
// central path, since all ions have the same energy, and then through the
// magnet.
func (p *plan) beam(mz float64) (beam, error) {
	b := beam{mz: mz}
	magnet := p.instrument
	magnet.Electric, magnet.Before, magnet.After = nil, sector.Metre(p.before), sector.Metre(p.after)
	slopes := []float64{0, float64(magnet.Divergence), -float64(magnet.Divergence)}
	if p.instrument.Electric != nil || magnet.Divergence == 0 {
		slopes = slopes[:1]
	}
	for k, slope := range slopes {
		track, err := magnet.Follow(mz, p.o.Field, 0, sector.Radian(slope), followTolerance)
		if err != nil {
			return b, err
		}
		var way []point
		if p.instrument.Electric != nil {
			way = append(way, p.source)
			for step := 0; step <= 30; step++ {
				at, _ := p.electricAt(float64(step)/30, 0)
				way = append(way, at)
			}
		}
		hit, inner := false, false
		for n, at := range track.Points {
			q := point{at.X, at.Y}
			off, known := p.off(q)
			if n > 0 && known && math.Abs(off) > p.half {
				last := way[len(way)-1]
				before, _ := p.off(last)
				way = append(way, p.toWall(last, q, before, off))
				hit, inner = true, off < 0
				break
			}
			way = append(way, q)
		}
		b.rays = append(b.rays, way)
		if k == 0 {
			b.fate, b.inner = beside, float64(track.Beside) < 0
			if hit || !track.Reached {
				b.fate, b.inner = wall, inner
			}
		}
	}
	reaches, err := p.instrument.Reaches(mz, p.o.Field)
	if err != nil {
		return b, err
	}
	if reaches {
		b.fate = arrives
	}
	return b, nil
}

// off is how far a point lies outward of the central path; false beyond both
// ends of it.
func (p *plan) off(q point) (float64, bool) {
	turn := math.Atan2(q.y, q.x)
	if turn < -1e-9 && q.x > 0 || p.angle == math.Pi && q.y < 0 && q.x > 0 {
		return q.x - p.r, true // on the way to the magnet
	}
	if turn < -math.Pi/2 {
		turn += 2 * math.Pi
	}
	if turn <= p.angle+1e-9 {
		return math.Hypot(q.x, q.y) - p.r, true
	}
	outward := p.exit.times(1 / p.r)
	return q.minus(p.exit).dot(outward), true
}

// toWall is the point of the way from a to b, whose distances from the central
// path are given, at the wall.
func (p *plan) toWall(a, b point, offA, offB float64) point {
	limit := math.Copysign(p.half, offB)
	t := (limit - offA) / (offB - offA)
	return a.plus(b.minus(a).times(min(max(t, 0), 1)))
}
