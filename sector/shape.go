package sector

import "math"

// shape is what the slits make of one ion: the image of the source slit, evenly
// lit, moves across the collector slit. The share that gets through is a
// trapezoid; a triangle where both are equally wide.
type shape struct {
	image     float64 // width of the image at the collector, m
	collector float64 // width of the collector slit, m
}

// shape returns the widths that the instrument gives. Out of focus, the
// divergence widens the image, and so does the energy spread, which moves it
// like an excess of momentum. The image is taken as evenly lit, which with
// these it is only about.
func (i Instrument) shape(o optics) shape {
	image := math.Abs(o.magnification)*float64(i.SourceSlit) + 2*math.Abs(o.defocus)*float64(i.Divergence)
	image += math.Abs(o.dispersion) * float64(i.EnergySpread) / float64(i.Voltage) / 2
	return shape{image, float64(i.CollectorSlit)}
}

// share returns the share of the image that lies in the slit when its center
// is at x, 0 to 1.
func (s shape) share(x float64) float64 {
	left := max(x-s.image/2, -s.collector/2)
	right := min(x+s.image/2, s.collector/2)
	switch {
	case right < left:
		return 0
	case s.image == 0:
		return 1
	}
	return min((right-left)/s.image, 1)
}

// reach is how far from the center of the slit the image may be for any of it
// to get through.
func (s shape) reach() float64 { return (s.image + s.collector) / 2 }
