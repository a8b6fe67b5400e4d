package motion

import (
	"fmt"
	"math"
	"strings"

	"ionwright/draw"
	"ionwright/draw/plot"
	"ionwright/sector"
)

// mzText writes an m/z: whole where it nearly is, such as 43.018.
func mzText(mz float64) string {
	if math.Abs(mz-math.Round(mz)) < 0.15 {
		return plot.MZ(mz, 0)
	}
	return plot.MZ(mz, 1)
}

// describe writes the words that stand for the animation.
func (f *Film) describe(r *sector.Recording, mzs []float64, name string) {
	i := r.Instrument
	f.figure.Title = "Field sweep"
	if name != "" {
		f.figure.Title += " of " + name
	}
	if i.Name != "" {
		f.figure.Title += " in the instrument \"" + i.Name + "\""
	}
	first, last := r.Trace.X[0], r.Trace.X[len(r.Trace.X)-1]
	var parts []string
	t := draw.Table{Caption: "When the drawn ions reach the detector", Columns: []string{"m/z", "field (T)"}}
	for _, a := range f.arrivals {
		mz := mzText(mzs[a.ion])
		parts = append(parts, fmt.Sprintf("m/z %s at %.3f T", mz, float64(a.field)))
		t.Rows = append(t.Rows, []string{mz, fmt.Sprintf("%.4f", float64(a.field))})
	}
	f.figure.Description = fmt.Sprintf("The field rises from %.3f T to %.3f T, and one ion after another reaches the detector: %s.", first, last, strings.Join(parts, ", "))
	f.figure.Detail = "Paths and field are computed and to scale; the time isn't: the sweep stops for a moment at each drawn ion."
	f.figure.Table = t
}

// arrived is what is said while an ion arrives.
func (f *Film) arrived(a arrival) string {
	return fmt.Sprintf("m/z %s reaches the detector at %.4f T", mzText(f.flights[a.ion].mz), float64(a.field))
}
