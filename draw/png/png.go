// Package png renders a figure to pixels at any scale, and writes it as PNG.
//
// Call [Write], or [Image] for the pixels. Areas are filled with
// antialiasing by golang.org/x/image/vector; lines become areas, and letters
// the outlines of the figures' own font, so the picture is the same on every
// machine. A PNG has no words: put the figure's description beside it.
package png

import (
	"fmt"
	"image"
	"image/color"
	imagedraw "image/draw"
	imagepng "image/png"
	"io"
	"math"

	"ionwright/draw"
)

// Options say how a figure becomes pixels. The zero value gives two pixels for
// each of the figure's, in the light palette.
type Options struct {
	Palette     draw.Palette // the zero palette means draw.Light()
	Scale       float64      // pixels per pixel of the figure; 0: 2
	Transparent bool         // leave out the background
}

// mostPixels bounds the picture.
const mostPixels = 100_000_000

// Write writes the figure as PNG. It fails if the picture would be empty or
// have more than 100 million pixels, if a coordinate isn't finite, or if w
// fails.
func Write(w io.Writer, f draw.Figure, o Options) error {
	picture, err := Image(f.Scene, o)
	if err != nil {
		return fmt.Errorf("writing the figure %q as PNG: %w", f.Title, err)
	}
	return imagepng.Encode(w, picture)
}

// Image renders a scene. It fails where Write does.
func Image(s draw.Scene, o Options) (*image.RGBA, error) {
	if o.Palette == (draw.Palette{}) {
		o.Palette = draw.Light()
	}
	if o.Scale == 0 {
		o.Scale = 2
	}
	width, height := math.Round(s.Width*o.Scale), math.Round(s.Height*o.Scale)
	if !(width >= 1 && height >= 1 && width*height <= mostPixels) {
		return nil, fmt.Errorf("it would be %v by %v pixels; expected 1 to %d in all", width, height, mostPixels)
	}
	r := &renderer{palette: o.Palette, scale: o.Scale, picture: image.NewRGBA(image.Rect(0, 0, int(width), int(height)))}
	if !o.Transparent {
		imagedraw.Draw(r.picture, r.picture.Bounds(), image.NewUniform(r.color(draw.Paper)), image.Point{}, imagedraw.Src)
	}
	s.Render(r)
	return r.picture, r.err
}

// renderer is a draw.Renderer. It keeps the first error.
type renderer struct {
	palette draw.Palette
	scale   float64
	picture *image.RGBA
	err     error
}

func (r *renderer) color(role draw.Role) color.RGBA {
	c := r.palette.Color(role)
	return color.RGBA{c.R, c.G, c.B, 0xff}
}

// BeginGroup and EndGroup do nothing: pixels have no groups.
func (r *renderer) BeginGroup(*draw.Group) {}

// EndGroup is the other end of BeginGroup.
func (r *renderer) EndGroup(*draw.Group) {}

// Path fills and then strokes.
func (r *renderer) Path(p draw.Path) {
	if p.Fill == draw.NoRole && p.Stroke.Role == draw.NoRole {
		return
	}
	const tolerance = 0.05 // pixels of the picture
	parts := p.Flatten(tolerance / r.scale)
	if p.Fill != draw.NoRole {
		r.fill(parts, p.Fill)
	}
	if p.Stroke.Role != draw.NoRole && p.Stroke.Width > 0 {
		r.fill(outlineOf(parts, p.Stroke), p.Stroke.Role)
	}
}
