package main

import (
	"math"
	"strings"

	"ionwright/sector"
	"ionwright/spectrum"
)

// power is the resolving power of an instrument: computed, and measured from a
// trace.
type power struct {
	MZ            float64        `json:"mz"`
	ClosedForm    float64        `json:"closedForm"`           // of the two slits alone
	Form          string         `json:"form"`                 // of it, in symbols
	Budget        float64        `json:"budget"`               // with all contributions added
	Valley10      float64        `json:"valley10,omitempty"`   // measured, 10 % valley
	HalfHeight    float64        `json:"halfHeight,omitempty"` // measured, full width at half maximum
	NotMeasured   string         `json:"notMeasured,omitempty"`
	Contributions []contribution `json:"contributions"` // largest first
	Largest       string         `json:"largest"`
}

type contribution struct {
	Cause string  `json:"cause"`
	Width float64 `json:"width"` // m, at the collector
	MZ    float64 `json:"mz"`    // the same in m/z, at the measured ion
	Share float64 `json:"share"` // of all contributions
}

// measurePower compares what the instrument should resolve with what the trace
// of a field sweep shows at an m/z.
func measurePower(i sector.Instrument, t spectrum.Trace, mz float64) (*power, error) {
	b, err := i.Budget()
	if err != nil {
		return nil, err
	}
	p := &power{MZ: mz, ClosedForm: b.Slits, Budget: b.All, Largest: b.LargestHinders, Form: "dispersion / (image + slit)"}
	if symmetric := float64(i.Radius / (i.SourceSlit + i.CollectorSlit)); math.Abs(b.Slits/symmetric-1) < 1e-6 {
		p.Form = "r / (s1 + s2)"
	}
	for _, c := range b.Contributions {
		p.Contributions = append(p.Contributions, contribution{c.Cause, float64(c.Width), c.Parts * mz, c.Parts * b.All})
	}
	r, err := i.Resolution(t, mz)
	if err != nil {
		p.NotMeasured = err.Error()
		return p, nil
	}
	p.MZ, p.Valley10, p.HalfHeight = r.MZ, r.Valley10, r.HalfHeight
	return p, nil
}

// print writes the table.
func (p *power) print(c *call) {
	c.print("resolving power at m/z %.2f", p.MZ)
	c.print("  %-66s %8.0f", "computed from the two slits alone, "+p.Form, p.ClosedForm)
	c.print("  %-66s %8.0f", "computed with everything below added, by the width at the base", p.Budget)
	if p.NotMeasured != "" {
		c.print("  not measured: %s", p.NotMeasured)
	} else {
		c.print("  %-66s %8.0f", "measured from the trace, by a valley of 10 %", p.Valley10)
		c.print("  %-66s %8.0f", "measured from the trace, by the width at half height", p.HalfHeight)
	}
	c.print("  %-34s %14s %9s %8s", "what makes the peak wide", "at the slit", "in m/z", "share")
	const little = 0.005 // share under which a contribution isn't listed
	var rest []string
	for _, one := range p.Contributions {
		if one.Share < little {
			rest = append(rest, one.Cause)
			continue
		}
		c.print("  %-34s %11.4f mm %9.4f %6.0f %%", one.Cause, one.Width*1000, one.MZ, 100*one.Share)
	}
	if len(rest) > 0 {
		c.print("  under %g %% each: %s", 100*little, strings.Join(rest, ", "))
	}
	c.print("the largest contribution is the %s", p.Largest)
}
