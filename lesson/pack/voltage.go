package pack

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"ionwright/draw"
	"ionwright/draw/plot"
	"ionwright/lesson/eval"
	"ionwright/sector"
)

// drawHeld flies the ions of the figure's compound through its instrument while
// the field is held and the accelerating voltage is swept, and draws what is
// recorded. Height 0 is as the drawing likes it.
func (f *figure) drawHeld(width, height float64, labels int) (draw.Figure, error) {
	ions := sector.Ions(f.Compound.Spectrum)
	ions = slices.DeleteFunc(slices.Clone(ions), func(i sector.Ion) bool {
		return f.From > 0 && i.MZ < float64(f.From) || f.To > 0 && i.MZ > float64(f.To)
	})
	if len(ions) == 0 {
		return draw.Figure{}, fmt.Errorf("%s has no peak from m/z %d to %d", f.Compound.Name, f.From, f.To)
	}
	held := sector.Tesla(f.Sweep.Field)
	recording, err := sector.SweepVoltage(f.With.Sector, held, ions, sector.VoltageSettings{Exponential: true})
	if err != nil {
		return draw.Figure{}, err
	}
	trace := recording.Trace
	if f.Sweep.Seconds > 0 {
		counted, err := f.With.Sector.Detector.Count(trace, f.counting(slices.Max(trace.Y)))
		if err != nil {
			return draw.Figure{}, err
		}
		trace = counted.Trace
	}
	windows := slices.Clone(recording.Windows)
	slices.SortStableFunc(windows, func(a, b sector.VoltageWindow) int {
		return cmp.Compare(ions[b.Ion].Intensity, ions[a.Ion].Intensity)
	})
	o := plot.TraceOptions{Width: width, Height: height, Name: f.Compound.Name}
	for _, w := range windows[:min(labels, len(windows))] {
		o.Marks = append(o.Marks, plot.Mark{X: float64(w.Center), Text: draw.Plain(plot.MZ(ions[w.Ion].MZ, 0))})
	}
	drawn, err := plot.Trace(trace, o)
	if err != nil {
		return draw.Figure{}, err
	}
	at := func(w sector.VoltageWindow) string { return eval.Print(eval.Voltage, float64(w.Center)).String() }
	var parts []string
	for _, w := range windows[:min(5, len(windows))] {
		parts = append(parts, fmt.Sprintf("m/z %s at %s (%s %%)", plot.MZ(ions[w.Ion].MZ, 0), at(w), plot.Percent(ions[w.Ion].Intensity)))
	}
	drawn.Title = fmt.Sprintf("Voltage sweep of %s in %s", f.Compound.Name, f.With.Name)
	drawn.Description = fmt.Sprintf("What the detector records while the accelerating voltage rises at the field %s; the strongest ions are %s.",
		eval.Print(eval.Field, f.Sweep.Field), strings.Join(parts, ", "))
	drawn.Detail = "Heavy ions need the lower voltage and arrive first."
	drawn.Table = draw.Table{Caption: fmt.Sprintf("The voltage at which each ion reaches the detector of %s", f.With.Name),
		Columns: []string{"m/z", "voltage", "relative intensity (%)"}}
	for _, w := range recording.Windows {
		if ion := ions[w.Ion]; ion.Intensity >= leastListed {
			drawn.Table.Rows = append(drawn.Table.Rows, []string{plot.MZ(ion.MZ, 0), at(w), plot.Percent(ion.Intensity)})
		}
	}
	return drawn, nil
}

// leastListed is the part of the base peak in percent under which an ion isn't
// listed.
const leastListed = 0.1

// counting is how the figure's sweep counts ions, where the highest current is
// as given.
func (f *figure) counting(highest float64) sector.Counting {
	return sector.Counting{Duration: sector.Second(f.Sweep.Seconds), IonRate: f.Sweep.Rate / highest, Seed: uint64(f.Sweep.Seed)}
}
