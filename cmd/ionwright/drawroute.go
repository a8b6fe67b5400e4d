package main

import (
	"context"
	"strconv"

	"ionwright/draw"
	"ionwright/draw/mechanism"
	"ionwright/ionize"
)

// prepareRoute draws the mechanism of one peak.
func prepareRoute(c *call, common *canvas) func(context.Context, []string) (draw.Figure, error) {
	ev := c.flags.Float64("ev", 70, "the `ENERGY` of the electrons in eV")
	bond := c.flags.Float64("bond", 0, "length of a bond, in `PIXELS`; 0: 30")
	return func(ctx context.Context, args []string) (draw.Figure, error) {
		mz, err := strconv.Atoi(args[1])
		if err != nil || mz < 1 {
			return draw.Figure{}, wrongUsage("the m/z %q is no whole number; write for example draw route CCCC(C)=O 58", args[1])
		}
		p, name, err := c.predicted(ctx, args[0], *ev, common)
		if err != nil {
			return draw.Figure{}, err
		}
		return mechanism.Peak(p, mz, mechanism.Options{Name: name, Width: common.width, Bond: *bond})
	}
}

// prepareMap draws which ions come from which.
func prepareMap(c *call, common *canvas) func(context.Context, []string) (draw.Figure, error) {
	ev := c.flags.Float64("ev", 70, "the `ENERGY` of the electrons in eV")
	least := c.flags.Float64("least", 0, "the least abundance shown, in `PERCENT` of the most abundant ion; 0: 2")
	most := c.flags.Int("most", 0, "how `MANY` ions are shown; 0: 12")
	return func(ctx context.Context, args []string) (draw.Figure, error) {
		p, name, err := c.predicted(ctx, args[0], *ev, common)
		if err != nil {
			return draw.Figure{}, err
		}
		return mechanism.Map(p, mechanism.MapOptions{Name: name, Width: common.width, Least: *least, Most: *most})
	}
}

// predicted computes what becomes of a structure, and says what to call it.
func (c *call) predicted(ctx context.Context, text string, ev float64, common *canvas) (*ionize.Prediction, string, error) {
	if common.height != 0 {
		return nil, "", wrongUsage("--height: routes and maps are as high as what they show; give --width")
	}
	m, name, err := c.structureOf(text)
	if err != nil {
		return nil, "", err
	}
	if common.name != "" {
		name = common.name
	}
	p, err := ionize.Predict(ctx, m, ionize.Settings{EnergyEV: ev})
	return p, name, err
}
