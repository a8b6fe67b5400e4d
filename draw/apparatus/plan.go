package apparatus

import (
	"math"

	"ionwright/sector"
)

// plan is an instrument seen along the magnet's field, in the frame of
// sector.Layout: ions start at the origin along +x, the magnet bends to the
// left.
type plan struct {
	instrument sector.Instrument
	layout     sector.Layout
	width      float64 // of the figure, pixels
	tallest    float64 // its height over its width
	field      sector.Tesla
	half       float64 // half the width of the flight tube, m
	walled     bool    // the instrument gives that width
	beams      []beam
	boxSize    float64 // of the source's and the detector's boxes, which are symbols, m
}

// openTube is the width, in radii, of the tube that is drawn where the
// instrument says nothing of one: ions that leave it are off the drawing.
const openTube = 0.7

// newPlan lays the instrument out.
func newPlan(i sector.Instrument, width float64) (*plan, error) {
	p := &plan{instrument: i, width: width, tallest: 0.8, walled: i.Chamber > 0}
	if !p.walled {
		p.instrument.Chamber = openTube * i.Radius
	}
	p.half = float64(p.instrument.Chamber) / 2
	var err error
	p.layout, err = p.instrument.Layout()
	return p, err
}

// place returns a point beside the central path of a bend, after a part of its
// angle; outward counts away from the bend's center.
func place(b sector.Bend, part, outward float64) point {
	center := point{b.Center.X, b.Center.Y}
	from := point{b.Start.X, b.Start.Y}.minus(center)
	sin, cos := math.Sincos(float64(b.Angle) * part)
	k := 1 + outward/float64(b.Radius)
	return center.plus(point{from.x*cos - from.y*sin, from.x*sin + from.y*cos}.times(k))
}

// side returns a line beside the central path of a bend.
func side(b sector.Bend, outward float64) []point {
	const steps = 64
	var out []point
	for k := 0; k <= steps; k++ {
		out = append(out, place(b, float64(k)/steps, outward))
	}
	return out
}

// toward is the unit vector of a direction.
func toward(angle sector.Radian) point {
	sin, cos := math.Sincos(float64(angle))
	return point{cos, sin}
}

// poles returns the outline of the magnet's poles, whose faces may be tilted.
func (p *plan) poles() []point {
	m, w := p.layout.Magnet, p.polesHalf()
	center := point{m.Center.X, m.Center.Y}
	// corner is where a face meets the circle at this distance from the path.
	corner := func(end sector.Point, face sector.Radian, off float64) point {
		at, along := point{end.X, end.Y}, toward(face)
		radius := float64(m.Radius) + off
		// |at + k along - center| = radius, the k nearest to off.
		d := at.minus(center)
		half := d.dot(along)
		root := half*half - (d.dot(d) - radius*radius)
		if root < 0 {
			return at.plus(along.times(off))
		}
		k := -half + math.Sqrt(root)
		if other := -half - math.Sqrt(root); math.Abs(other-off) < math.Abs(k-off) {
			k = other
		}
		return at.plus(along.times(k))
	}
	arc := func(from, to point, radius float64) []point {
		a, b := from.minus(center), to.minus(center)
		start := math.Atan2(a.y, a.x)
		sweep := math.Mod(math.Atan2(b.y, b.x)-start+4*math.Pi, 2*math.Pi)
		const steps = 64
		var out []point
		for k := 0; k <= steps; k++ {
			sin, cos := math.Sincos(start + sweep*float64(k)/steps)
			out = append(out, center.plus(point{cos, sin}.times(radius)))
		}
		return out
	}
	outer := arc(corner(m.Start, p.layout.EntryFace, w), corner(m.End, p.layout.ExitFace, w), float64(m.Radius)+w)
	inner := arc(corner(m.Start, p.layout.EntryFace, -w), corner(m.End, p.layout.ExitFace, -w), float64(m.Radius)-w)
	for k := len(inner) - 1; k >= 0; k-- {
		outer = append(outer, inner[k])
	}
	return outer
}

// polesHalf is how far the poles reach beside the central path.
func (p *plan) polesHalf() float64 {
	r := float64(p.layout.Magnet.Radius)
	return min(p.half+0.12*r, 0.9*r)
}

// tube returns the wall of the flight tube on one side of the central path:
// outward is 1 or -1.
func (p *plan) tube(outward float64) []point {
	off := outward * p.half
	way := side(p.layout.Magnet, off)
	along := toward(p.layout.ToCollector)
	end := point{p.layout.Collector.X, p.layout.Collector.Y}.minus(along.left().times(off))
	start := way[0].minus(toward(p.layout.Magnet.Direction).times(p.before()))
	return append(append([]point{start}, way...), end)
}

// before is the length of the straight path before the magnet, m.
func (p *plan) before() float64 {
	if e := p.instrument.Electric; e != nil {
		return float64(e.Between)
	}
	return float64(p.instrument.Before)
}

// electricHalf is half the drawn distance between the plates of the electric
// sector.
func (p *plan) electricHalf() float64 {
	if g := float64(p.instrument.Electric.Gap); g > 0 {
		return g / 2
	}
	return 0.08 * float64(p.instrument.Electric.Radius)
}

// outline is points around everything.
func (p *plan) outline() []point {
	out := p.poles()
	size := p.boxSize
	for _, end := range []struct {
		at    sector.Point
		along point
	}{{p.layout.Source, point{-1, 0}}, {p.layout.Collector, toward(p.layout.ToCollector)}} {
		at := point{end.at.X, end.at.Y}
		across := end.along.left().times(max(p.half, size))
		far := at.plus(end.along.times(1.6 * size))
		out = append(out, at.plus(across), at.minus(across), far.plus(across), far.minus(across))
	}
	if e := p.layout.Electric; e != nil {
		for _, off := range []float64{-1.6, 1.6} {
			out = append(out, side(*e, off*p.electricHalf())...)
		}
	}
	return out
}

// beam is the paths of one ion.
type beam struct {
	mz     float64
	rays   [][]point // the middle one first
	end    sector.End
	inner  bool // ends on the inner side of the bend
	arrive bool // some of it gets through the collector slit
}

// fly adds the paths of ions at the plan's field: the middle one, and where
// the beam diverges the two at its edges.
func (p *plan) fly(mzs []float64) error {
	ions := make([]sector.Ion, len(mzs))
	for k, mz := range mzs {
		ions[k] = sector.Ion{MZ: mz, Intensity: 1}
	}
	set := sector.FrameSettings{Field: p.field, Rays: 3}
	if p.instrument.Divergence == 0 {
		set.Rays = 1
	}
	f, err := p.instrument.Frame(ions, set)
	if err != nil {
		return err
	}
	p.field = f.Field
	p.beams = p.beams[:0]
	for _, b := range f.Beams {
		middle := b.Rays[len(b.Rays)/2]
		one := beam{mz: b.MZ, end: middle.End, inner: middle.Inner, arrive: b.Reaches()}
		for _, k := range []int{len(b.Rays) / 2, 0, len(b.Rays) - 1}[:len(b.Rays)] {
			one.rays = append(one.rays, points(b.Rays[k].Points))
		}
		p.beams = append(p.beams, one)
	}
	return nil
}

func points(way sector.Polyline) []point {
	out := make([]point, len(way))
	for k, q := range way {
		out[k] = point{q.X, q.Y}
	}
	return out
}
