package mechanism

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"ionwright/draw"
	"ionwright/ionize"
)

// MapOptions say what a map of the fragmentation shows. The zero value shows
// the 12 most abundant ions of at least 2 % of the most abundant one.
type MapOptions struct {
	Name  string  // of the compound, for the words; may be empty
	Width float64 // of the drawing in pixels; 0: 720
	Least float64 // in % of the most abundant ion; 0: 2
	Most  int     // ions shown, beside those they come from; 0: 12
}

// node is an ion of the map.
type node struct {
	ion      int
	step     ionize.Step // that leads to it; none for the molecular ion
	relative float64     // abundance in % of the most abundant ion
	children []*node
}

// Map draws which ions come from which: a tree from the molecular ion down, each
// ion beneath the one that most of it comes from, with the neutral lost and the
// step's name. The wider a line, the more ions go that way. Ions between that
// are hardly detected themselves are marked as too weak to see.
//
// It fails for options out of range.
func Map(p *ionize.Prediction, o MapOptions) (draw.Figure, error) {
	if o.Width == 0 {
		o.Width = 720
	}
	if o.Least == 0 {
		o.Least = 2
	}
	if o.Most == 0 {
		o.Most = 12
	}
	switch {
	case !(o.Width >= 200 && o.Width <= 20000):
		return draw.Figure{}, fmt.Errorf("drawing a map: the width is %v pixels; it can be 200 to 20000", o.Width)
	case !(o.Least > 0 && o.Least <= 100):
		return draw.Figure{}, fmt.Errorf("drawing a map: the least abundance is %v %%; it can be above 0 to 100", o.Least)
	case o.Most < 1 || o.Most > 200:
		return draw.Figure{}, fmt.Errorf("drawing a map: %d ions are to be shown; it can be 1 to 200", o.Most)
	}
	root := tree(p, o)
	return draw.Figure{
		Scene: drawTree(p, root, o.Width), Title: mapTitle(p, o), Description: mapDescription(p, root), Table: mapTable(p, root),
	}, nil
}

// tree picks the ions and puts each beneath its source.
func tree(p *ionize.Prediction, o MapOptions) *node {
	// The computed spectrum begins at some m/z; ions below it aren't shown.
	computed := p.Spectrum()
	most := 0.0
	for _, ion := range p.Ions {
		if computed.Relative(ion.MZ) > 0 {
			most = max(most, ion.Abundance)
		}
	}
	relative := func(ion int) float64 {
		if most == 0 {
			return 0
		}
		return 100 * p.Ions[ion].Abundance / most
	}
	var chosen []int
	for _, ion := range p.Ions[1:] {
		if relative(ion.ID) >= o.Least && computed.Relative(ion.MZ) > 0 {
			chosen = append(chosen, ion.ID)
		}
	}
	slices.SortStableFunc(chosen, func(a, b int) int { return cmp.Compare(p.Ions[b].Abundance, p.Ions[a].Abundance) })
	chosen = chosen[:min(len(chosen), o.Most)]
	root := &node{relative: relative(0)}
	known := map[int]*node{0: root}
	for _, ion := range chosen {
		for _, step := range p.Route(ion) {
			if known[step.To] != nil {
				continue
			}
			n := &node{ion: step.To, step: step, relative: relative(step.To)}
			known[step.To] = n
			from := known[step.From]
			from.children = append(from.children, n)
		}
	}
	root.sort(p)
	return root
}

// sort puts the children in order of falling m/z.
func (n *node) sort(p *ionize.Prediction) {
	slices.SortStableFunc(n.children, func(a, b *node) int {
		return cmp.Or(cmp.Compare(p.Ions[b.ion].MZ, p.Ions[a.ion].MZ), cmp.Compare(b.step.Flow, a.step.Flow))
	})
	for _, c := range n.children {
		c.sort(p)
	}
}

// walk calls visit for the node and all beneath, with their depth.
func (n *node) walk(depth int, visit func(n *node, depth int)) {
	visit(n, depth)
	for _, c := range n.children {
		c.walk(depth+1, visit)
	}
}

// Measures of the map, in pixels.
const (
	ionSize  = 14.0
	stepSize = 12.0
	widest   = 9.0 // line
	thinnest = 1.0
)

