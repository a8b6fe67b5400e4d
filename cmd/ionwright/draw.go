package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"ionwright/draw"
	"ionwright/draw/output"
	"ionwright/lesson/diag"
)

// drawKind is a sort of figure that "draw" makes.
type drawKind struct {
	name, args, summary string
	least, most         int // arguments
	// prepare defines the kind's own flags. What it returns makes the figure,
	// once the flags are read.
	prepare func(c *call, common *canvas) func(ctx context.Context, args []string) (draw.Figure, error)
}

// drawKinds is the visible list.
func drawKinds() []drawKind {
	return []drawKind{
		{"structure", "SMILES|NAME|FILE", "the skeletal formula of a structure", 1, 1, prepareStructure},
		{"spectrum", "FILE|SMILES|NAME", "a spectrum from a file, or computed", 1, 1, prepareSpectrum},
		{"route", "SMILES|NAME|FILE MZ", "the mechanism of a peak, with electron arrows", 2, 2, prepareRoute},
		{"map", "SMILES|NAME|FILE", "which ions come from which", 1, 1, prepareMap},
		{"compare", "UPPER LOWER", "two spectra head to tail, each from a file or computed", 2, 2, prepareCompare},
		{"isotopes", "FORMULA", "the isotope pattern of an ion", 1, 1, prepareIsotopes},
		{"instrument", "MZ...", "a magnetic sector to scale, with the paths of ions", 1, 8, prepareInstrument},
		{"field", "MZ...", "the field that each m/z needs, as a curve", 1, 100, prepareField},
		{"sweep", "MZ[:INTENSITY]... | FILE", "what a magnetic sector records while its field rises", 1, 1000, prepareSweep},
	}
}

// canvas is what all kinds of figures have in common.
type canvas struct {
	width, height float64
	name          string
}

func runDraw(ctx context.Context, c *call) error {
	if len(c.args) == 0 {
		return wrongUsage("a kind of figure is missing: %s", strings.Join(drawKindNames(), ", "))
	}
	word := c.args[0]
	if slices.Contains([]string{"-h", "-help", "--help", "help"}, word) {
		c.print("usage: ionwright %s %s\n\n%s. The kinds of figures:\n", c.verb.name, c.verb.args, upperFirst(c.verb.summary))
		for _, k := range drawKinds() {
			c.print("  %-12s%-26s%s", k.name, k.args, k.summary)
		}
		c.print("\n\"ionwright draw KIND --help\" lists a kind's flags.")
		return nil
	}
	i := slices.Index(drawKindNames(), word)
	if i < 0 {
		if near, ok := diag.Nearest(word, drawKindNames()); ok {
			return wrongUsage("there is no kind of figure %q; did you mean %q?", word, near)
		}
		return wrongUsage("there is no kind of figure %q; the kinds are %s", word, strings.Join(drawKindNames(), ", "))
	}
	return drawFigure(ctx, c, drawKinds()[i])
}

func drawKindNames() []string {
	var names []string
	for _, k := range drawKinds() {
		names = append(names, k.name)
	}
	return names
}

// drawnJSON is what "draw --json" writes.
type drawnJSON struct {
	File        string     `json:"file,omitempty"`
	Width       float64    `json:"width"`
	Height      float64    `json:"height"`
	Title       string     `json:"title"`
	Description string     `json:"description"`
	Detail      string     `json:"detail,omitempty"`
	Table       drawnTable `json:"table"`
}

type drawnTable struct {
	Caption string     `json:"caption"`
	Columns []string   `json:"columns"`
	Rows    [][]string `json:"rows"`
}

