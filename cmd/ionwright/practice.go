package main

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"ionwright/lesson/diag"
	"ionwright/mol/names"
	"ionwright/mol/smiles"
	"ionwright/practice"
	"ionwright/practice/answer"
	"ionwright/practice/arrow"
	"ionwright/practice/propose"
)

type practiceResult struct {
	Idea     string            `json:"idea"`
	Level    int               `json:"level"`
	Versions []practiceVersion `json:"versions"`
}

type practiceVersion struct {
	Version    string            `json:"version"`
	Compound   *practiceCompound `json:"compound,omitempty"`
	Difficulty float64           `json:"difficulty"`
	Question   practiceQuestion  `json:"question"`
}

type practiceCompound struct {
	Name   string `json:"name"`
	SMILES string `json:"smiles"`
}

// practiceQuestion is a question as JSON; what gives the answer away is left
// out for students.
type practiceQuestion struct {
	ID       string             `json:"id"`
	Kind     string             `json:"kind"`
	Ask      string             `json:"ask"`
	Marks    float64            `json:"marks"`
	Peaks    [][2]float64       `json:"peaks,omitempty"`  // m/z, % of the base peak
	Assign   []int              `json:"assign,omitempty"` // m/z to be assigned
	Drawn    string             `json:"drawn,omitempty"`  // SMILES with the atoms' numbers, for arrows
	Choices  []practiceChoice   `json:"choices,omitempty"`
	Hints    []string           `json:"hints,omitempty"`
	Answer   *answer.Answer     `json:"answer,omitempty"`
	Solution []string           `json:"solution,omitempty"`
	Scheme   []string           `json:"scheme,omitempty"`
	Expected []practiceExpected `json:"expected,omitempty"` // wrong answers
}

type practiceChoice struct {
	Letter  string `json:"letter"`
	Text    string `json:"text"`
	Because string `json:"because,omitempty"`
	Mistake string `json:"mistake,omitempty"`
}

type practiceExpected struct {
	Answer  string `json:"answer"`
	Mistake string `json:"mistake"`
	Because string `json:"because,omitempty"`
}

func runPractice(ctx context.Context, c *call) error {
	level := c.flags.Int("level", 2, "how hard: `LEVEL` 1 (choices, small molecules), 2 or 3")
	versions := c.flags.Int("versions", 1, "the `NUMBER` of versions, with different compounds of equal difficulty")
	seed := c.flags.Uint64("seed", 1, "another `NUMBER` gives other compounds")
	student := c.flags.Bool("student", false, "leave out what gives the answer away")
	args, err := c.parse(0, 1)
	if err != nil {
		return err
	}
	if len(args) == 0 {
		return c.printIdeas()
	}
	var known []string
	for _, idea := range propose.Ideas() {
		known = append(known, idea.Name)
	}
	if !strings.Contains(" "+strings.Join(known, " ")+" ", " "+args[0]+" ") {
		if near, ok := diag.Nearest(args[0], known); ok {
			return wrongUsage("there is no idea %q; did you mean %q?", args[0], near)
		}
		return wrongUsage("there is no idea %q; the ideas are %s", args[0], strings.Join(known, ", "))
	}
	if *level < 1 || *level > 3 {
		return wrongUsage("the level is %d, and there are 1, 2 and 3", *level)
	}
	if *versions < 1 || *versions > 26 {
		return wrongUsage("there can be 1 to 26 versions, not %d", *versions)
	}
	var pool []propose.Compound
	for _, row := range names.Table() {
		pool = append(pool, propose.Compound{Name: row.Names[0], SMILES: row.SMILES})
	}
	made, err := propose.Propose(ctx, propose.Request{Idea: args[0], Level: *level, Versions: *versions, Seed: *seed, Compounds: pool})
	if err != nil {
		return err
	}
	result := practiceResult{Idea: args[0], Level: *level}
	for _, v := range made {
		row := practiceVersion{Version: v.Letter, Difficulty: v.Question.Difficulty, Question: practiceOf(v.Question, *student)}
		if !*student {
			row.Compound = &practiceCompound{v.Compound.Name, v.Compound.SMILES}
		}
		result.Versions = append(result.Versions, row)
	}
	if c.json {
		return c.printJSON(result)
	}
	c.printPractice(result)
	return nil
}

