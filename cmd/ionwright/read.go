package main

import (
	"context"
	"fmt"
	"math"
	"strings"

	"ionwright/chem"
	"ionwright/reading"
	"ionwright/spectrum"
)

type readIn struct {
	Peaks [][2]float64 `json:"peaks"` // m/z, intensity
	Mass  int          `json:"mass"`  // nominal, Da; 0: not told
}

type readAnswer struct {
	MolecularIon []readIon     `json:"molecularIon"`
	Formulas     []readFormula `json:"formulas"`
	Groups       []readGroup   `json:"groups"`
}

type readIon struct {
	MZ          int      `json:"mz"`
	Probability float64  `json:"probability"`
	Reasons     []string `json:"reasons,omitempty"`
}

type readFormula struct {
	Formula     string  `json:"formula"`
	Probability float64 `json:"probability"`
}

type readGroup struct {
	Name        string  `json:"name"`
	Probability float64 `json:"probability"`
}

type readClue struct {
	Title        string   `json:"title"`
	Sentence     string   `json:"sentence"`
	Peaks        []int    `json:"peaks"`
	Suggests     []string `json:"suggests"`
	Alternatives []string `json:"alternatives,omitempty"`
	Probability  float64  `json:"probability"`
}

// readResult is what "read --json" writes.
type readResult struct {
	File     string `json:"file"`
	BasePeak int    `json:"basePeak"`
	readAnswer
	Clues  []readClue `json:"clues"`
	Doubts []string   `json:"doubts,omitempty"`
}

func runRead(ctx context.Context, c *call) error {
	mass := c.flags.Int("mass", 0, "the nominal `MASS` in Da, if it is known")
	formula := c.flags.String("formula", "", "the molecular `FORMULA`, if it is known")
	streamed := c.flags.Bool("stream", false, "read {\"id\",\"peaks\",\"mass\"} a line")
	args, err := c.parse(0, 1)
	if err != nil {
		return err
	}
	if *streamed {
		return stream(ctx, c, func(_ context.Context, in readIn) (any, error) {
			s, err := ofPairs(in.Peaks)
			if err != nil {
				return nil, err
			}
			if in.Mass < 0 {
				return nil, fmt.Errorf("the mass can't be %d", in.Mass)
			}
			return lineOf(reading.Read(s, reading.Given{NominalMass: in.Mass})), nil
		})
	}
	if len(args) == 0 {
		return wrongUsage("a spectrum file is missing")
	}
	if *mass < 0 {
		return wrongUsage("the mass can't be %d", *mass)
	}
	given := reading.Given{NominalMass: *mass}
	if *formula != "" {
		if given.Formula, err = chem.ParseFormula(*formula); err != nil {
			return wrongUsage("%v", err)
		}
	}
	s, err := c.readSpectrum(args[0])
	if err != nil {
		return err
	}
	r := reading.Read(s, given)
	if c.json {
		return c.printJSON(resultOf(args[0], r))
	}
	c.printReading(r)
	return nil
}

// ofPairs is a spectrum given as pairs of m/z and intensity.
func ofPairs(pairs [][2]float64) (spectrum.Spectrum, error) {
	if len(pairs) == 0 {
		return spectrum.Spectrum{}, fmt.Errorf("there are no peaks")
	}
	peaks := make([]spectrum.Peak, len(pairs))
	for i, p := range pairs {
		peaks[i] = spectrum.Peak{MZ: p[0], Intensity: p[1]}
	}
	return spectrum.New(peaks)
}

func lineOf(r reading.Reading) readAnswer {
	line := readAnswer{MolecularIon: []readIon{}, Formulas: []readFormula{}, Groups: []readGroup{}}
	for _, m := range r.MolecularIon {
		line.MolecularIon = append(line.MolecularIon, readIon{MZ: m.MZ, Probability: digits(m.Probability)})
	}
	for _, f := range r.Formulas {
		line.Formulas = append(line.Formulas, readFormula{f.Formula.String(), digits(f.Probability)})
	}
	for _, g := range r.Groups {
		line.Groups = append(line.Groups, readGroup{g.Name, digits(g.Probability)})
	}
	return line
}

// digits rounds a probability to six decimals.
func digits(p float64) float64 { return math.Round(p*1e6) / 1e6 }

func resultOf(file string, r reading.Reading) readResult {
	out := readResult{File: file, BasePeak: r.BasePeak, readAnswer: lineOf(r), Clues: []readClue{}, Doubts: r.Doubts}
	for i, m := range r.MolecularIon {
		out.MolecularIon[i].Reasons = m.Reasons
	}
	for _, clue := range r.Clues {
		out.Clues = append(out.Clues, readClue{clue.Title, clue.Sentence, clue.Peaks, clue.Suggests, clue.Alternatives, digits(clue.Probability)})
	}
	return out
}

// printReading writes a reading in the order in which it is taught.
func (c *call) printReading(r reading.Reading) {
	const few = 5
	for _, d := range r.Doubts {
		c.print("doubt: %s", d)
	}
	c.print("base peak: m/z %d", r.BasePeak)
	for i, m := range r.MolecularIon[:min(few, len(r.MolecularIon))] {
		if i == 0 {
			c.print("molecular ion:")
		}
		c.print("  m/z %d (%.0f %%)", m.MZ, 100*m.Probability)
		for _, reason := range m.Reasons {
			c.print("    %s", reason)
		}
	}
	c.print("clues:")
	for _, clue := range r.Clues {
		c.print("  %s (%.0f %%): %s", clue.Title, 100*clue.Probability, clue.Sentence)
		if len(clue.Alternatives) > 0 {
			c.print("    what else would give it: %s", strings.Join(clue.Alternatives, "; "))
		}
	}
	for i, f := range r.Formulas[:min(few, len(r.Formulas))] {
		if i == 0 {
			c.print("formulas:")
		}
		c.print("  %s (%.0f %%)", f.Formula.Unicode(), 100*f.Probability)
	}
	const likely = 0.3
	for i, g := range r.Groups {
		if i == 0 {
			c.print("functional groups:")
		}
		if g.Probability >= likely {
			c.print("  %s (%.0f %%)", g.Name, 100*g.Probability)
		}
	}
}
