package main

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"ionwright/chem"
	"ionwright/reading"
	"ionwright/reading/candidate"
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
	Clues      []readClue      `json:"clues"`
	Argument   []readStatement `json:"argument"`
	Undecided  []readOpen      `json:"undecided"`
	Doubts     []string        `json:"doubts,omitempty"`
	SetApart   []int           `json:"setApart,omitempty"` // m/z of background
	Candidates *readRanking    `json:"candidates,omitempty"`
}

type readStatement struct {
	About string `json:"about"`
	Hint  string `json:"hint"`
	Step  string `json:"step"`
	Full  string `json:"full"`
	Peaks []int  `json:"peaks"`
}

type readOpen struct {
	Question    string `json:"question"`
	Measurement string `json:"measurement"`
}

func runRead(ctx context.Context, c *call) error {
	var given reading.Given
	var formula string
	var candidates []string
	c.flags.IntVar(&given.NominalMass, "mass", 0, "the nominal `MASS` in Da, if it is known")
	c.flags.StringVar(&formula, "formula", "", "the molecular `FORMULA`, if it is known")
	c.flags.Func("given", "`WHAT=VALUE` that is known: mass=86, formula=C5H10O or groups=ketone,ester; may be repeated", func(text string) error {
		return giveReader(&given, &formula, text)
	})
	c.flags.Func("candidates", "a `FILE` of structures (a line: SMILES or name), or one SMILES or name, to rank; may be repeated", func(text string) error {
		candidates = append(candidates, text)
		return nil
	})
	depth := c.flags.String("depth", "full", "how much is told: `hint`, step or full")
	streamed := c.flags.Bool("stream", false, "read {\"id\",\"peaks\",\"mass\"} a line")
	args, err := c.parse(0, 1)
	if err != nil {
		return err
	}
	if *streamed {
		return streamReadings(ctx, c)
	}
	level, ok := map[string]reading.Depth{"hint": reading.Hint, "step": reading.Step, "full": reading.Full}[*depth]
	if !ok {
		return wrongUsage("the depth %q is none of hint, step and full", *depth)
	}
	if len(args) == 0 {
		return wrongUsage("a spectrum file is missing")
	}
	if given.NominalMass < 0 {
		return wrongUsage("the mass can't be %d", given.NominalMass)
	}
	if formula != "" {
		if given.Formula, err = chem.ParseFormula(formula); err != nil {
			return wrongUsage("%v", err)
		}
	}
	structures, err := c.readCandidates(candidates)
	if err != nil {
		return err
	}
	s, err := c.readSpectrum(args[0])
	if err != nil {
		return err
	}
	r := reading.Read(s, given)
	var ranking *candidate.Ranking
	if len(structures) > 0 {
		ranked, err := candidate.Rank(ctx, s, given, structures)
		if err != nil {
			return err
		}
		ranking = &ranked
	}
	if c.json {
		return c.printJSON(resultOf(args[0], r, ranking))
	}
	c.printReading(r, level)
	if ranking != nil && level == reading.Full {
		c.printRanking(*ranking)
	}
	return nil
}

// giveReader takes one fact that the reader is told.
func giveReader(given *reading.Given, formula *string, text string) error {
	what, value, _ := strings.Cut(text, "=")
	switch what {
	case "mass":
		m, err := strconv.Atoi(value)
		if err != nil {
			return fmt.Errorf("the mass %q isn't a whole number", value)
		}
		given.NominalMass = m
	case "formula":
		*formula = value
	case "groups", "group":
		for name := range strings.SplitSeq(value, ",") {
			if name = strings.TrimSpace(name); !slices.Contains(reading.AllGroupNames(), name) {
				return fmt.Errorf("the group %q isn't one that is read for; those are: %s", name, strings.Join(reading.AllGroupNames(), ", "))
			}
			given.Groups = append(given.Groups, name)
		}
	default:
		return fmt.Errorf("%q can't be given; write mass=, formula= or groups=", what)
	}
	return nil
}

// streamReadings answers a line of peaks with a line of readings.
func streamReadings(ctx context.Context, c *call) error {
	return stream(ctx, c, func(_ context.Context, in readIn) (any, error) {
		s, err := ofPairs(in.Peaks)
		if err != nil {
			return nil, err
		}
		if in.Mass < 0 {
			return nil, fmt.Errorf("the mass can't be %d", in.Mass)
		}
		return lineOf(reading.Quick(s, reading.Given{NominalMass: in.Mass})), nil
	})
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

func resultOf(file string, r reading.Reading, ranking *candidate.Ranking) readResult {
	out := readResult{File: file, BasePeak: r.BasePeak, readAnswer: lineOf(r), Clues: []readClue{}, Doubts: r.Doubts, SetApart: r.SetApart}
	for i, m := range r.MolecularIon {
		out.MolecularIon[i].Reasons = m.Reasons
	}
	for _, clue := range r.Clues {
		out.Clues = append(out.Clues, readClue{clue.Title, clue.Sentence, clue.Peaks, clue.Suggests, clue.Alternatives, digits(clue.Probability)})
	}
	for _, a := range r.Argument {
		out.Argument = append(out.Argument, readStatement{a.About, a.Hint, a.Step, a.Full, a.Peaks})
	}
	for _, o := range r.Open {
		out.Undecided = append(out.Undecided, readOpen(o))
	}
	if ranking != nil {
		out.Candidates = rankingOf(*ranking)
	}
	return out
}
