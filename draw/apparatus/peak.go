package apparatus

import (
	"fmt"

	"ionwright/draw"
	"ionwright/draw/plot"
	"ionwright/sector"
	"ionwright/spectrum"
)

// Peak plots one peak of a sweep close up, against m/z, beside what the two
// slits alone would leave of it. It fails where the sweep has no signal near
// mz.
func Peak(r *sector.Recording, mz float64, o RecordingOptions) (draw.Figure, error) {
	fail := func(err error) (draw.Figure, error) {
		return draw.Figure{}, fmt.Errorf("drawing the peak at m/z %s: %w", plot.MZ(mz, 2), err)
	}
	i := r.Instrument
	budget, err := i.Budget()
	if err != nil {
		return fail(err)
	}
	const widths = 1.1 // drawn to either side, of the width at the base
	low, high := mz*(1-widths/budget.All), mz*(1+widths/budget.All)
	slits := i
	slits.Divergence, slits.EnergySpread, slits.Temperature = 0, 0, 0
	ideal, err := closeUp(slits, r, low, high)
	if err != nil {
		return fail(err)
	}
	real, err := closeUp(i, r, low, high)
	if err != nil {
		return fail(err)
	}
	top := 0.0
	for _, y := range real.Y {
		top = max(top, y)
	}
	if top == 0 {
		return fail(fmt.Errorf("nothing reaches the detector there"))
	}
	for k := range real.Y {
		real.Y[k] *= 100 / top
		ideal.Y[k] *= 100 / top
	}
	f, err := plot.Lines([]plot.Series{{Name: "recorded", X: real.X, Y: real.Y}, {Name: "slits alone", X: ideal.X, Y: ideal.Y}},
		plot.LinesOptions{Width: o.Width, Height: o.Height, Title: fmt.Sprintf("Peak shape at m/z %s", plot.MZ(mz, 2)),
			XTitle: draw.Words("m/z"), YTitle: draw.Plain("signal (% of highest)")})
	if err != nil {
		return fail(err)
	}
	f.Description = fmt.Sprintf("The peak at m/z %s. The two slits alone would leave a resolving power of %.0f; with everything else that widens the peak it is %.0f at the base.", plot.MZ(mz, 2), budget.Slits, budget.All)
	f.Detail = fmt.Sprintf("The largest contribution is the %s.", budget.LargestHinders)
	if at, err := i.Resolution(r.Trace, mz); err == nil {
		f.Description += fmt.Sprintf(" Measured from the trace, it is %.0f by a valley of 10 %% and %.0f by the width at half height.", at.Valley10, at.HalfHeight)
	}
	return f, nil
}

// closeUp sweeps an instrument over a range of m/z, and gives the trace against
// m/z.
func closeUp(i sector.Instrument, r *sector.Recording, low, high float64) (spectrum.Trace, error) {
	from, err := i.Field(low)
	if err != nil {
		return spectrum.Trace{}, err
	}
	to, err := i.Field(high)
	if err != nil {
		return spectrum.Trace{}, err
	}
	const steps = 1200
	near, err := sector.Sweep(i, r.Ions, sector.SweepSettings{From: from, To: to, Steps: steps, Decays: r.Decays})
	if err != nil {
		return spectrum.Trace{}, err
	}
	return i.MZTrace(near.Trace)
}
