package main

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"ionwright/ionize"
	"ionwright/mol/names"
	"ionwright/spectrum"
)

type explainIn struct {
	SMILES string       `json:"smiles"`
	Peaks  [][2]float64 `json:"peaks"`
	EV     float64      `json:"eV"`
}

type explainLine struct {
	Peaks     []explainedPeak `json:"peaks"`
	Explained float64         `json:"explained"` // share of the ion current, 0 to 1
}

type explainedPeak struct {
	MZ        int              `json:"mz"`
	Intensity float64          `json:"intensity"`
	Routes    []explainedRoute `json:"routes"` // none where the peak isn't explained
}

type explainedRoute struct {
	Ion     string          `json:"ion"`
	Formula string          `json:"formula"`
	Steps   []explainedStep `json:"steps"`
}

type explainedStep struct {
	Type string `json:"type"`
	Loss string `json:"loss"`
}

// explainResult is what "explain --json" writes.
type explainResult struct {
	SMILES    string       `json:"smiles"`
	Formula   string       `json:"formula"`
	EV        float64      `json:"eV"`
	Note      string       `json:"note"`
	Explained float64      `json:"explained"`
	From      int          `json:"from"` // lowest m/z that counts in explained
	Peaks     []toldPeak   `json:"peaks"`
	Missing   [][2]float64 `json:"missing"` // m/z and height of strong computed peaks that weren't measured
}

type toldPeak struct {
	explainedPeak
	Computed float64 `json:"computed"` // height in the computed spectrum, base peak = 1000
	Sentence string  `json:"sentence"`
}

func runExplain(ctx context.Context, c *call) error {
	ev := c.flags.Float64("ev", 0, "the `ENERGY` of the electrons in eV (default what the file says, or 70)")
	least := c.flags.Float64("least", 1, "leave out peaks below so many `PERCENT` of the base peak")
	streamed := c.flags.Bool("stream", false, "read {\"id\",\"smiles\",\"peaks\":[[mz,intensity],...]} a line")
	args, err := c.parse(0, 2)
	if err != nil {
		return err
	}
	if *streamed {
		return stream(ctx, c, explainOne)
	}
	if len(args) < 2 {
		return wrongUsage("a SMILES or a name, and a spectrum file are needed")
	}
	measured, err := c.readSpectrum(args[1])
	if err != nil {
		return err
	}
	energy := *ev
	if energy == 0 {
		energy = measured.Info.EnergyEV
	}
	a, err := explain(ctx, args[0], measured, energy)
	if err != nil {
		return err
	}
	result := explained(a, args[0], *least)
	if c.json {
		return c.printJSON(result)
	}
	c.print("%s, %s, against %s, %g eV", args[0], a.Prediction.Mol.Formula().Unicode(), args[1], result.EV)
	c.print("%s", upperFirst(a.Summary()))
	c.print("")
	for _, peak := range result.Peaks {
		c.print("%s", peak.Sentence)
	}
	if text := missing(result.Missing); text != "" {
		c.print("")
		c.print("%s", text)
	}
	c.print("")
	c.print("%s.", upperFirst(ionize.Caution))
	return nil
}

// explainOne answers one line of the stream.
func explainOne(ctx context.Context, in explainIn) (any, error) {
	peaks := make([]spectrum.Peak, len(in.Peaks))
	for i, p := range in.Peaks {
		peaks[i] = spectrum.Peak{MZ: p[0], Intensity: p[1]}
	}
	measured, err := spectrum.New(peaks)
	if err != nil {
		return nil, fmt.Errorf("reading the peaks: %w", err)
	}
	a, err := explain(ctx, in.SMILES, measured, in.EV)
	if err != nil {
		return nil, err
	}
	line := explainLine{Peaks: []explainedPeak{}, Explained: rounded(a.Explained)}
	for _, peak := range a.Peaks {
		line.Peaks = append(line.Peaks, routed(peak))
	}
	return line, nil
}

func explain(ctx context.Context, text string, measured spectrum.Spectrum, ev float64) (*ionize.Assignment, error) {
	if text == "" {
		return nil, fmt.Errorf("the SMILES is empty")
	}
	m, err := names.Structure(text)
	if err != nil {
		return nil, err
	}
	return ionize.Explain(ctx, m, measured, ionize.Settings{EnergyEV: ev})
}

// explained is the assignment as it is printed: the strongest peaks first.
func explained(a *ionize.Assignment, text string, least float64) explainResult {
	p := a.Prediction
	out := explainResult{SMILES: text, Formula: p.Mol.Formula().String(), EV: p.Settings.EnergyEV, Note: ionize.Caution,
		Explained: rounded(a.Explained), From: a.From, Peaks: []toldPeak{}, Missing: [][2]float64{}}
	peaks := slices.Clone(a.Peaks)
	slices.SortStableFunc(peaks, func(x, y ionize.AssignedPeak) int { return cmp.Compare(y.Intensity, x.Intensity) })
	for _, peak := range peaks {
		if peak.Relative >= least {
			out.Peaks = append(out.Peaks, toldPeak{routed(peak), math.Round(10*10*peak.Computed) / 10, a.Sentence(peak)})
		}
	}
	for _, peak := range a.Missing() {
		out.Missing = append(out.Missing, [2]float64{peak.MZ, math.Round(10*10*peak.Intensity) / 10})
	}
	return out
}

// missing says which strong computed peaks weren't measured.
func missing(peaks [][2]float64) string {
	if len(peaks) == 0 {
		return ""
	}
	text := "Computed, but not measured: "
	for i, p := range peaks {
		if i > 0 {
			text += ", "
		}
		text += fmt.Sprintf("m/z %g (%.0f %%)", p[0], p[1]/10)
	}
	return text + "."
}

// routed is a peak with the routes to its ions, none where it isn't explained.
func routed(peak ionize.AssignedPeak) explainedPeak {
	out := explainedPeak{peak.MZ, peak.Intensity, []explainedRoute{}}
	if !peak.Explained {
		return out
	}
	for _, o := range peak.Origins {
		route := explainedRoute{Ion: o.Ion.Notation(), Formula: o.Ion.Formula.String(), Steps: []explainedStep{}}
		for _, step := range o.Route {
			route.Steps = append(route.Steps, explainedStep{step.Kind.String(), step.Loss.String()})
		}
		out.Routes = append(out.Routes, route)
	}
	return out
}

// rounded is a share to four digits.
func rounded(x float64) float64 { return math.Round(x*1e4) / 1e4 }