// drawTree sets each ion on a row of its own, further to the right the more
// steps lead to it.
func drawTree(p *ionize.Prediction, root *node, width float64) draw.Scene {
	deepest, strongest := 0, 0.0
	root.walk(0, func(n *node, depth int) {
		deepest = max(deepest, depth)
		strongest = max(strongest, n.step.Flow)
	})
	indent := min(70, max(22, (width-2*margin-230)/float64(max(deepest, 1))))
	lines, ions := &draw.Group{Class: "lines"}, &draw.Group{Class: "ions"}
	y := float64(margin)
	feet := map[*node]draw.Point{} // where lines to the children begin
	parent := map[*node]*node{}
	root.walk(0, func(n *node, depth int) {
		for _, c := range n.children {
			parent[c] = n
		}
		x := margin + float64(depth)*indent
		g := &draw.Group{Class: "ion"}
		baseline := y + ionSize
		runs := append(draw.Words("m/z "), draw.Run{Text: strconv.Itoa(p.Ions[n.ion].MZ), Bold: true}, draw.Run{Text: "  "})
		runs = append(runs, draw.Ion(p.Ions[n.ion].Formula)...)
		runs = append(runs, draw.Run{Text: "  " + shareWords(n.relative)})
		g.Add(draw.Text{At: draw.Point{X: x + 4, Y: baseline}, Size: ionSize, Role: draw.Ink, Runs: runs})
		bottom := baseline + 5
		words := "molecular ion"
		if parent[n] != nil {
			words = n.step.Kind.String()
			if !strings.HasPrefix(words, "loss of") || len(words) == len("loss of") {
				words += ", loss of " + n.step.Loss.Unicode()
			} else {
				words += ", " + n.step.Loss.Unicode()
			}
			if n.step.Loss.OddElectron() {
				words += "•"
			}
		}
		for _, line := range lineBreak(words, width-margin-x-4) {
			bottom += stepSize + 2
			g.Add(draw.Text{At: draw.Point{X: x + 4, Y: bottom - 3}, Size: stepSize, Role: draw.Muted, Runs: draw.Plain(line)})
		}
		ions.Add(g)
		feet[n] = draw.Point{X: x + 12, Y: bottom + 3}
		if up := parent[n]; up != nil {
			foot := feet[up]
			wide := thinnest
			if strongest > 0 {
				wide += (widest - thinnest) * n.step.Flow / strongest
			}
			mid := baseline - 0.35*ionSize
			trunk := draw.Stroke{Role: draw.Muted, Width: thinnest}
			lines.Add(draw.Polyline(trunk, draw.Point{X: foot.X, Y: foot.Y}, draw.Point{X: foot.X, Y: mid}),
				draw.Polyline(draw.Stroke{Role: draw.Accent, Width: wide}, draw.Point{X: foot.X, Y: mid}, draw.Point{X: x, Y: mid}))
		}
		y = bottom + 12
	})
	return draw.Scene{Width: math.Ceil(width), Height: math.Ceil(y - 12 + margin), Items: []draw.Item{lines, ions}}
}

// lineBreak breaks words into lines no wider than asked.
func lineBreak(text string, width float64) []string {
	var lines []string
	for _, w := range strings.Fields(text) {
		n := len(lines)
		if n > 0 && draw.RunsWidth(draw.Plain(lines[n-1]+" "+w), stepSize) <= width {
			lines[n-1] += " " + w
		} else {
			lines = append(lines, w)
		}
	}
	return lines
}

func shareWords(relative float64) string {
	switch {
	case relative < 0.5:
		return "(too weak to see)"
	case relative < 1:
		return "under 1 %"
	}
	return fmt.Sprintf("%.0f %%", relative)
}

func mapTitle(p *ionize.Prediction, o MapOptions) string {
	name := o.Name
	if name == "" {
		name = p.Mol.Formula().String()
	}
	return "Which ions of " + name + " come from which"
}

func mapDescription(p *ionize.Prediction, root *node) string {
	n := -1
	root.walk(0, func(*node, int) { n++ })
	var first []string
	for _, c := range root.children {
		first = append(first, "m/z "+strconv.Itoa(p.Ions[c.ion].MZ))
	}
	if n == 0 {
		return fmt.Sprintf("Map of the fragmentation: no ion beside the molecular ion at m/z %d is abundant enough to be shown.", p.Ions[0].MZ)
	}
	ions := fmt.Sprintf("%d ions", n)
	if n == 1 {
		ions = "1 ion"
	}
	return fmt.Sprintf("Map of the fragmentation: a tree of %s from the molecular ion at m/z %d, which goes directly to %s.", ions, p.Ions[0].MZ, strings.Join(first, ", "))
}

func mapTable(p *ionize.Prediction, root *node) draw.Table {
	t := draw.Table{Caption: "Ions and where they come from", Columns: []string{"m/z", "ion", "abundance, % of the most abundant", "from m/z", "loss", "step"}}
	root.walk(0, func(n *node, depth int) {
		ion := p.Ions[n.ion]
		from, loss, step := "", "", "molecular ion"
		if depth > 0 {
			from, loss, step = strconv.Itoa(p.Ions[n.step.From].MZ), n.step.Loss.Unicode(), n.step.Kind.String()
		}
		t.Rows = append(t.Rows, []string{strconv.Itoa(ion.MZ), ion.Notation(), fmt.Sprintf("%.1f", n.relative), from, loss, step})
	})
	return t
}
