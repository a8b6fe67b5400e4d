// Package mechanism draws how the electrons go in the steps of a fragmentation,
// and which ions come from which.
//
// For most uses call [Peak] for a peak, [Route] for one ion, [Step] for one
// step and [Map] for the whole spectrum. Arrows begin at a bond, a lone pair or an unpaired electron
// and end at the bond or atom that receives: with a double barb for two
// electrons, with a single one for one. The electrons come from
// ionize.Movement; this room only finds places for them.
//
// The ion at the end, whose electrons no arrow moves, is drawn in brackets with
// charge and dot outside where resonance spreads them over several atoms (see
// structure.Delocalize). An ion that reacts further stands in the form that its
// arrows act on, and a line below says that it is one of several; forms of one
// ion that follow each other are joined by a double-headed arrow. An ion that
// reorganizes without arrows is always in brackets. So it is common practice;
// brackets for what can't be placed on an atom are in IUPAC's Graphical
// Representation Standards of 2008 too (from memory).
package mechanism

import (
	"fmt"

	"ionwright/draw"
	"ionwright/ionize"
)

// Options say how a mechanism is drawn. The zero value draws one row with bonds
// of 30 pixels.
type Options struct {
	Name  string  // of the compound, for the words; may be empty
	Width float64 // of the drawing in pixels, within which rows are folded; 0: one row
	Bond  float64 // bond length in pixels; 0: 30
}

func (o Options) checked() (Options, error) {
	if o.Bond == 0 {
		o.Bond = 30
	}
	switch {
	case !(o.Bond >= 10 && o.Bond <= 200):
		return o, fmt.Errorf("the bond length is %v pixels; it can be 10 to 200", o.Bond)
	case o.Width != 0 && !(o.Width >= 200 && o.Width <= 20000):
		return o, fmt.Errorf("the width is %v pixels; it can be 200 to 20000, or 0 for one row", o.Width)
	}
	return o, nil
}

// Route draws the way from the molecular ion to an ion of the prediction, given
// by its ID: every ion on it with the arrows of its step. A structure wider
// than the width asked for makes the drawing wider.
//
// It fails for an ion that the prediction doesn't have, for the molecular ion,
// which no step leads to, and for options out of range.
func Route(p *ionize.Prediction, ion int, o Options) (draw.Figure, error) {
	o, err := o.checked()
	if err != nil {
		return draw.Figure{}, fmt.Errorf("drawing a route: %w", err)
	}
	if ion < 0 || ion >= len(p.Ions) {
		return draw.Figure{}, fmt.Errorf("drawing a route: there is no ion %d; the prediction has ions 0 to %d", ion, len(p.Ions)-1)
	}
	steps := p.Route(ion)
	if len(steps) == 0 {
		return draw.Figure{}, fmt.Errorf("drawing the route to m/z %d: no step leads to this ion", p.Ions[ion].MZ)
	}
	movements, err := p.RouteMovements(ion)
	if err != nil {
		return draw.Figure{}, fmt.Errorf("drawing the route to m/z %d: %w", p.Ions[ion].MZ, err)
	}
	return figure(p, steps, movements, o)
}

// Peak is Route to the most abundant ion at an m/z. It fails as well where no
// ion of the prediction stands there.
func Peak(p *ionize.Prediction, mz int, o Options) (draw.Figure, error) {
	ions := p.At(mz)
	if len(ions) == 0 {
		return draw.Figure{}, fmt.Errorf("drawing the route to m/z %d: the computed spectrum of %s has no ion there%s", mz, p.Mol.Formula(), nearest(p, mz))
	}
	return Route(p, ions[0].ID, o)
}

// nearest is a hint at the m/z of the most abundant ions.
func nearest(p *ionize.Prediction, mz int) string {
	near, most := 0, 0.0
	for _, ion := range p.Ions[1:] {
		if d := ion.MZ - mz; d >= -3 && d <= 3 && ion.Abundance > most {
			near, most = ion.MZ, ion.Abundance
		}
	}
	if near == 0 {
		return ""
	}
	return fmt.Sprintf("; the nearest is at m/z %d", near)
}

// Step draws one step of the prediction. It fails for a step of another one,
// and for options out of range.
func Step(p *ionize.Prediction, step ionize.Step, o Options) (draw.Figure, error) {
	o, err := o.checked()
	if err != nil {
		return draw.Figure{}, fmt.Errorf("drawing a step: %w", err)
	}
	movement, err := p.Movement(step)
	if err != nil {
		return draw.Figure{}, fmt.Errorf("drawing a step: %w", err)
	}
	return figure(p, []ionize.Step{step}, []ionize.Movement{movement}, o)
}

// figure draws steps that follow each other.
func figure(p *ionize.Prediction, steps []ionize.Step, movements []ionize.Movement, o Options) (draw.Figure, error) {
	cells, err := newStrip(p, steps, movements, o)
	if err != nil {
		return draw.Figure{}, fmt.Errorf("drawing the route to m/z %d: %w", p.Ions[steps[len(steps)-1].To].MZ, err)
	}
	return draw.Figure{
		Scene: cells.fold(o.Width), Title: title(p, steps, o), Description: description(p, steps, movements, o),
		Detail: detail(movements, cells), Table: table(movements),
	}, nil
}
