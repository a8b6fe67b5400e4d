// Package typeface is the one font that figures are set in: its metrics, so
// that labels can be laid out without a browser, and subsets of it to embed,
// so that a figure looks the same on every machine.
//
// The font is the Go family by Bigelow & Holmes (BSD licence, distributed
// with golang.org/x/image). It was chosen because its letters can't be taken
// for one another where it matters here: l and I and 1 (Cl, I, Al), O and 0.
// Metrics are read from the font's own tables (OpenType 1.9), so there is no
// second copy of them to go stale.
//
// For most uses call [Face.Advance] to measure and [Face.Subset] to embed.
// There is no kerning and no shaping: figures hold numbers, formulas and
// short phrases in Latin and Greek.
package typeface

import (
	"encoding/binary"
	"fmt"
	"sync"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goitalic"
	"golang.org/x/image/font/gofont/goregular"
)

// Style selects a member of the family.
type Style uint8

// The styles there are.
const (
	Regular Style = iota
	Italic
	Bold
	NumStyles // how many there are
)

// String is the style's name as a font's name table has it.
func (s Style) String() string {
	switch s {
	case Italic:
		return "Italic"
	case Bold:
		return "Bold"
	}
	return "Regular"
}

// Family is the name under which figures refer to the font.
const Family = "Ionwright Go"

// Of returns the face of a style; an unknown style gives Regular. The face is
// shared and never changes.
func Of(s Style) *Face {
	switch s {
	case Italic:
		return italic()
	case Bold:
		return bold()
	}
	return regular()
}

var (
	regular = sync.OnceValue(func() *Face { return mustParse(goregular.TTF) })
	italic  = sync.OnceValue(func() *Face { return mustParse(goitalic.TTF) })
	bold    = sync.OnceValue(func() *Face { return mustParse(gobold.TTF) })
)

// Box is the extent of one glyph's ink in em, y upward from the baseline.
type Box struct{ XMin, YMin, XMax, YMax float64 }

// Face is one parsed TrueType font.
type Face struct {
	data       []byte
	tables     map[string][]byte
	unitsPerEm float64
	numGlyphs  int
	numMetrics int  // entries of hmtx that have an advance of their own
	longLoca   bool // loca in 32-bit offsets
	cmap       map[rune]uint16
	advances   [256]float64 // em, for the runes below 256, which are nearly all
}

func mustParse(ttf []byte) *Face {
	f, err := Parse(ttf)
	if err != nil {
		panic("typeface: the built-in font: " + err.Error())
	}
	return f
}

// Parse reads a TrueType font (outlines in glyf, a Unicode cmap of format 4).
// It fails on anything else; data is kept and must not be changed.
func Parse(data []byte) (*Face, error) {
	f := &Face{data: data, tables: map[string][]byte{}}
	if len(data) < 12 || binary.BigEndian.Uint32(data) != 0x00010000 {
		return nil, fmt.Errorf("reading a TrueType font: it doesn't start with version 1.0")
	}
	n := int(be16(data, 4))
	for i := range n {
		rec := 12 + 16*i
		if rec+16 > len(data) {
			return nil, fmt.Errorf("reading a TrueType font: the table directory ends after %d of %d entries", i, n)
		}
		off, size := int(be32(data, rec+8)), int(be32(data, rec+12))
		if off+size > len(data) {
			return nil, fmt.Errorf("reading a TrueType font: table %q runs past the end", data[rec:rec+4])
		}
		f.tables[string(data[rec:rec+4])] = data[off : off+size]
	}
	for tag, size := range map[string]int{"head": 54, "hhea": 36, "maxp": 32, "hmtx": 4, "loca": 2, "cmap": 4, "glyf": 0, "OS/2": 78, "name": 6} {
		if table, ok := f.tables[tag]; !ok || len(table) < size {
			return nil, fmt.Errorf("reading a TrueType font: table %q is missing or short", tag)
		}
	}
	f.unitsPerEm = float64(be16(f.tables["head"], 18))
	f.longLoca = be16(f.tables["head"], 50) == 1
	f.numGlyphs = int(be16(f.tables["maxp"], 4))
	f.numMetrics = int(be16(f.tables["hhea"], 34))
	if f.unitsPerEm == 0 || f.numMetrics == 0 || len(f.tables["hmtx"]) < 4*f.numMetrics {
		return nil, fmt.Errorf("reading a TrueType font: no horizontal metrics")
	}
	if err := f.readCmap(); err != nil {
		return nil, err
	}
	for r := range f.advances {
		f.advances[r] = f.glyphAdvance(f.glyph(rune(r)))
	}
	return f, nil
}

