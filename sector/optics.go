package sector

import "math"

// transfer takes a ray from one plane to another to first order: x is the
// distance from the central path and a its slope; d is the relative excess of
// momentum. (x|a) is written xa, and so on.
type transfer struct {
	xx, xa, xd float64
	ax, aa, ad float64
}

// after returns the transfer through first and then t.
func (t transfer) after(first transfer) transfer {
	return transfer{
		xx: t.xx*first.xx + t.xa*first.ax,
		xa: t.xx*first.xa + t.xa*first.aa,
		xd: t.xx*first.xd + t.xa*first.ad + t.xd,
		ax: t.ax*first.xx + t.aa*first.ax,
		aa: t.ax*first.xa + t.aa*first.aa,
		ad: t.ax*first.xd + t.aa*first.ad + t.ad,
	}
}

// drift is a field-free length.
func drift(l float64) transfer { return transfer{xx: 1, xa: l, aa: 1} }

// bend is a homogeneous field that bends the central path of radius r by angle.
func bend(r, angle float64) transfer {
	sin, cos := math.Sincos(angle)
	return transfer{
		xx: cos, xa: r * sin, xd: r * (1 - cos),
		ax: -sin / r, aa: cos, ad: sin,
	}
}

// face is an edge of the field, tilted against the normal of the path; a
// positive tilt defocuses across the field.
func face(r, tilt float64) transfer { return transfer{xx: 1, ax: math.Tan(tilt) / r, aa: 1} }

// optics is what an instrument does to the image of its source slit.
type optics struct {
	magnification float64 // of the image at the collector, negative where inverted
	dispersion    float64 // distance at the collector over relative excess of momentum, m
	defocus       float64 // distance at the collector over slope at the source, m/rad; 0 in focus
	after         float64 // magnet to collector, m
}

// optics returns the first-order optics from source slit to collector slit.
func (i Instrument) optics() (optics, error) {
	r := float64(i.Radius)
	magnet := face(r, float64(i.ExitFace)).after(bend(r, i.bend())).after(face(r, float64(i.EntryFace))).after(drift(float64(i.Before)))
	after := float64(i.After)
	if after == 0 {
		var err error
		if after, err = imageDistance(magnet, r); err != nil {
			return optics{}, err
		}
	}
	whole := drift(after).after(magnet)
	return optics{whole.xx, whole.xd, whole.xa, after}, nil
}

// imageDistance returns how far behind the exit face the slopes at the source
// no longer matter: where the source slit is imaged.
func imageDistance(magnet transfer, r float64) (float64, error) {
	distance := -magnet.xa / magnet.aa
	const tiny = 1e-12 // of the radius: an image at the edge but for rounding
	switch {
	case math.Abs(magnet.xa) < tiny*r:
		return 0, nil
	case !(distance > 0) || math.IsInf(distance, 0) || distance > 1e6*r:
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