func (c *call) printIdeas() error {
	type idea struct {
		Name    string `json:"name"`
		Decides string `json:"decides"`
	}
	var all []idea
	for _, i := range propose.Ideas() {
		all = append(all, idea{i.Name, i.Doc})
	}
	if c.json {
		return c.printJSON(all)
	}
	c.print("ideas to practise, and what decides:")
	for _, i := range all {
		c.print("  %-16s %s", i.Name, i.Decides)
	}
	return nil
}

func practiceOf(q *practice.Question, student bool) practiceQuestion {
	out := practiceQuestion{ID: q.ID, Kind: q.Key.Kind().String(), Ask: q.Ask, Marks: q.Marks}
	const least = 1 // % of the base peak
	for _, p := range q.Facts.Spectrum.AtLeast(least).Peaks {
		if !q.ShowsSpectrum() {
			break
		}
		out.Peaks = append(out.Peaks, [2]float64{p.MZ, float64(int(p.Intensity*10+0.5)) / 10})
	}
	options := []practice.Option(nil)
	switch k := q.Key.(type) {
	case practice.Choice:
		options = k.Options
	case practice.Choices:
		options = k.Options
	case practice.Assign:
		for _, row := range k.Rows {
			out.Assign = append(out.Assign, row.MZ)
		}
	case practice.Arrows:
		out.Drawn = smiles.Write(arrow.Numbered(k.Drawn))
	}
	for _, o := range options {
		row := practiceChoice{Letter: o.Letter, Text: o.Text}
		if !student {
			row.Because, row.Mistake = o.Because, string(o.Cause)
		}
		out.Choices = append(out.Choices, row)
	}
	if student {
		return out
	}
	solved := q.Key.Solved()
	out.Answer, out.Hints, out.Solution, out.Scheme = &solved, q.Hints, q.Solution, q.SchemeLines()
	const expected = 12
	for _, f := range q.Foreseen(expected) {
		out.Expected = append(out.Expected, practiceExpected{f.Text, string(f.Cause.Code), f.Mistake.Because})
	}
	return out
}

func (c *call) printPractice(r practiceResult) {
	for i, v := range r.Versions {
		if i > 0 {
			c.print("")
		}
		q := v.Question
		c.print("version %s (%s, difficulty %.2f)", v.Version, practice.Points(q.Marks), v.Difficulty)
		c.print("  %s", q.Ask)
		for _, o := range q.Choices {
			c.print("    %s  %s", o.Letter, o.Text)
		}
		c.printPeaks(q.Peaks)
		if len(q.Assign) > 0 {
			c.print("  peaks asked about: m/z %s", strings.Trim(strings.Join(strings.Fields(fmt.Sprint(q.Assign)), ", "), "[]"))
		}
		if v.Compound == nil {
			continue
		}
		c.print("  answer: %s (%s)", q.Answer, v.Compound.Name)
		c.printList("hints", q.Hints)
		c.printList("solution", q.Solution)
		c.printList("marking", q.Scheme)
		var wrong []string
		for _, o := range q.Choices {
			if o.Mistake != "" {
				wrong = append(wrong, o.Letter+": "+o.Because)
			}
		}
		for _, e := range q.Expected {
			wrong = append(wrong, strings.TrimSuffix(e.Answer+" ("+e.Mistake+"): "+e.Because, ": "))
		}
		c.printList("wrong answers to expect", wrong)
	}
}

func (c *call) printPeaks(peaks [][2]float64) {
	if len(peaks) == 0 {
		return
	}
	const strong, most = 3, 30
	var text []string
	for _, p := range peaks {
		if p[1] >= strong || len(peaks) <= most {
			text = append(text, spectrumPair(p))
		}
	}
	c.print("  peaks (m/z:%%): %s", strings.Join(text, " "))
}

func (c *call) printList(title string, lines []string) {
	if len(lines) == 0 {
		return
	}
	c.print("  %s:", title)
	for _, l := range lines {
		c.print("    %s", l)
	}
}

// spectrumPair is a peak in the short notation.
func spectrumPair(p [2]float64) string {
	return strconv.FormatFloat(p[0], 'f', -1, 64) + ":" + strconv.FormatFloat(p[1], 'f', 0, 64)
}
