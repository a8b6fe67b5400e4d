package pack

import (
	"ionwright/draw"
	"ionwright/draw/mechanism"
)

// drawMechanism draws the steps to a peak, in rows no wider than the page where
// the structures allow it.
func (f *figure) drawMechanism(s size) (draw.Figure, error) {
	o := mechanism.Options{Name: f.Compound.Name, Width: s.width}
	if s.few {
		o.Bond = 26
	}
	return mechanism.Peak(f.Compound.Prediction, f.MZ[0], o)
}

// drawMap draws which ions come from which.
func (f *figure) drawMap(s size) (draw.Figure, error) {
	return mechanism.Map(f.Compound.Prediction, mechanism.MapOptions{Name: f.Compound.Name, Width: s.width})
}
