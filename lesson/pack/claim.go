package pack

import (
	"html/template"
	"math"
	"slices"
	"strconv"

	"github.com/yuin/goldmark/util"

	"ionwright/lesson/check"
	"ionwright/lesson/eval"
	"ionwright/lesson/load"
	"ionwright/lesson/source"
	"ionwright/sector"
)

// claimRow is a claim as the key page lists it.
type claimRow struct {
	Number string
	Says   template.HTML
	That   string
	Parts  []eval.Part
	From   []string
}

func (w *writer) claimRows() ([]claimRow, error) {
	var rows []claimRow
	for _, c := range w.report.Claims {
		says, err := w.inline(c.Source.Says)
		if err != nil {
			return nil, err
		}
		rows = append(rows, claimRow{strconv.Itoa(c.Number), says, c.Source.That.Value, c.Parts, c.From})
	}
	return rows, nil
}

// claimMark leaves a link to the claim where it stands in the lesson.
func (w *writer) claimMark(out util.BufWriter, b *source.Claim) error {
	i := slices.IndexFunc(w.report.Claims, func(c *check.Claim) bool { return c.Source == b })
	return w.tmpl.ExecuteTemplate(out, "claimmark", strconv.Itoa(w.report.Claims[i].Number))
}

// instrumentData describes an instrument.
type instrumentData struct {
	Name, Radius, Voltage, Slit, Power, Caution string
	Angle, Electric                             string // what bends the beam
	Whole, Largest                              string // resolving power with everything that widens a peak; empty for slits alone
}

func instrumentOf(i *load.Instrument) (instrumentData, error) {
	power, err := i.Sector.ResolvingPower()
	if err != nil {
		return instrumentData{}, err
	}
	budget, err := i.Sector.Budget()
	if err != nil {
		return instrumentData{}, err
	}
	layout, err := i.Sector.Layout()
	if err != nil {
		return instrumentData{}, err
	}
	data := instrumentData{
		Name:    i.Name,
		Radius:  eval.Print(eval.Length, float64(i.Sector.Radius)).String(),
		Voltage: eval.Print(eval.Voltage, float64(i.Sector.Voltage)).String(),
		Slit:    eval.Print(eval.Length, float64(i.Sector.CollectorSlit)).String(),
		Power:   eval.Print(eval.ResolvingPower, power).String(),
		Angle:   degrees(layout.Magnet.Angle),
		Caution: sector.Caution,
	}
	if e := i.Sector.Electric; e != nil {
		data.Electric = degrees(e.Angle)
	}
	if len(budget.Contributions) > 2 { // more than the two slits
		data.Whole, data.Largest = eval.Print(eval.ResolvingPower, budget.All).String(), budget.LargestHinders
	}
	return data, nil
}

// degrees prints an angle.
func degrees(a sector.Radian) string {
	return eval.Print(eval.Plain, float64(a)*180/math.Pi).String() + "°"
}
