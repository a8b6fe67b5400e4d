package main

import (
	"bytes"
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"ionwright/draw"
	"ionwright/draw/output"
	"ionwright/draw/plot"
	"ionwright/ionize"
	"ionwright/mol/names"
)

// mostEnergies is how many electron energies one call computes.
const mostEnergies = 500

// mainCurves is how many ions the table and the figure show; more can't be told
// apart in a figure.
const mainCurves = 7

// lowestCurve is the m/z below which no fit supports the curves.
const lowestCurve = 26

// breakdownResult is what "predict --energies --json" writes.
type breakdownResult struct {
	SMILES   string           `json:"smiles"`
	Formula  string           `json:"formula"`
	Note     string           `json:"note"`
	Energies []float64        `json:"energies"` // eV
	Curves   []breakdownCurve `json:"curves"`   // by falling greatest share
}

type breakdownCurve struct {
	MZ      int       `json:"mz"`
	Formula string    `json:"formula"` // of the most abundant ion of the m/z
	Share   []float64 `json:"share"`   // of all ions at each energy, 0 to 1
	name    string
}

// energyRange reads FROM:TO:STEP in eV.
func energyRange(text string) ([]float64, error) {
	parts := strings.Split(text, ":")
	if len(parts) != 3 {
		return nil, wrongUsage("the energies %q have the form FROM:TO:STEP, in eV, such as 10:70:2", text)
	}
	var x [3]float64
	for i, part := range parts {
		v, err := strconv.ParseFloat(part, 64)
		if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
			return nil, wrongUsage("reading the energies %q: %q isn't a number", text, part)
		}
		x[i] = v
	}
	from, to, step := x[0], x[1], x[2]
	switch {
	case !(step > 0):
		return nil, wrongUsage("reading the energies %q: the step has to be above 0", text)
	case to < from:
		return nil, wrongUsage("reading the energies %q: they end below where they begin", text)
	case (to-from)/step > mostEnergies:
		return nil, wrongUsage("reading the energies %q: these are more than %d; take a larger step", text, mostEnergies)
	}
	var out []float64
	for k := 0; ; k++ {
		eV := from + float64(k)*step
		if eV > to+step*1e-9 {
			return out, nil
		}
		out = append(out, eV)
	}
}

// runBreakdown computes the breakdown curves of a structure.
func runBreakdown(ctx context.Context, c *call, text, energies, file string) error {
	list, err := energyRange(energies)
	if err != nil {
		return err
	}
	if file != "" {
		if _, err := output.FormatOf(file); err != nil {
			return wrongUsage("%v", err)
		}
	}
	m, err := names.Structure(text)
	if err != nil {
		return err
	}
	b, err := ionize.BreakDown(ctx, m, list)
	if err != nil {
		return err
	}
	result := breakdownResult{SMILES: text, Formula: m.Formula().String(), Note: computedNote, Energies: list, Curves: mainCurvesOf(b)}
	if file != "" {
		if err := drawBreakdown(result, file); err != nil {
			return err
		}
	}
	if c.json {
		return c.printJSON(result)
	}
	c.print("%s, %s: share of all ions in %%, by electron energy in eV", text, m.Formula().Unicode())
	c.print("%s", computedNote)
	head := fmt.Sprintf("%8s", "eV")
	for _, curve := range result.Curves {
		head += fmt.Sprintf(" %8s", "m/z "+strconv.Itoa(curve.MZ))
	}
	c.print("%s", head)
	for k, eV := range list {
		line := fmt.Sprintf("%8.4g", eV)
		for _, curve := range result.Curves {
			line += fmt.Sprintf(" %8.1f", 100*curve.Share[k])
		}
		c.print("%s", line)
	}
	for i, curve := range result.Curves {
		if i == 0 {
			c.print("m/z %d is the molecular ion, %s.", curve.MZ, curve.name)
			continue
		}
		c.print("m/z %d is mostly %s.", curve.MZ, curve.name)
	}
	if file != "" {
		c.print("wrote %s: the curves as a figure", file)
	}
	return nil
}

// mainCurvesOf adds the ions of each m/z up and keeps those that are the
// greatest at some energy: the molecular ion first, then by falling greatest
// share.
func mainCurvesOf(b *ionize.Breakdown) []breakdownCurve {
	var curves []breakdownCurve
	at := map[int]int{}
	for i, ion := range b.Ions { // the most abundant of each m/z comes first
		if ion.MZ < lowestCurve && i > 0 {
			continue
		}
		k, ok := at[ion.MZ]
		if !ok {
			k = len(curves)
			at[ion.MZ] = k
			curves = append(curves, breakdownCurve{MZ: ion.MZ, Formula: ion.Formula.String(), name: ion.Notation(), Share: make([]float64, len(b.Energies))})
		}
		for j, share := range b.Shares[i] {
			curves[k].Share[j] += share
		}
	}
	slices.SortStableFunc(curves[1:], func(x, y breakdownCurve) int {
		return cmp.Compare(slices.Max(y.Share), slices.Max(x.Share))
	})
	curves = curves[:min(len(curves), mainCurves)]
	for _, curve := range curves {
		for j, share := range curve.Share {
			curve.Share[j] = math.Round(share*1e5) / 1e5
		}
	}
	return curves
}

// drawBreakdown writes the figure of the curves into a file.
func drawBreakdown(r breakdownResult, file string) error {
	var series []plot.Series
	for _, curve := range r.Curves {
		s := plot.Series{Name: fmt.Sprintf("m/z %d", curve.MZ), X: r.Energies}
		for _, share := range curve.Share {
			s.Y = append(s.Y, 100*share)
		}
		series = append(series, s)
	}
	figure, err := plot.Lines(series, plot.LinesOptions{
		Title:  "Breakdown of " + r.SMILES + ", computed",
		XTitle: draw.Plain("energy of the electrons (eV)"), YTitle: draw.Words("share of all ions (%)"),
	})
	if err != nil {
		return err
	}
	var text bytes.Buffer
	if err := output.Write(&text, file, figure, output.Options{}); err != nil {
		return err
	}
	if err := replaceFile(file, text.Bytes()); err != nil {
		return fmt.Errorf("writing %q: %w", file, reason(err))
	}
	return nil
}
