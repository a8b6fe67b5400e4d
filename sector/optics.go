package sector

import "math"

// transfer takes a ray from one plane to another to first order: x is the
// distance from the central path, outward of the magnet's bend, and a its
// slope; d is the relative excess of momentum and e that of kinetic energy over
// the ion on the central path. (x|a) is written xa, and so on. In the magnet
// only the momentum counts, in the electric sector only the energy.
type transfer struct {
	xx, xa, xd, xe float64
	ax, aa, ad, ae float64
}

// after returns the transfer through first and then t.
func (t transfer) after(first transfer) transfer {
	return transfer{
		xx: t.xx*first.xx + t.xa*first.ax,
		xa: t.xx*first.xa + t.xa*first.aa,
		xd: t.xx*first.xd + t.xa*first.ad + t.xd,
		xe: t.xx*first.xe + t.xa*first.ae + t.xe,
		ax: t.ax*first.xx + t.aa*first.ax,
		aa: t.ax*first.xa + t.aa*first.aa,
		ad: t.ax*first.xd + t.aa*first.ad + t.ad,
		ae: t.ax*first.xe + t.aa*first.ae + t.ae,
	}
}

// drift is a field-free length.
func drift(l float64) transfer { return transfer{xx: 1, xa: l, aa: 1} }

// magnetBend is a homogeneous field that bends the central path of radius r by
// angle.
func magnetBend(r, angle float64) transfer {
	sin, cos := math.Sincos(angle)
	return transfer{
		xx: cos, xa: r * sin, xd: r * (1 - cos),
		ax: -sin / r, aa: cos, ad: sin,
	}
}

// face is an edge of the field, tilted against the normal of the path; a
// positive tilt defocuses across the field.
func face(r, tilt float64) transfer { return transfer{xx: 1, ax: math.Tan(tilt) / r, aa: 1} }

// electricBend is the field between two coaxial cylinders that bends the
// central path of radius r by angle. Where it bends the other way than the
// magnet, outward of it is inward of the magnet.
func electricBend(r, angle float64, opposite bool) transfer {
	sin, cos := math.Sincos(math.Sqrt2 * angle)
	t := transfer{
		xx: cos, xa: r * sin / math.Sqrt2, xe: r * (1 - cos) / 2,
		ax: -math.Sqrt2 * sin / r, aa: cos, ae: sin / math.Sqrt2,
	}
	if opposite {
		t.xe, t.ae = -t.xe, -t.ae
	}
	return t
}

// optics is what an instrument does to the image of its source slit, to first
// order, and to second order in the slope.
type optics struct {
	magnification float64 // of the image at the collector, negative where inverted
	defocus       float64 // distance at the collector over slope at the source, m/rad; 0 in focus
	dispersion    float64 // distance over relative excess of momentum, m
	energy        float64 // distance over relative excess of energy, m; 0 where double focusing
	after         float64 // magnet to collector, m
}

// optics returns the first-order optics from source slit to collector slit.
func (i Instrument) optics() (optics, error) {
	r := float64(i.Radius)
	front := drift(float64(i.Before))
	if e := i.Electric; e != nil {
		front = drift(float64(e.Between)).after(electricBend(float64(e.Radius), float64(e.Angle), e.Opposite)).after(front)
	}
	magnet := face(r, float64(i.ExitFace)).after(magnetBend(r, i.bend())).after(face(r, float64(i.EntryFace))).after(front)
	after := float64(i.After)
	if after == 0 {
		var err error
		if after, err = imageDistance(magnet, r); err != nil {
			return optics{}, err
		}
	}
	whole := drift(after).after(magnet)
	if whole.xd <= 0 {
		return optics{}, &SettingError{"dispersion", whole.xd, "m", "at the collector heavier ions don't lie outward of lighter ones; change the drift after the magnet or the tilt of its exit face"}
	}
	// A relative excess e of energy is one of e/2 of momentum.
	return optics{whole.xx, whole.xa, whole.xd, whole.xe + whole.xd/2, after}, nil
}

// imageDistance returns how far behind the exit face the slopes at the source
// no longer matter: where the source slit is imaged.
func imageDistance(magnet transfer, r float64) (float64, error) {
	distance := -magnet.xa / magnet.aa
	const tiny = 1e-12 // of the radius: an image at the edge but for rounding
	switch {
	case math.Abs(magnet.xa) < tiny*r:
		return 0, nil
	case !(distance > 0) || distance > 1e6*r:
		return 0, &SettingError{"image distance", distance, "m", "no image of the source slit forms behind the magnet; lengthen the drift before it or bend by a larger angle"}
	}
	return distance, nil
}

// ImageDistance returns the distance from the magnet to the image of the
// source slit, to first order. It fails where none forms.
func (i Instrument) ImageDistance() (Metre, error) {
	i.After = 0
	if err := i.Check(); err != nil {
		return 0, err
	}
	o, err := i.optics()
	return Metre(o.after), err
}
