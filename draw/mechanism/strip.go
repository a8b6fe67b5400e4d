package mechanism

import (
	"fmt"
	"strings"

	"ionwright/chem"
	"ionwright/draw"
	"ionwright/ionize"
)

// strip is a row of ions with the links between them, before it is folded:
// links[k] leads from cells[k] to cells[k+1].
type strip struct {
	cells []cell
	links []link
	o     Options
	size  float64 // of text, in pixels
}

// cell is one ion as it is drawn, its atoms in the coordinates that all cells
// of the strip share but for a shift along x.
type cell struct {
	items   []draw.Item
	box     draw.Box
	caption []draw.Run // below it
	// oneForm says that the ion is delocalized and drawn in the form that the
	// arrows act on.
	oneForm bool
	outside string // what stands outside its brackets, in words; empty without brackets
}

// link is what stands between two ions.
type link struct {
	above     []string // lines: the step's name
	note      []string // lines below these, muted
	loss      []draw.Run
	resonance bool // two forms of one ion
}

// newStrip draws all forms of the steps.
func newStrip(p *ionize.Prediction, steps []ionize.Step, movements []ionize.Movement, o Options) (*strip, error) {
	s := &strip{o: o, size: 0.42 * o.Bond}
	var at places
	for k, m := range movements {
		step := steps[k]
		whole := strings.Fields(step.Kind.String())
		at = at.enter(m)
		for j, panel := range m.Panels {
			shown := visible(m, j)
			how := asWritten
			if m.Whole {
				how = always
			}
			c, err := s.draw(&at, panel, shown, how)
			if err != nil {
				return nil, err
			}
			c.caption = caption(panel.Before, shown, p, step)
			l := link{resonance: isResonance(panel)}
			if l.resonance || len(s.links) > 0 && s.links[len(s.links)-1].resonance {
				c.oneForm = false // the arrow between the forms says so
			}
			s.cells = append(s.cells, c)
			if !l.resonance {
				l.above = wrap(whole)
				whole = nil // named once
				l.note = wrap(strings.Fields(noteOf(m, j)))
			}
			if leavesAfter(m, j) {
				l.loss = lossRuns(step.Loss)
			}
			s.links = append(s.links, l)
		}
	}
	last := movements[len(movements)-1]
	end := ionize.Panel{Before: last.Panels[len(last.Panels)-1].After}
	end.After = end.Before
	shown := make([]bool, len(end.Before.Atoms))
	for i, a := range end.Before.Atoms {
		shown[i] = !a.Leaves
	}
	how := whereSpread
	if last.Whole {
		how = always
	}
	c, err := s.draw(&at, end, shown, how)
	if err != nil {
		return nil, err
	}
	c.caption = draw.Words(fmt.Sprintf("m/z %d", p.Ions[steps[len(steps)-1].To].MZ))
	s.cells = append(s.cells, c)
	return s, nil
}

// caption is what stands below an ion: its m/z, or that a neutral is still
// beside it.
func caption(f ionize.Form, shown []bool, p *ionize.Prediction, step ionize.Step) []draw.Run {
	mz := p.Ions[step.From].MZ
	leaving, parts := false, pieces(f)
	for i, a := range f.Atoms {
		if a.Leaves && shown[i] && parts[i] != parts[firstKept(f)] {
			leaving = true
		}
	}
	switch {
	case leaving:
		return draw.Plain("ion-neutral complex")
	case !anyLeaves(f, shown):
		mz = p.Ions[step.To].MZ
	}
	return draw.Words(fmt.Sprintf("m/z %d", mz))
}

// firstKept is an atom of the ion.
func firstKept(f ionize.Form) int {
	for i, a := range f.Atoms {
		if !a.Leaves && !a.IsHydrogen {
			return i
		}
	}
	return 0
}

func anyLeaves(f ionize.Form, shown []bool) bool {
	for i, a := range f.Atoms {
		if a.Leaves && shown[i] {
			return true
		}
	}
	return false
}

// pieces numbers the connected parts of a form: equal numbers, joined atoms.
func pieces(f ionize.Form) []int {
	part := make([]int, len(f.Atoms))
	for i := range part {
		part[i] = i
	}
	for changed := true; changed; {
		changed = false
		for _, b := range f.Bonds {
			if x, y := part[b.Begin], part[b.End]; x != y {
				part[b.Begin], part[b.End] = min(x, y), min(x, y)
				changed = true
			}
		}
	}
	return part
}

// touches reports whether an arrow begins or ends at the atom or a bond of it.
func touches(a ionize.Arrow, atom int) bool {
	on := func(s ionize.Site) bool { return s.Begin == atom || s.Bond && s.End == atom }
	return on(a.From) || on(a.To)
}

// visible says which atoms are drawn before the k-th panel: all but the pieces
// that have left and take no further part.
func visible(m ionize.Movement, k int) []bool {
	f := m.Panels[k].Before
	part := pieces(f)
	stays := map[int]bool{}
	for i, a := range f.Atoms {
		if !a.Leaves {
			stays[part[i]] = true
		}
		for _, panel := range m.Panels[k:] {
			for _, arrow := range panel.Arrows {
				if touches(arrow, i) {
					stays[part[i]] = true
				}
			}
		}
	}
	shown := make([]bool, len(f.Atoms))
	for i := range shown {
		shown[i] = stays[part[i]]
	}
	return shown
}

// leavesAfter reports whether the neutral is gone once the k-th panel is done,
// having been there before.
func leavesAfter(m ionize.Movement, k int) bool {
	if !anyLeaves(m.Panels[k].Before, visible(m, k)) {
		return false
	}
	return k+1 == len(m.Panels) || !anyLeaves(m.Panels[k+1].Before, visible(m, k+1))
}

// isResonance reports whether a panel only rewrites the ion.
func isResonance(p ionize.Panel) bool {
	if len(p.Before.Bonds) != len(p.After.Bonds) || len(p.Arrows) == 0 {
		return false
	}
	for i, b := range p.Before.Bonds {
		if c := p.After.Bonds[i]; b.Begin != c.Begin || b.End != c.End {
			return false
		}
	}
	return true
}

// noteOf is what a panel of a compound step does, for the line below the
// step's name.
func noteOf(m ionize.Movement, k int) string {
	switch {
	case m.Whole:
		return "the ion reorganizes: no arrows"
	case len(m.Panels) == 1:
		return ""
	case m.Panels[k].Name != "":
		return m.Panels[k].Name
	}
	return "cleavage"
}

// lossRuns is the neutral beside an arrow, with a dot for a radical.
func lossRuns(loss chem.Formula) []draw.Run {
	runs := append(draw.Plain("− "), draw.Neutral(loss)...)
	if loss.OddElectron() {
		runs = append(runs, draw.Run{Text: "•"})
	}
	return runs
}

// wrap breaks words into lines short enough to stand above an arrow.
func wrap(words []string) []string {
	const most = 17 // letters a line
	var lines []string
	for _, w := range words {
		if n := len(lines); n > 0 && len(lines[n-1])+1+len(w) <= most {
			lines[n-1] += " " + w
		} else {
			lines = append(lines, w)
		}
	}
	return lines
}