// drawFigure makes a figure of one kind, writes it where that was asked for,
// and says in words what it shows.
func drawFigure(ctx context.Context, outer *call, kind drawKind) error {
	v := verb{name: outer.verb.name + " " + kind.name, args: kind.args, summary: kind.summary}
	c := newCall(v, outer.args[1:], outer.in, outer.out, outer.errOut)
	file := c.flags.String("o", "", "the `FILE` to write, its ending .svg, .png or .pdf; without, only the words are printed")
	var common canvas
	c.flags.Float64Var(&common.width, "width", 0, "of the figure, in `PIXELS` of 1/96 inch; 0: as fits the kind")
	c.flags.Float64Var(&common.height, "height", 0, "of the figure, in `PIXELS`; 0: as fits the kind")
	c.flags.StringVar(&common.name, "name", "", "what the figure calls it; the `NAME` in the words")
	palette := c.flags.String("palette", "", "the `COLOURS`: light, dark, print, or auto (SVG that follows the reader's device); without, print for PDF and else light")
	scale := c.flags.Float64("scale", 2, "PNG: pixels per pixel of the figure, a `FACTOR`")
	outlines := c.flags.Bool("outlines", false, "SVG: draw letters as paths instead of text in an embedded font")
	transparent := c.flags.Bool("transparent", false, "SVG, PNG: without background")
	figure := kind.prepare(c, &common)
	args, err := c.parse(kind.least, kind.most)
	outer.json = c.json
	if err != nil {
		return err
	}
	o := output.Options{Scale: *scale, Outlines: *outlines, Transparent: *transparent}
	if o.Palette, o.Dark, err = palettesNamed(*palette); err != nil {
		return err
	}
	if *file != "" {
		if _, err := output.FormatOf(*file); err != nil {
			return wrongUsage("%v", err)
		}
	}
	f, err := figure(ctx, args)
	if err != nil {
		return err
	}
	if *file != "" {
		var b bytes.Buffer
		if err := output.Write(&b, *file, f, o); err != nil {
			return err
		}
		if err := replaceFile(*file, b.Bytes()); err != nil {
			return fmt.Errorf("writing %q: %w", *file, reason(err))
		}
	}
	if c.json {
		return c.printJSON(drawnJSON{*file, f.Scene.Width, f.Scene.Height, f.Title, f.Description, f.Detail, drawnTable{f.Table.Caption, f.Table.Columns, f.Table.Rows}})
	}
	if *file != "" {
		c.print("wrote %s: %s", *file, f.Title)
		return nil
	}
	printFigure(c.out, f)
	return nil
}

// palettesNamed are the palette and the one for dark devices that a name asks
// for; zero palettes leave the choice to the format.
func palettesNamed(name string) (palette, dark draw.Palette, err error) {
	switch name {
	case "":
		return palette, dark, nil
	case "auto":
		return draw.Light(), draw.Dark(), nil
	}
	p, ok := draw.PaletteNamed(name)
	if !ok {
		return palette, dark, wrongUsage("there is no palette %q; there are light, dark, print and auto", name)
	}
	return p, dark, nil
}

// printFigure writes the words of a figure and its table.
func printFigure(w io.Writer, f draw.Figure) {
	fmt.Fprintf(w, "%s\n%s\n", f.Title, strings.TrimSpace(f.Description+" "+f.Detail))
	if len(f.Table.Rows) == 0 {
		return
	}
	fmt.Fprintf(w, "\n%s\n", f.Table.Caption)
	rows := append([][]string{f.Table.Columns}, f.Table.Rows...)
	widths := make([]int, len(f.Table.Columns))
	for _, row := range rows {
		for k, cell := range row {
			widths[k] = max(widths[k], len([]rune(cell)))
		}
	}
	for _, row := range rows {
		line := ""
		for k, cell := range row {
			line += cell + strings.Repeat(" ", widths[k]-len([]rune(cell))+2)
		}
		fmt.Fprintln(w, strings.TrimRight(line, " "))
	}
}

// numbers reads a list such as "43,58".
func numbers(flag, text string) ([]float64, error) {
	var out []float64
	if text == "" {
		return nil, nil
	}
	for _, part := range strings.Split(text, ",") {
		v, err := strconv.ParseFloat(strings.TrimSpace(part), 64)
		if err != nil {
			return nil, wrongUsage("--%s: %q is no number; write for example --%s 43,58", flag, part, flag)
		}
		out = append(out, v)
	}
	return out, nil
}

// ranges reads a list such as "58-43,86-58".
func ranges(flag, text string) ([][2]float64, error) {
	var out [][2]float64
	if text == "" {
		return nil, nil
	}
	for _, part := range strings.Split(text, ",") {
		a, b, _ := strings.Cut(part, "-")
		x, err := strconv.ParseFloat(strings.TrimSpace(a), 64)
		y, err2 := strconv.ParseFloat(strings.TrimSpace(b), 64)
		if err != nil || err2 != nil {
			return nil, wrongUsage("--%s: %q isn't two m/z; write for example --%s 86-43", flag, part, flag)
		}
		out = append(out, [2]float64{x, y})
	}
	return out, nil
}
