package draw

import (
	"fmt"
	"math"
)

// Role is what a colour is for. A palette gives each role its colour.
type Role uint8

// The roles there are. Every role but Paper and Panel reaches the contrast
// that WCAG 2.2 asks of text (4.5:1, success criterion 1.4.3) on Paper and on
// Panel, except Faint, which is for lines that carry nothing by themselves.
// No meaning hangs on a colour alone: whoever uses Accent, Second or Third to
// tell things apart also gives them a shape, a dash or a label.
const (
	NoRole Role = iota // nothing is drawn
	Paper              // the background
	Panel              // the background of an inset
	Ink                // text and what matters
	Muted              // axes, captions, leader lines
	Faint              // grid lines
	Accent             // what the figure points at
	Second             // a second series
	Third              // a third series
	numRoles
)

// Color is an opaque sRGB colour.
type Color struct{ R, G, B uint8 }

// Hex is the colour as "#rrggbb".
func (c Color) Hex() string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// Palette gives each role a colour.
type Palette struct {
	Name   string
	colors [numRoles]Color
}

// Color is the colour of a role; an unknown role gets that of Ink.
func (p Palette) Color(r Role) Color {
	if r >= numRoles {
		r = Ink
	}
	return p.colors[r]
}

// Roles lists the roles that have a colour.
func Roles() []Role {
	var roles []Role
	for r := NoRole + 1; r < numRoles; r++ {
		roles = append(roles, r)
	}
	return roles
}

// String is the role's name in lower case.
func (r Role) String() string {
	names := [numRoles]string{"none", "paper", "panel", "ink", "muted", "faint", "accent", "second", "third"}
	if r < numRoles {
		return names[r]
	}
	return fmt.Sprintf("role(%d)", uint8(r))
}

// Light is for a bright page. Accent, Second and Third are a deep blue, a
// burnt orange and a purple, which people with any of the common colour
// vision deficiencies can tell apart by lightness or hue.
func Light() Palette {
	return Palette{"light", [numRoles]Color{
		Paper: {0xff, 0xff, 0xff}, Panel: {0xf5, 0xf6, 0xf8},
		Ink: {0x14, 0x19, 0x1f}, Muted: {0x51, 0x5a, 0x65}, Faint: {0xd5, 0xd9, 0xde},
		Accent: {0x0b, 0x55, 0xa8}, Second: {0xa3, 0x43, 0x06}, Third: {0x6b, 0x2f, 0x91},
	}}
}

// Dark is for a dark page.
func Dark() Palette {
	return Palette{"dark", [numRoles]Color{
		Paper: {0x12, 0x16, 0x1b}, Panel: {0x1c, 0x22, 0x29},
		Ink: {0xee, 0xf1, 0xf4}, Muted: {0xaa, 0xb3, 0xbd}, Faint: {0x3a, 0x43, 0x4d},
		Accent: {0x7d, 0xb8, 0xff}, Second: {0xff, 0xa8, 0x66}, Third: {0xd3, 0xa6, 0xf2},
	}}
}

// Print is for paper: black on white, and greys that a photocopier keeps
// apart.
func Print() Palette {
	return Palette{"print", [numRoles]Color{
		Paper: {0xff, 0xff, 0xff}, Panel: {0xff, 0xff, 0xff},
		Ink: {0x00, 0x00, 0x00}, Muted: {0x4a, 0x4a, 0x4a}, Faint: {0xcf, 0xcf, 0xcf},
		Accent: {0x00, 0x00, 0x00}, Second: {0x5c, 0x5c, 0x5c}, Third: {0x33, 0x33, 0x33},
	}}
}

// Palettes lists the palettes that there are, Light first.
func Palettes() []Palette { return []Palette{Light(), Dark(), Print()} }

// PaletteNamed finds a palette by its name; false if there is none of that
// name.
func PaletteNamed(name string) (Palette, bool) {
	for _, p := range Palettes() {
		if p.Name == name {
			return p, true
		}
	}
	return Palette{}, false
}

// Contrast is the contrast ratio of two colours, from 1 (the same) to 21
// (black and white), as WCAG 2.2 defines it from their relative luminance.
func Contrast(a, b Color) float64 {
	la, lb := a.luminance(), b.luminance()
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

// luminance is WCAG 2.2's relative luminance, 0 to 1.
func (c Color) luminance() float64 {
	linear := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B)
}
