package main

import (
	"context"
	"fmt"
	"strings"
	"time"

	"ionwright/mol/names"
	"ionwright/practice/rival"
)

// rivalsResult is what "rivals --json" writes.
type rivalsResult struct {
	Answer   string         `json:"answer"`
	Level    string         `json:"level"` // of the rival that is hardest to tell apart
	Match    float64        `json:"match"`
	Same     int            `json:"same"`
	Close    int            `json:"close"`
	Rivals   []rivalRow     `json:"rivals"`
	Facts    []string       `json:"facts,omitempty"`      // leave the answer alone among the same ones
	Further  []string       `json:"closeFacts,omitempty"` // and among the close ones
	Formulas []rivalFormula `json:"formulas"`
	Computed int            `json:"computed"`
	Passed   int            `json:"passedOver"`
	Complete bool           `json:"complete"`
	Clues    []string       `json:"clues,omitempty"` // groups taken from the peaks as sure
	Notes    []string       `json:"notes"`
}

type rivalRow struct {
	SMILES    string       `json:"smiles"`
	Verdict   string       `json:"verdict"`
	Likeness  float64      `json:"likeness"`
	Match     float64      `json:"match"`
	Explained float64      `json:"explained"`
	Odds      float64      `json:"odds"`
	Deciding  []rival.Peak `json:"deciding"`
}

type rivalFormula struct {
	Formula    string  `json:"formula"`
	Structures uint64  `json:"structures"`
	Share      float64 `json:"share"`
}

func runRivals(ctx context.Context, c *call) error {
	var present, absent repeated
	mass := c.flags.Bool("mass", false, "students are told the nominal mass only")
	nothing := c.flags.Bool("spectrum-only", false, "students are told neither formula nor mass")
	c.flags.Var(&present, "group", "a group that students know to be there, by `NAME` (may be repeated)")
	c.flags.Var(&absent, "no-group", "a group that students know to be absent, by `NAME` (may be repeated)")
	most := c.flags.Int("most", 300, "structures to compute at most")
	workers := c.flags.Int("workers", 0, "`CORES` to use; 0: all")
	args, err := c.parse(1, 2)
	if err != nil {
		return err
	}
	p := rival.Problem{FormulaGiven: !*mass && !*nothing, MassGiven: *mass, Groups: present, Absent: absent}
	if p.Answer, err = names.Structure(args[0]); err != nil {
		return err
	}
	if len(args) == 2 {
		if p.Spectrum, err = c.readSpectrum(args[1]); err != nil {
			return err
		}
	}
	if *most < 1 {
		return wrongUsage("at least 1 structure must be computed, not %d", *most)
	}
	kept := keptSearchOf(p, *most)
	bar := newProgress(c, time.Now())
	r, err := rival.Find(ctx, p, rival.Options{Workers: *workers, Most: *most, Saved: kept.read(), Save: kept.save, Progress: func(text string, done, of int) {
		bar.tell(barOf(text, done, of))
	}})
	bar.end()
	if err != nil {
		if ctx.Err() != nil && kept.write() {
			return fmt.Errorf("%w\nhint: the same command goes on where this one stopped", err)
		}
		return err
	}
	kept.remove()
	if c.json {
		return c.printJSON(rivalsOf(r))
	}
	c.printRivals(r)
	return nil
}

// barOf is a bar of 20 characters with what it stands for.
func barOf(text string, done, of int) string {
	const width = 20
	full := min(width, width*done/max(of, 1))
	return fmt.Sprintf("[%s%s] %s: %d of %d", strings.Repeat("#", full), strings.Repeat(".", width-full), text, done, of)
}

func rivalsOf(r *rival.Result) rivalsResult {
	out := rivalsResult{Answer: r.Answer, Level: r.Level().String(), Match: digits(r.Match), Same: r.Same, Close: r.Close,
		Rivals: []rivalRow{}, Computed: r.Computed, Passed: r.Passed, Complete: r.Complete, Clues: r.Clues, Notes: r.Notes}
	for _, x := range r.Rivals {
		out.Rivals = append(out.Rivals, rivalRow{x.SMILES, x.Verdict.String(), digits(x.Likeness), digits(x.Match), digits(x.Explained), x.Odds, x.Deciding})
	}
	for _, f := range r.Facts {
		out.Facts = append(out.Facts, f.Says)
	}
	for _, f := range r.CloseFacts {
		out.Further = append(out.Further, f.Says)
	}
	for _, f := range r.Formulas {
		out.Formulas = append(out.Formulas, rivalFormula{f.Formula.String(), f.Structures, f.Share})
	}
	return out
}

// printRivals writes rivals in the order of the verdict.
func (c *call) printRivals(r *rival.Result) {
	c.print("%s: %s", r.Answer, map[rival.Verdict]string{
		rival.Apart: "no rival found that would be hard to tell apart",
		rival.Close: "a close reading decides",
		rival.Same:  "the spectrum alone doesn't decide",
	}[r.Level()])
	const listed = 15
	for i, x := range r.Rivals {
		if i == listed {
			c.print("  and %d more (--json lists them)", len(r.Rivals)-listed)
			break
		}
		c.print("  %-28s %-20s computed spectra agree to %.2f", x.SMILES, x.Verdict, x.Likeness)
		for _, p := range x.Deciding {
			c.print("      %s", p.Sentence())
		}
	}
	say := func(what string, facts []rival.Fact) {
		var words []string
		for _, f := range facts {
			words = append(words, f.Says)
		}
		if len(words) > 0 {
			c.print("%s: %s", what, strings.Join(words, "; "))
		}
	}
	if r.Same > 0 && r.Facts == nil {
		c.print("no facts known here leave one answer; accept the rivals too, or choose another unknown")
	}
	say("given besides, this leaves one answer", r.Facts)
	if r.Close > 0 {
		say("and this excludes the close ones too", r.CloseFacts)
	}
	for _, f := range r.Formulas {
		c.print("looked at: %d structures of %s", f.Structures, f.Formula.Unicode())
	}
	for _, n := range r.Notes {
		c.print("note: %s", n)
	}
}
