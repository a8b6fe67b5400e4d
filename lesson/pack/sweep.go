package pack

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"ionwright/draw"
	"ionwright/draw/apparatus"
	"ionwright/draw/plot"
	"ionwright/lesson/eval"
	"ionwright/sector"
	"ionwright/spectrum"
)

// pointsAcross is how many fields of a sweep fall into the width of a peak.
const pointsAcross = 8

// drawSweep flies the ions of the figure's compound through its instrument
// and draws what is recorded.
func (f *figure) drawSweep(s size) (draw.Figure, error) {
	if f.Sweep.Field > 0 {
		return f.drawHeld(s.width, s.height, s.labels())
	}
	ions := sector.Ions(f.Compound.Spectrum)
	from, to := float64(f.From), float64(f.To)
	if from == 0 {
		from = ions[0].MZ
	}
	if to == 0 {
		to = ions[len(ions)-1].MZ
	}
	recording, err := f.sweep(ions, from, to)
	if err != nil {
		return draw.Figure{}, err
	}
	marked := s.labels()
	o := plot.TraceOptions{Width: s.width, Height: s.height, Name: f.Compound.Name}
	for _, arrival := range strongest(recording, from, to, marked) {
		if !counted(recording.Trace, arrival) {
			continue
		}
		o.Marks = append(o.Marks, plot.Mark{X: float64(arrival.Center), Text: draw.Plain(plot.MZ(ions[arrival.Ion].MZ, 0))})
	}
	drawn, err := plot.Trace(recording.Trace, o)
	if err != nil {
		return draw.Figure{}, err
	}
	drawn.Table = sweepTable(recording, from, to)
	drawn.Title = fmt.Sprintf("Field sweep of %s in %s", f.Compound.Name, f.With.Name)
	drawn.Description = fmt.Sprintf("What the detector records while the field rises from %s to %s: %s.",
		eval.Print(eval.Field, recording.Trace.X[0]), eval.Print(eval.Field, recording.Trace.X[len(recording.Trace.X)-1]),
		arrivals(recording, strongest(recording, from, to, 5)))
	drawn.Detail = "Light ions need the weaker field and arrive first."
	return drawn, nil
}

// counted reports that a trace shows something of an ion: where ions are counted
// one by one, none may have come of a weak one.
func counted(t spectrum.Trace, w sector.Window) bool {
	for i, x := range t.X {
		if x >= float64(w.From) && x <= float64(w.To) && t.Y[i] > 0 {
			return true
		}
	}
	return false
}

// labels is how many ions of a sweep are labelled.
func (s size) labels() int {
	if s.few {
		return 4
	}
	return 8
}

// arrivals says when each of some ions arrives, in the order in which they do.
func arrivals(r *sector.Recording, some []sector.Window) string {
	slices.SortFunc(some, func(a, b sector.Window) int { return cmp.Compare(a.Center, b.Center) })
	parts := make([]string, len(some))
	for i, w := range some {
		parts[i] = fmt.Sprintf("m/z %s at %s (%s %%)", plot.MZ(r.Ions[w.Ion].MZ, 0), eval.Print(eval.Field, float64(w.Center)), plot.Percent(r.Ions[w.Ion].Intensity))
	}
	return strings.Join(parts, ", ")
}

// drawPaths draws the instrument with the paths of the figure's ions.
func (f *figure) drawPaths(s size) (draw.Figure, error) {
	most := 520.0 // pixels: the drawing is about as tall as wide
	if s == slideSize {
		most = narrowSize.width
	}
	o := apparatus.RayOptions{Width: min(s.width, most)}
	for _, mz := range f.MZ {
		o.MZ = append(o.MZ, float64(mz))
	}
	o.Field = sector.Tesla(f.Paths.Field)
	return apparatus.Rays(f.With.Sector, o)
}

// sweep raises the field from just below what brings m/z from to the detector
// to just above what brings m/z to.
func (f *figure) sweep(ions []sector.Ion, from, to float64) (*sector.Recording, error) {
	instrument := f.With.Sector
	power, err := instrument.ResolvingPower()
	if err != nil {
		return nil, err
	}
	margin := math.Max(0.6, 2*to/power)
	first, err := instrument.Field(math.Max(from-margin, from/2))
	if err != nil {
		return nil, err
	}
	last, err := instrument.Field(to + margin)
	if err != nil {
		return nil, err
	}
	// A peak is 1/(2 R) of its field wide, since the field goes with the root
	// of m/z.
	steps := int(math.Ceil(math.Log(float64(last/first)) * 2 * power * pointsAcross))
	recording, err := sector.Sweep(instrument, ions, sector.SweepSettings{From: first, To: last, Steps: min(max(steps, 500), 20_000), Exponential: true})
	if err != nil || f.Sweep.Seconds == 0 {
		return recording, err
	}
	counts, err := recording.Count(f.counting(slices.Max(recording.Trace.Y)))
	if err != nil {
		return nil, err
	}
	recording.Trace = counts.Trace
	return recording, nil
}

// within lists the arrivals of a range of m/z, light ions first.
func within(r *sector.Recording, from, to float64) []sector.Window {
	return slices.DeleteFunc(slices.Clone(r.Windows), func(w sector.Window) bool {
		mz := r.Ions[w.Ion].MZ
		return mz < from || mz > to
	})
}

// strongest are at most n arrivals, those of the largest currents.
func strongest(r *sector.Recording, from, to float64, n int) []sector.Window {
	all := within(r, from, to)
	slices.SortStableFunc(all, func(a, b sector.Window) int {
		return cmp.Compare(r.Ions[b.Ion].Intensity, r.Ions[a.Ion].Intensity)
	})
	return all[:min(n, len(all))]
}

// sweepTable says at which field each ion arrives.
func sweepTable(r *sector.Recording, from, to float64) draw.Table {
	t := draw.Table{
		Caption: fmt.Sprintf("The field at which each ion reaches the detector of %s", r.Instrument.Name),
		Columns: []string{"m/z", "field", "relative intensity (%)"},
	}
	for _, w := range within(r, from, to) {
		ion := r.Ions[w.Ion]
		if ion.Intensity < leastListed {
			continue
		}
		t.Rows = append(t.Rows, []string{
			plot.MZ(ion.MZ, 0), eval.Print(eval.Field, float64(w.Center)).String(), plot.Percent(ion.Intensity),
		})
	}
	return t
}
