package pack

import (
	"ionwright/draw"
	"ionwright/draw/mechanism"
)

// drawMechanism draws the steps to a peak, in rows no wider than the page where
// the structures allow it.
func (f *figure) drawMechanism(width float64) (draw.Figure, error) {
	o := mechanism.Options{Name: f.Compound.Name, Width: width}
	if width == narrow {
		o.Bond = 26
	}
	return mechanism.Peak(f.Compound.Prediction, f.MZ[0], o)
}

// drawMap draws which ions come from which.
func (f *figure) drawMap(width float64) (draw.Figure, error) {
	return mechanism.Map(f.Compound.Prediction, mechanism.MapOptions{Name: f.Compound.Name, Width: width})
}
