package mechanism

import (
	"fmt"
	"strconv"
	"strings"

	"ionwright/draw"
	"ionwright/ionize"
)

func title(p *ionize.Prediction, steps []ionize.Step, o Options) string {
	name := o.Name
	if name == "" {
		name = p.Mol.Formula().String()
	}
	return fmt.Sprintf("How m/z %d of %s comes about", p.Ions[steps[len(steps)-1].To].MZ, name)
}

// description is one sentence: the ions and the steps between them.
func description(p *ionize.Prediction, steps []ionize.Step, movements []ionize.Movement, o Options) string {
	var b strings.Builder
	fmt.Fprintf(&b, "Mechanism with electron arrows: m/z %d, %s", p.Ions[steps[0].From].MZ, p.Ions[steps[0].From].Notation())
	for i, s := range steps {
		if i > 0 {
			b.WriteString(", then")
		}
		name := s.Kind.String()
		if !strings.HasPrefix(name, "loss of") {
			name += " with loss of " + ionize.LossName(s.Loss)
		}
		fmt.Fprintf(&b, " by %s gives m/z %d, %s", name, p.Ions[s.To].MZ, p.Ions[s.To].Notation())
	}
	b.WriteString(".")
	return b.String()
}

// detail says where each arrow goes, and how delocalized ions are drawn.
func detail(movements []ionize.Movement, cells *strip) string {
	var b strings.Builder
	b.WriteString("Atoms are numbered from 1 in the order of the structure.")
	for _, m := range movements {
		for j, panel := range m.Panels {
			fmt.Fprintf(&b, " %s", capitalized(panelName(m, j)))
			if len(panel.Arrows) == 0 {
				b.WriteString(": the ion reorganizes as a whole; no arrows can be drawn that mean anything.")
				continue
			}
			for k, a := range panel.Arrows {
				sep := ": "
				if k > 0 {
					sep = "; "
				}
				fmt.Fprintf(&b, "%s%s to %s", sep, leaving(panel.Before, a), siteWords(panel.Before, a.To, 0))
			}
			b.WriteString(".")
		}
	}
	for k, c := range cells.cells {
		which := fmt.Sprintf(" Ion %d of the drawing, %s, is ", k+1, draw.RunsString(c.caption))
		switch {
		case c.outside != "":
			fmt.Fprintf(&b, "%sin brackets: %s.", which, c.outside)
		case c.oneForm:
			fmt.Fprintf(&b, "%sdrawn in one of several resonance forms.", which)
		}
	}
	return b.String()
}

func panelName(m ionize.Movement, j int) string {
	name := m.Kind.String()
	switch note := noteOf(m, j); {
	case isResonance(m.Panels[j]):
		return "the same ion in another resonance form"
	case len(m.Panels) > 1:
		return name + ", " + note
	}
	return name
}

func capitalized(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// leaving says which electrons an arrow takes.
func leaving(f ionize.Form, a ionize.Arrow) string {
	site := siteWords(f, a.From, a.Electrons)
	switch {
	case !a.From.Bond && (a.Electrons == 2 || f.Atoms[a.From.Begin].Radical() == 1):
		return site
	case a.Electrons == 1:
		return "one electron of " + site
	}
	return "two electrons of " + site
}

// atomWords names an atom by symbol and number.
func atomWords(f ionize.Form, i int) string {
	a := f.Atoms[i]
	if a.IsHydrogen {
		return "the hydrogen of atom " + strconv.Itoa(a.Atom+1)
	}
	return a.Element.Symbol() + strconv.Itoa(a.Atom+1)
}

// siteWords names a place of electrons; leaving is how many go from it, 0 for a
// place that they go to.
func siteWords(f ionize.Form, s ionize.Site, leaving int) string {
	if !s.Bond {
		name := atomWords(f, s.Begin)
		switch {
		case leaving == 2:
			return "a lone pair of " + name
		case leaving == 1 && f.Atoms[s.Begin].Radical() == 1:
			return "the unpaired electron of " + name
		case leaving == 1:
			return "a lone pair of " + name
		}
		return name
	}
	x, y := atomWords(f, s.Begin), atomWords(f, s.End)
	for _, b := range f.Bonds {
		if b.Begin == s.Begin && b.End == s.End || b.Begin == s.End && b.End == s.Begin {
			return fmt.Sprintf("the bond between %s and %s", x, y)
		}
	}
	return fmt.Sprintf("a new bond between %s and %s", x, y)
}

// table lists the arrows.
func table(movements []ionize.Movement) draw.Table {
	t := draw.Table{Caption: "Electron movement", Columns: []string{"step", "electrons", "from", "to"}}
	for _, m := range movements {
		for j, panel := range m.Panels {
			for _, a := range panel.Arrows {
				t.Rows = append(t.Rows, []string{
					panelName(m, j), strconv.Itoa(a.Electrons),
					siteWords(panel.Before, a.From, a.Electrons), siteWords(panel.Before, a.To, 0),
				})
			}
		}
	}
	return t
}
