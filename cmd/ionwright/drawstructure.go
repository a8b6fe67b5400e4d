package main

import (
	"context"
	"fmt"
	"io"
	"math"
	"strings"

	"ionwright/draw"
	"ionwright/draw/structure"
	"ionwright/mol"
	"ionwright/mol/names"
	"ionwright/spectrum/file"
)

func prepareStructure(c *call, common *canvas) func(context.Context, []string) (draw.Figure, error) {
	var o structure.Options
	c.flags.Float64Var(&o.Bond, "bond", 0, "length of a bond, in `PIXELS`; 0: 30, or as fits --width and --height")
	c.flags.BoolVar(&o.Carbons, "carbons", false, "write every carbon with its hydrogens")
	c.flags.BoolVar(&o.LonePairs, "pairs", false, "draw lone pairs")
	c.flags.BoolVar(&o.Numbers, "numbers", false, "number the atoms")
	brackets := c.flags.Bool("brackets", false, "draw an ion in brackets where resonance spreads its charge or unpaired electron")
	short := c.flags.String("abbreviate", "", "`GROUPS` written as labels, such as Ph,OMe; all: those of three atoms and more")
	return func(_ context.Context, args []string) (draw.Figure, error) {
		for _, name := range strings.Split(*short, ",") {
			if name == "all" {
				o.Abbreviate = append(o.Abbreviate, structure.AbbreviationNames(3)...)
			} else if name != "" {
				o.Abbreviate = append(o.Abbreviate, name)
			}
		}
		m, title, err := c.structureOf(args[0])
		if err != nil {
			return draw.Figure{}, err
		}
		o.Name = common.name
		if o.Name == "" {
			o.Name = title
		}
		if *brackets {
			o.Brackets, _ = structure.Delocalize(m)
		}
		return fitStructure(m, o, common)
	}
}

// fitStructure draws a structure as large as the width and the height allow
// that were asked for, or with the bond length that was.
func fitStructure(m *mol.Mol, o structure.Options, common *canvas) (draw.Figure, error) {
	f, err := structure.Draw(m, o)
	if err != nil || common.width == 0 && common.height == 0 {
		return f, err
	}
	if o.Bond != 0 {
		return draw.Figure{}, wrongUsage("--bond: the bond length follows from --width and --height; give either")
	}
	const least, most = 5, 500 // pixels a bond
	scale := math.Inf(1)
	if common.width > 0 {
		scale = common.width / f.Scene.Width
	}
	if common.height > 0 {
		scale = min(scale, common.height/f.Scene.Height)
	}
	o.Bond = min(max(structure.DefaultBond*scale, least), most)
	if f, err = structure.Draw(m, o); err != nil {
		return f, err
	}
	// The margin doesn't grow with the bonds: center what is left.
	width, height := max(common.width, f.Scene.Width), max(common.height, f.Scene.Height)
	f.Scene.Items = draw.Placed(f.Scene.Items, 1, (width-f.Scene.Width)/2, (height-f.Scene.Height)/2)
	f.Scene.Width, f.Scene.Height = width, height
	return f, nil
}

// structureOf reads a structure file, or a SMILES or a name. It returns what
// the structure is called too: the file's title, or the name that was given.
func (c *call) structureOf(text string) (*mol.Mol, string, error) {
	format, isFile := structureFormatOf(text)
	if !isFile {
		m, err := names.Structure(text)
		if err != nil {
			return nil, "", err
		}
		if _, err := names.Resolve(text); err == nil {
			return m, text, nil
		}
		return m, "", nil
	}
	open, err := c.openFile(text)
	if err != nil {
		return nil, "", err
	}
	defer open.Close()
	all, err := io.ReadAll(io.LimitReader(open, file.MaxSize))
	if err != nil {
		return nil, "", fmt.Errorf("reading %q: %w", text, err)
	}
	m, title, err := format.read(string(all))
	if err != nil {
		return nil, "", fmt.Errorf("reading %q as %s: %w", text, format.name, err)
	}
	return m, title, nil
}
