package pack

import (
	"ionwright/draw"
	"ionwright/draw/ions"
	"ionwright/draw/plot"
	"ionwright/draw/structure"
	"ionwright/lesson/load"
)

// Lengths of bonds in pixels: in structures beside peaks, and the longest in a
// structure of its own.
const (
	besideBond = 22
	wholeBond  = 36
)

// drawSpectrum draws the figure of a spectrum, or of two head to tail.
func (f *figure) drawSpectrum(s size, mode plot.Mode) (draw.Figure, error) {
	o := plot.Options{Width: s.width, Height: s.height, Mode: mode, Name: f.Compound.Name, Alias: f.Compound.Name, MolecularIon: float64(f.Compound.NominalMass())}
	if s.few {
		o.Strongest = 5
	}
	for _, mz := range f.MZ {
		o.Label = append(o.Label, float64(mz))
		o.Highlight = append(o.Highlight, float64(mz))
	}
	p := f.Compound.Prediction
	if f.Against != nil {
		if f.Against.NominalMass() != f.Compound.NominalMass() {
			o.MolecularIon = 0
		}
		return plot.Compare(f.Compound.Spectrum, f.Against.Spectrum, plot.CompareOptions{
			Width: s.width, Upper: called(f.Compound), Lower: called(f.Against), Options: o,
		})
	}
	if p != nil {
		o.Assignments = ions.Formulas(p, o.Label)
	}
	for _, pair := range f.Losses {
		from, to := float64(pair[0]), float64(pair[1])
		if p != nil {
			o.Losses = append(o.Losses, ions.Loss(p, from, to))
		} else {
			o.Losses = append(o.Losses, plot.Loss{From: from, To: to})
		}
	}
	if f.Zoom != [2]int{} {
		o.Zoom = &plot.Zoom{From: float64(f.Zoom[0]), To: float64(f.Zoom[1])}
	}
	for _, mz := range f.Beside {
		in, err := ions.Structure(p, float64(mz), structure.Options{Bond: besideBond})
		if err != nil {
			return draw.Figure{}, err
		}
		o.Insets = append(o.Insets, in)
	}
	return plot.Spectrum(f.Compound.Spectrum, o)
}

// called is what a comparison calls a compound.
func called(c *load.Compound) string {
	if c.Measured {
		return c.Name + " (measured)"
	}
	return c.Name + " (computed)"
}

// drawStructure draws the compound's structure, with shorter bonds where it
// wouldn't fit the page.
func (f *figure) drawStructure(s size) (draw.Figure, error) {
	o := structure.Options{Name: f.Compound.Name, Bond: wholeBond, Abbreviate: f.Short, LonePairs: f.Structure.Pairs, Numbers: f.Structure.Numbers}
	drawn, err := structure.Draw(f.Compound.Mol, o)
	if err != nil || drawn.Scene.Width <= s.width {
		return drawn, err
	}
	const least = 8
	o.Bond = max(least, wholeBond*(s.width-20)/drawn.Scene.Width)
	return structure.Draw(f.Compound.Mol, o)
}
