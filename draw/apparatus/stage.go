package apparatus

import (
	"fmt"

	"ionwright/draw"
	"ionwright/sector"
)

// Stage is a drawing of an instrument without ions, and where its places are.
type Stage struct {
	Scene draw.Scene
	// Instrument is that drawn: where the one asked for says nothing of a
	// flight tube, it has one around what is drawn.
	Instrument sector.Instrument
	v          view
}

// At returns where a place of sector.Layout's frame is in the scene.
func (s *Stage) At(p sector.Point) draw.Point { return s.v.at(point{p.X, p.Y}) }

// NewStage draws an instrument to scale, without ions, in a given width and at
// most a given height, both in pixels. It fails for settings that sector
// refuses.
func NewStage(i sector.Instrument, width, height float64) (*Stage, error) {
	if !(width >= 200 && width <= 10000 && height >= 100 && height <= 10000) {
		return nil, fmt.Errorf("drawing the instrument %q: the canvas is %v by %v pixels; it can be 200 by 100 to 10000 by 10000", i.Name, width, height)
	}
	p, err := newPlan(i, width)
	if err != nil {
		return nil, fmt.Errorf("drawing the instrument %q: %w", i.Name, err)
	}
	p.tallest = (height - 2*margin - 26) / width
	scene, v := p.stage()
	// Paths end beside the bend, so its name stands further away.
	scene.Items = append(scene.Items, p.drawWords(v, 40))
	return &Stage{scene, p.instrument, v}, nil
}
