package structure

import (
	"math"
	"slices"
	"strconv"

	"ionwright/chem"
	"ionwright/draw"
	"ionwright/mol"
)

// label is what is written at an atom.
type label struct {
	texts []draw.Text // the symbol with its hydrogens and charge; hydrogens above or below are a text of their own
	core  draw.Box    // of the symbol alone
}

func (l *label) bounds() draw.Box {
	b := draw.NoBox()
	for _, t := range l.texts {
		b = b.Union(t.Bounds())
	}
	return b
}

// boxes are what bonds are cut off at: the extent of each letter with its
// digits, so that a bond beneath "NH" isn't cut for the H's sake.
func (l *label) boxes() []draw.Box {
	var out []draw.Box
	for _, t := range l.texts {
		x := t.Left()
		for _, r := range t.Runs {
			one := t
			one.Anchor, one.At.X, one.Runs = draw.Start, x, []draw.Run{r}
			if b := one.Bounds(); !b.Empty() {
				out = append(out, b)
			}
			x += r.Width(t.Size)
		}
	}
	return out
}

// shown reports whether the atom gets a label: every atom but carbon, and of
// carbon those that a bare line's end wouldn't tell.
func (a *Artist) shown(i int) bool {
	at := a.m.Atom(i)
	degree := a.m.Degree(i)
	switch {
	case at.Element != chem.C || at.Isotope != 0 || a.o.Carbons:
		return true
	case degree == 0, a.m.NumAtoms() <= 2:
		return true
	case degree == 1 && (at.Charge != 0 || at.Radical != 0):
		return true
	case at.Charge == 0 && at.Radical == 0 && a.m.Valence(i) != 4 && !a.unsure(i):
		return true // a corner would stand for more hydrogens
	case degree == 2 && at.Hydrogens == 0 && a.straight(i):
		return true // the middle of C=C=C would be no corner
	}
	return false
}

// unsure reports whether one of the atom's bonds is partly double.
func (a *Artist) unsure(i int) bool {
	return slices.ContainsFunc(a.m.Neighbors(i), func(n mol.Neighbor) bool { return a.partial(int(n.Bond)) })
}

// straight reports whether an atom's two bonds lie in one line.
func (a *Artist) straight(i int) bool {
	n := a.m.Neighbors(i)
	if len(n) != 2 || a.m.KekuleOrder(int(n[0].Bond)) != a.m.KekuleOrder(int(n[1].Bond)) {
		return false
	}
	u, v := minus(a.at[n[0].Atom], a.at[i]), minus(a.at[n[1].Atom], a.at[i])
	return math.Abs(u.X*v.Y-u.Y*v.X) < 0.1*a.o.Bond*a.o.Bond && u.X*v.X+u.Y*v.Y < 0
}

// labelOf makes an atom's label, nil for a bare corner. Hydrogens stand to
// the right where that is free, else to the left, else above or below.
func (a *Artist) labelOf(i int) *label {
	if a.short != nil {
		if k, ok := a.short.group[i]; ok {
			return a.groupLabel(i, k)
		}
	}
	if !a.shown(i) {
		return nil
	}
	at := a.m.Atom(i)
	symbol := a.symbol(i)
	hydrogens := hydrogenRuns(int(at.Hydrogens))
	sign := a.sign(i)
	p := a.at[i]
	baseline := p.Y + 0.36*a.size
	half := draw.RunsWidth(symbol[len(symbol)-1:], a.size) / 2
	text := func(runs []draw.Run, anchor draw.Anchor, x, y float64) draw.Text {
		return draw.Text{At: draw.Point{X: x, Y: y}, Anchor: anchor, Size: a.size, Role: draw.Ink, Runs: runs}
	}
	l := &label{}
	lead := draw.RunsWidth(symbol[:len(symbol)-1], a.size) // a mass number before the symbol
	switch a.hydrogenSide(i) {
	case right:
		l.texts = []draw.Text{text(slices.Concat(symbol, hydrogens, sign), draw.Start, p.X-half-lead, baseline)}
	case left:
		l.texts = []draw.Text{text(slices.Concat(hydrogens, symbol), draw.End, p.X+half, baseline)}
		if len(sign) > 0 {
			l.texts[0].Runs = append(l.texts[0].Runs, sign...)
			l.texts[0].At.X += draw.RunsWidth(sign, a.size)
		}
	case above, below:
		y := baseline + 0.86*a.size
		if a.hydrogenSide(i) == above {
			y = baseline - 0.86*a.size
			if at.Hydrogens > 1 {
				y -= 0.14 * a.size // room for the subscript
			}
		}
		l.texts = []draw.Text{
			text(slices.Concat(symbol, sign), draw.Start, p.X-half-lead, baseline),
			text(hydrogens, draw.Start, p.X-draw.RunsWidth(hydrogens[:1], a.size)/2, y),
		}
	}
	core := text(symbol, draw.Start, p.X-half-lead, baseline)
	l.core = core.Bounds()
	return l
}

