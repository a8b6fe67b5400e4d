package main

import (
	"fmt"
	"strings"

	"ionwright/reading"
)

// How many candidates a table shows, and from which probability groups are
// shown.
const (
	fewShown    = 5
	likelyGroup = 0.3
)

// chance words a probability or a share in percent, and never as 0 or 100 what
// is neither.
func chance(p float64) string {
	switch {
	case p == 0 || p == 1:
		return fmt.Sprintf("%.0f %%", 100*p)
	case p < 0.01:
		return "under 1 %"
	case p > 0.99:
		return "over 99 %"
	}
	return fmt.Sprintf("%.0f %%", 100*p)
}

// printReading writes the argument at the depth, and at full depth the tables
// of what it concludes.
func (c *call) printReading(r reading.Reading, depth reading.Depth) {
	for _, d := range r.Doubts {
		c.print("doubt: %s", d)
	}
	if depth == reading.Hint {
		for i, text := range r.Sentences(depth) {
			c.print("%d. %s", i+1, text)
		}
		return
	}
	c.print("base peak: m/z %d", r.BasePeak)
	for i, s := range r.Argument {
		c.print("%d. %s: %s", i+1, s.About, s.Text(depth))
	}
	if depth != reading.Full {
		return
	}
	for i, m := range r.MolecularIon[:min(fewShown, len(r.MolecularIon))] {
		if i == 0 {
			c.print("\nmolecular ion:")
		}
		c.print("  m/z %d (%s)", m.MZ, chance(m.Probability))
		for _, reason := range m.Reasons {
			c.print("    %s", reason)
		}
	}
	for i, f := range r.Formulas[:min(fewShown, len(r.Formulas))] {
		if i == 0 {
			c.print("\nformulas:")
		}
		c.print("  %s (%s)", f.Formula.Unicode(), chance(f.Probability))
		if len(f.Reasons) > 0 {
			c.print("    %s", strings.Join(f.Reasons, "; "))
		}
	}
	c.printGroups(r.Groups)
}

func (c *call) printGroups(groups []reading.GroupCall) {
	shown := false
	for _, g := range groups {
		if g.Probability < likelyGroup {
			continue
		}
		if !shown {
			c.print("\nfunctional groups and families:")
			shown = true
		}
		c.print("  %s (%s)", g.Name, chance(g.Probability))
		for _, e := range []struct {
			word string
			list []reading.Evidence
		}{{"for it", g.For}, {"against it", g.Against}} {
			var words []string
			for _, x := range e.list {
				words = append(words, x.Sentence)
			}
			if len(words) > 0 {
				c.print("    %s: %s", e.word, strings.Join(words, "; "))
			}
		}
	}
}
