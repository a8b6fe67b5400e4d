package main

import (
	"context"
	"fmt"
	"math"

	"ionwright/ionize"
	"ionwright/mol/names"
	"ionwright/spectrum"
)

type predictIn struct {
	SMILES string  `json:"smiles"`
	EV     float64 `json:"eV"`
}

type predictLine struct {
	Peaks [][2]float64 `json:"peaks"` // m/z, intensity with base peak = 1000
}

// predictResult is what "predict --json" writes.
type predictResult struct {
	SMILES     string         `json:"smiles"`
	Formula    string         `json:"formula"`
	EV         float64        `json:"eV"`
	Note       string         `json:"note"`
	Confidence float64        `json:"confidence"`
	Peaks      [][2]float64   `json:"peaks"`
	Ions       []predictedIon `json:"ions"`
}

type predictedIon struct {
	MZ        int     `json:"mz"`
	Formula   string  `json:"formula"`
	Abundance float64 `json:"abundance"`
	Route     string  `json:"route"`
}

// computedNote stands beside every computed spectrum.
const computedNote = "computed by a model, not measured: it shows where peaks stand and how they come about; measured heights differ"

func runPredict(ctx context.Context, c *call) error {
	ev := c.flags.Float64("ev", 70, "the `ENERGY` of the electrons in eV")
	energies := c.flags.String("energies", "", "breakdown curves at these energies of the electrons, FROM:TO:STEP in eV, instead of one spectrum; `RANGE` such as 12:70:2")
	file := c.flags.String("o", "", "with --energies: the `FILE` to draw the curves into, its ending .svg, .png or .pdf")
	streamed := c.flags.Bool("stream", false, "read {\"id\",\"smiles\",\"eV\"} a line")
	args, err := c.parse(0, 1)
	if err != nil {
		return err
	}
	if *streamed {
		return stream(ctx, c, func(ctx context.Context, in predictIn) (any, error) {
			p, err := predict(ctx, in.SMILES, in.EV)
			if err != nil {
				return nil, err
			}
			return predictLine{listed(p.Spectrum())}, nil
		})
	}
	if len(args) == 0 {
		return wrongUsage("a SMILES or a name is missing")
	}
	if *energies != "" {
		return runBreakdown(ctx, c, args[0], *energies, *file)
	}
	if *file != "" {
		return wrongUsage("-o draws breakdown curves and needs --energies; \"ionwright draw spectrum\" draws a spectrum")
	}
	p, err := predict(ctx, args[0], *ev)
	if err != nil {
		return err
	}
	result := predictResult{SMILES: args[0], Formula: p.Mol.Formula().String(), EV: p.Settings.EnergyEV, Note: computedNote,
		Confidence: p.Confidence, Peaks: listed(p.Spectrum())}
	for _, ion := range p.Ions {
		if ion.Abundance >= leastIon {
			result.Ions = append(result.Ions, predictedIon{ion.MZ, ion.Formula.String(), ion.Abundance, p.Sentence(ion)})
		}
	}
	if c.json {
		return c.printJSON(result)
	}
	c.print("%s, %s, %g eV", result.SMILES, p.Mol.Formula().Unicode(), result.EV)
	c.print("%s;", computedNote)
	c.print("expect a cosine of about %.1f with a measured spectrum (1 is the same, two measurements reach 0.9)", p.Confidence)
	c.print("%6s %9s", "m/z", "relative")
	for _, peak := range result.Peaks {
		c.print("%6g %9.1f", peak[0], peak[1]/10)
	}
	for _, ion := range result.Ions {
		c.print("%s", ion.Route)
	}
	return nil
}

// leastIon is the share of all ions under which an ion isn't listed.
const leastIon = 0.005

// predict computes what becomes of a structure; ev 0 means 70 eV.
func predict(ctx context.Context, text string, ev float64) (*ionize.Prediction, error) {
	if text == "" {
		return nil, fmt.Errorf("the SMILES is empty")
	}
	m, err := names.Structure(text)
	if err != nil {
		return nil, err
	}
	return ionize.Predict(ctx, m, ionize.Settings{EnergyEV: ev})
}

// listed is a spectrum as pairs of whole m/z and intensity, base peak 1000.
// Peaks that would be 0 are left out.
func listed(s spectrum.Spectrum) [][2]float64 {
	out := [][2]float64{}
	for _, p := range s.Unit().Scaled(1000).Peaks {
		if x := math.Round(p.Intensity*10) / 10; x > 0 {
			out = append(out, [2]float64{p.MZ, x})
		}
	}
	return out
}