// symbol is the element's symbol after its mass number; deuterium and tritium
// are D and T, as IUPAC's nomenclature (2005, IR-3.3.2) allows.
func (a *Artist) symbol(i int) []draw.Run {
	at := a.m.Atom(i)
	if at.Element == chem.H && at.Isotope == 2 {
		return draw.Plain("D")
	}
	if at.Element == chem.H && at.Isotope == 3 {
		return draw.Plain("T")
	}
	runs := draw.Plain(at.Element.Symbol())
	if at.Isotope != 0 {
		runs = append([]draw.Run{{Text: strconv.Itoa(int(at.Isotope)), Script: draw.Super}}, runs...)
	}
	return runs
}

func hydrogenRuns(n int) []draw.Run {
	switch n {
	case 0:
		return nil
	case 1:
		return draw.Plain("H")
	}
	return []draw.Run{{Text: "H"}, {Text: strconv.Itoa(n), Script: draw.Sub}}
}

// sign is what is written for an atom's charge and unpaired electrons.
func (a *Artist) sign(i int) []draw.Run {
	at := a.m.Atom(i)
	if a.o.NoDots {
		return signRuns(int(at.Charge), 0)
	}
	return signRuns(int(at.Charge), int(at.Radical))
}

// signRuns is the charge and then a dot for each unpaired electron.
func signRuns(charge, radical int) []draw.Run {
	sign := ""
	if charge != 0 {
		n := charge
		sign = "+"
		if charge < 0 {
			n, sign = -charge, "−"
		}
		if n > 1 {
			sign = strconv.Itoa(n) + sign
		}
	}
	for range radical {
		sign += "•"
	}
	if sign == "" {
		return nil
	}
	return []draw.Run{{Text: sign, Script: draw.Super}}
}

type side uint8

const (
	right side = iota
	left
	above
	below
)

// hydrogenSide is where an atom's hydrogens are written: where no bond goes.
func (a *Artist) hydrogenSide(i int) side {
	if a.m.Atom(i).Hydrogens == 0 {
		return right
	}
	var most [4]float64 // how squarely a bond points that way
	for _, n := range a.m.Neighbors(i) {
		d := minus(a.at[n.Atom], a.at[i])
		l := math.Hypot(d.X, d.Y)
		if l == 0 {
			continue
		}
		most[right] = max(most[right], d.X/l)
		most[left] = max(most[left], -d.X/l)
		most[above] = max(most[above], -d.Y/l)
		most[below] = max(most[below], d.Y/l)
	}
	switch {
	case a.m.Degree(i) == 1 && most[left] <= most[right]+1e-6 && most[right] > 0.2:
		return left
	case most[right] < 0.3:
		return right
	case most[left] < 0.3:
		return left
	case most[below] <= most[above]:
		return below
	}
	return above
}

// atom is an atom's label, or the sign beside a bare corner, its lone pairs
// and its number.
func (a *Artist) atom(i int) []draw.Item {
	var items []draw.Item
	if l := a.labels[i]; l != nil {
		for _, t := range l.texts {
			items = append(items, t)
		}
	} else if sign := a.sign(i); sign != nil {
		sign[0].Script = draw.Normal
		d := a.freeDirection(i, 0)
		p := a.at[i]
		items = append(items, draw.Text{
			At: draw.Point{X: p.X + 0.42*a.size*2*d.X, Y: p.Y + 0.42*a.size*2*d.Y + 0.28*a.size}, Anchor: draw.Middle,
			Size: 0.8 * a.size, Role: draw.Ink, Runs: sign,
		})
	}
	if a.o.LonePairs {
		items = append(items, a.lonePairs(i)...)
	}
	if a.o.Numbers {
		d := a.freeDirection(i, 0.6)
		p := a.at[i]
		reach := 0.55 * a.size
		if a.labels[i] != nil {
			reach = 0.95 * a.size
		}
		items = append(items, draw.Text{
			At: draw.Point{X: p.X + reach*d.X, Y: p.Y + reach*d.Y + 0.2*a.size}, Anchor: draw.Middle,
			Size: 0.6 * a.size, Role: draw.Muted, Runs: draw.Plain(strconv.Itoa(a.atomNumber(i) + 1)),
		})
	}
	return items
}
