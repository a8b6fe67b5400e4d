package plot

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"ionwright/draw"
	"ionwright/spectrum"
)

// name is what the spectrum is called in this mode.
func (c *chart) name() string {
	if c.o.Mode == Test {
		return c.o.Alias
	}
	return c.o.Name
}

func (c *chart) title() string {
	title := "Mass spectrum"
	if name := c.name(); name != "" {
		title += " of " + name
	}
	if c.o.Mode == Teaching && c.info.Origin != spectrum.Unknown {
		title += " (" + c.info.Origin.String() + ")"
	}
	return title
}

// form is how the spectrum is drawn.
func (c *chart) form() string {
	if c.o.PeakWidth > 0 {
		return "Profile spectrum"
	}
	return "Stick spectrum"
}

func (c *chart) mzText(mz float64) string { return MZ(mz, c.o.Decimals) }

// description is the one sentence. In Test mode it says what is drawn and not
// what is seen.
func (c *chart) description() string {
	lo, hi := c.mzText(c.o.From), c.mzText(c.o.To)
	if c.o.Mode == Test {
		return fmt.Sprintf("%s with %s, m/z from %s to %s and relative intensity from 0 to 100 %%; the table lists them.", c.form(), count(len(c.peaks), "peak"), lo, hi)
	}
	base := c.peaks[c.rank[0]]
	parts := []string{fmt.Sprintf("base peak at m/z %s", c.mzText(base.mz))}
	if base.percent < 99.95 {
		parts[0] = fmt.Sprintf("strongest peak in this range at m/z %s (%s %%)", c.mzText(base.mz), Percent(base.percent))
	}
	if m := c.o.MolecularIon; m > 0 {
		switch i := c.find(m); {
		case i < 0:
			parts = append(parts, fmt.Sprintf("no molecular ion to be seen at m/z %s", c.mzText(m)))
		case c.peaks[i] == base:
			parts = []string{parts[0] + ", which is the molecular ion"}
		default:
			parts = append(parts, fmt.Sprintf("molecular ion at m/z %s (%s %%)", c.mzText(m), Percent(c.peaks[i].percent)))
		}
	}
	if losses := c.mainLosses(); len(losses) > 0 {
		var words []string
		for _, l := range losses {
			words = append(words, c.lossWords(l))
		}
		parts = append(parts, "main losses: "+list(words))
	}
	return fmt.Sprintf("%s, m/z %s to %s: %s.", c.form(), lo, hi, strings.Join(parts, "; "))
}

// mainLosses is the losses that the figure draws, or else those from the
// molecular ion to the three strongest peaks of at least 5 % that stand out
// from their neighbours and still have half of its mass: below that, "loss"
// says little. Losses of 4 to 12 and of 21 to 25 don't occur (common
// practice).
func (c *chart) mainLosses() []Loss {
	if len(c.o.Losses) > 0 {
		return c.o.Losses
	}
	var losses []Loss
	for _, i := range c.rank {
		if c.o.MolecularIon == 0 || len(losses) == 3 {
			break
		}
		p := c.peaks[i]
		lost := math.Round(c.o.MolecularIon - p.mz)
		if p.percent < 5 || !c.standsOut(i) || 2*p.mz < c.o.MolecularIon || lost < 1 || lost >= 4 && lost <= 12 || lost >= 21 && lost <= 25 {
			continue
		}
		losses = append(losses, Loss{From: c.o.MolecularIon, To: p.mz})
	}
	slices.SortStableFunc(losses, func(a, b Loss) int { return cmp.Compare(b.To, a.To) })
	return losses
}

func (c *chart) lossWords(l Loss) string {
	from, to := max(l.From, l.To), min(l.From, l.To)
	words := MZ(from-to, c.o.Decimals)
	if len(l.Text) > 0 {
		words += " (" + draw.RunsString(l.Text) + ")"
	}
	if from != c.o.MolecularIon {
		words += " from m/z " + c.mzText(from)
	}
	return words + " to m/z " + c.mzText(to)
}

// detail lists the strongest peaks and the assignments.
func (c *chart) detail() string {
	if c.o.Mode == Test {
		return ""
	}
	var strongest []string
	for _, i := range c.rank[:min(5, len(c.rank))] {
		strongest = append(strongest, fmt.Sprintf("%s (%s %%)", c.mzText(c.peaks[i].mz), Percent(c.peaks[i].percent)))
	}
	detail := "Strongest peaks by m/z: " + list(strongest) + "."
	var assigned []string
	drawn := ""
	for _, a := range c.o.Assignments {
		if c.find(a.MZ) >= 0 {
			assigned = append(assigned, fmt.Sprintf("m/z %s as %s", c.mzText(a.MZ), draw.RunsString(a.Text)))
		}
	}
	for _, in := range c.o.Insets {
		words := in.Figure.Description
		if words == "" {
			words = in.Figure.Title + "."
		}
		drawn += fmt.Sprintf(" Beside m/z %s: %s", c.mzText(in.MZ), words)
	}
	if len(assigned) > 0 {
		detail += " Assigned: " + list(assigned) + "."
	}
	return detail + drawn
}

// table is the peak list.
func (c *chart) table() draw.Table {
	t := draw.Table{Caption: "Peaks: " + c.title(), Columns: []string{"m/z", "relative intensity (%)"}}
	labelled := len(c.o.Assignments) > 0 || c.o.MolecularIon > 0
	if labelled {
		t.Columns = append(t.Columns, "assignment")
	}
	for i, p := range c.peaks {
		row := []string{c.mzText(p.mz), Percent(p.percent)}
		if labelled {
			var words []string
			for _, line := range c.lines(i)[1:] {
				words = append(words, draw.RunsString(line))
			}
			row = append(row, strings.Join(words, ", "))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// count is "1 peak" or "2 peaks".
func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// list joins words with commas and a last "and".
func list(words []string) string {
	switch len(words) {
	case 0:
		return ""
	case 1:
		return words[0]
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}