// readCmap reads the format 4 subtable for Unicode (platform 3, encoding 1).
func (f *Face) readCmap() error {
	cmap := f.tables["cmap"]
	for i := range int(be16(cmap, 2)) {
		rec := 4 + 8*i
		if rec+8 > len(cmap) || be16(cmap, rec) != 3 || be16(cmap, rec+2) != 1 {
			continue
		}
		off := int(be32(cmap, rec+4))
		if off+16 > len(cmap) || be16(cmap, off) != 4 {
			continue
		}
		sub := cmap[off:]
		f.cmap = map[rune]uint16{}
		segX2 := int(be16(sub, 6))
		if 16+4*segX2 > len(sub) {
			return fmt.Errorf("reading a TrueType font: the character map is cut short")
		}
		for s := 0; s < segX2; s += 2 {
			end, start := int(be16(sub, 14+s)), int(be16(sub, 16+segX2+s))
			delta, rangeAt := be16(sub, 16+2*segX2+s), 16+3*segX2+s
			rangeOffset := int(be16(sub, rangeAt))
			for c := start; c <= end && c != 0xFFFF; c++ {
				g := uint16(c) + delta
				if rangeOffset != 0 {
					at := rangeAt + rangeOffset + 2*(c-start)
					if at+2 > len(sub) {
						break
					}
					if g = be16(sub, at); g != 0 {
						g += delta
					}
				}
				if g != 0 && int(g) < f.numGlyphs {
					f.cmap[rune(c)] = g
				}
			}
		}
		return nil
	}
	return fmt.Errorf("reading a TrueType font: no Unicode character map of format 4")
}

// glyph is the glyph number of r, 0 (the missing-glyph box) where the font
// has none.
func (f *Face) glyph(r rune) uint16 { return f.cmap[r] }

// Has reports whether the font can draw r itself.
func (f *Face) Has(r rune) bool { return f.cmap[r] != 0 }

func (f *Face) glyphAdvance(g uint16) float64 {
	i := min(int(g), f.numMetrics-1)
	return float64(be16(f.tables["hmtx"], 4*i)) / f.unitsPerEm
}

// Advance is the width of r in em. A rune the font lacks counts as one em,
// which no ordinary fallback font exceeds.
func (f *Face) Advance(r rune) float64 {
	if r >= 0 && r < 256 {
		if f.cmap[r] == 0 {
			return 1
		}
		return f.advances[r]
	}
	g, ok := f.cmap[r]
	if !ok {
		return 1
	}
	return f.glyphAdvance(g)
}

// Width is the sum of the advances of s in em.
func (f *Face) Width(s string) float64 {
	w := 0.0
	for _, r := range s {
		w += f.Advance(r)
	}
	return w
}

// Ink is the extent of r's outline, zero for a blank; for a rune the font
// lacks it is the whole em box.
func (f *Face) Ink(r rune) Box {
	g, ok := f.cmap[r]
	if !ok {
		return Box{0, Descent, 1, Ascent}
	}
	outline := f.outline(g)
	if len(outline) < 10 {
		return Box{}
	}
	em := func(at int) float64 { return float64(int16(be16(outline, at))) / f.unitsPerEm }
	return Box{em(2), em(4), em(6), em(8)}
}

// outline is the glyf entry of g, empty for a blank glyph.
func (f *Face) outline(g uint16) []byte {
	loca, glyf := f.tables["loca"], f.tables["glyf"]
	var from, to int
	if f.longLoca {
		if 4*int(g)+8 > len(loca) {
			return nil
		}
		from, to = int(be32(loca, 4*int(g))), int(be32(loca, 4*int(g)+4))
	} else {
		if 2*int(g)+4 > len(loca) {
			return nil
		}
		from, to = 2*int(be16(loca, 2*int(g))), 2*int(be16(loca, 2*int(g)+2))
	}
	if from >= to || to > len(glyf) {
		return nil
	}
	return glyf[from:to]
}

// Heights that hold for every style, in em, y upward; a test compares them
// with the font.
const (
	Ascent    = 0.79  // top of brackets and of the Greek letters with ascenders
	CapHeight = 0.745 // top of the digits; H is a hair lower
	XHeight   = 0.55  // top of x and o
	Descent   = -0.21 // bottom of p and of brackets
)

func be16(b []byte, at int) uint16 { return binary.BigEndian.Uint16(b[at:]) }
func be32(b []byte, at int) uint32 { return binary.BigEndian.Uint32(b[at:]) }
