// Package svg writes a figure as a self-contained SVG 1.1 document: text
// stays text, in a subset of the figures' font that is embedded, and the
// figure's title and description are there for screen readers.
//
// For most uses call [Write] with the zero Options. Equal figures and options
// give equal bytes.
package svg

import (
	"encoding/base64"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"ionwright/draw"
	"ionwright/draw/typeface"
)

// Options say how a figure is written. The zero value gives a document with
// the light palette and the font embedded.
type Options struct {
	Palette draw.Palette // the zero palette means draw.Light()
	// Dark is used instead of Palette where the reader's device asks for dark
	// colours. The zero palette means: Palette everywhere.
	Dark draw.Palette
	// LinkFont leaves the font out: the page that the figure is put in brings
	// it once, from FontCSS. Where it doesn't, a system font is squeezed to
	// the widths that the layout counted with.
	LinkFont bool
	// Outlines draws the letters as paths, for a program that can't use an
	// embedded font: the same on every machine, but no text to select or
	// search. LinkFont then doesn't matter. A rune that the font lacks is left
	// out.
	Outlines bool
	// LinkColors leaves the choice of colours to the page that the figure is
	// put in: they are the variables that ColorCSS defines. Palette and Dark
	// then don't matter.
	LinkColors bool
	// Transparent leaves out the background.
	Transparent bool
	// Prefix makes the document's ids unique in a page with several figures:
	// letters, digits and hyphens, starting with a letter.
	Prefix string
}

// fallback is what stands in for the font where it isn't embedded, or lacks a
// rune.
const fallback = "'Helvetica Neue',Arial,sans-serif"

// Write writes the figure as one SVG document. It fails, without writing, if
// a coordinate isn't finite, if an id or the prefix has other characters than
// letters, digits and hyphens, or if an id is there twice; otherwise only if w
// fails.
func Write(w io.Writer, f draw.Figure, o Options) error {
	text, err := Marshal(f, o)
	if err != nil {
		return err
	}
	_, err = w.Write(text)
	return err
}

// Marshal is Write into memory.
func Marshal(f draw.Figure, o Options) ([]byte, error) {
	if o.Palette == (draw.Palette{}) {
		o.Palette = draw.Light()
	}
	e := &encoder{options: o, ids: map[string]bool{}}
	e.check(idText(o.Prefix) || o.Prefix == "", "the id prefix %q has characters other than letters, digits and hyphens", o.Prefix)
	e.check(finite(f.Scene.Width) && finite(f.Scene.Height) && f.Scene.Width > 0 && f.Scene.Height > 0,
		"the canvas is %v by %v pixels", f.Scene.Width, f.Scene.Height)

	width, height := number(f.Scene.Width), number(f.Scene.Height)
	e.print(`<svg xmlns="http://www.w3.org/2000/svg" width="`, width, `" height="`, height, `" viewBox="0 0 `, width, ` `, height,
		`" role="img" aria-labelledby="`, e.id("title"), ` `, e.id("desc"), `" class="ionwright-figure" xml:lang="en" font-family="'`, typeface.Family, `',`, fallback, `">`, "\n")
	e.print(`<title id="`, e.id("title"), `">`, escape(f.Title), "</title>\n")
	description := strings.TrimSpace(f.Description + " " + f.Detail)
	e.print(`<desc id="`, e.id("desc"), `">`, escape(description), "</desc>\n")
	e.style(f.Scene)
	if !o.Transparent {
		e.print(`<rect width="`, width, `" height="`, height, `" fill="`, e.color(draw.Paper), `"/>`, "\n")
	}
	f.Scene.Render(e)
	e.print("</svg>\n")
	if e.err != nil {
		return nil, fmt.Errorf("writing the figure %q as SVG: %w", f.Title, e.err)
	}
	return []byte(e.out.String()), nil
}

// encoder is a draw.Renderer. It keeps the first error.
type encoder struct {
	out     strings.Builder
	options Options
	ids     map[string]bool
	err     error
}

func (e *encoder) print(parts ...string) {
	for _, p := range parts {
		e.out.WriteString(p)
	}
}

func (e *encoder) check(ok bool, format string, args ...any) {
	if !ok && e.err == nil {
		e.err = fmt.Errorf(format, args...)
	}
}

func (e *encoder) id(name string) string {
	if e.options.Prefix == "" {
		return name
	}
	return e.options.Prefix + "-" + name
}

// style writes the font's subsets and, for two palettes, the variables that
// choose between them.
func (e *encoder) style(s draw.Scene) {
	var css strings.Builder
	if !e.options.LinkFont && !e.options.Outlines {
		for style, runes := range used(s) {
			if len(runes) > 0 {
				css.WriteString(fontFace(typeface.Style(style), runes))
			}
		}
	}
	if e.adaptive() && !e.options.LinkColors {
		css.WriteString(".ionwright-figure{" + variables(e.options.Palette) + "}\n")
		css.WriteString("@media (prefers-color-scheme:dark){.ionwright-figure{" + variables(e.options.Dark) + "}}\n")
	}
	if css.Len() > 0 {
		e.print("<style>\n", css.String(), "</style>\n")
	}
}

func (e *encoder) adaptive() bool {
	return e.options.LinkColors || e.options.Dark != (draw.Palette{})
}

// ColorCSS returns the declarations that give figures written with LinkColors
// the palette's colours, for a rule of a page's style sheet.
func ColorCSS(p draw.Palette) string { return variables(p) }

func variables(p draw.Palette) string {
	var parts []string
	for _, r := range draw.Roles() {
		parts = append(parts, "--ionwright-"+r.String()+":"+p.Color(r).Hex())
	}
	return strings.Join(parts, ";")
}

// color is what stands in a fill or stroke attribute for a role.
func (e *encoder) color(r draw.Role) string {
	if r == draw.NoRole {
		return "none"
	}
	if e.adaptive() {
		return "var(--ionwright-" + r.String() + ")"
	}
	return e.options.Palette.Color(r).Hex()
}

// used lists the runes of a scene by the style they are set in.
func used(s draw.Scene) [typeface.NumStyles][]rune {
	var runes [typeface.NumStyles][]rune
	s.Walk(func(item draw.Item, _ []*draw.Group) {
		if t, ok := item.(draw.Text); ok {
			for _, r := range t.Runs {
				runes[r.Style()] = append(runes[r.Style()], []rune(r.Text)...)
			}
		}
	})
	return runes
}

// fontFace is the CSS rule that brings the runes of one style.
func fontFace(style typeface.Style, runes []rune) string {
	css := "@font-face{font-family:'" + typeface.Family + "'"
	switch style {
	case typeface.Italic:
		css += ";font-style:italic"
	case typeface.Bold:
		css += ";font-weight:bold"
	}
	data := base64.StdEncoding.EncodeToString(typeface.Of(style).Subset(runes))
	return css + ";src:url(data:font/ttf;base64," + data + ") format('truetype')}\n"
}

// FontCSS returns the style rules that bring the font for a page of figures
// written with LinkFont: the runes of all their texts.
func FontCSS(scenes ...draw.Scene) string {
	var all [typeface.NumStyles][]rune
	for _, s := range scenes {
		for style, runes := range used(s) {
			all[style] = append(all[style], runes...)
		}
	}
	var css strings.Builder
	for style, runes := range all {
		if len(runes) > 0 {
			css.WriteString(fontFace(typeface.Style(style), runes))
		}
	}
	return css.String()
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// number writes a length with at most two decimals.
func number(v float64) string {
	s := strconv.FormatFloat(v, 'f', 2, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" || s == "" {
		return "0"
	}
	return s
}

func idText(s string) bool {
	for i, r := range s {
		letter := r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z'
		if !letter && (i == 0 || !(r >= '0' && r <= '9' || r == '-')) {
			return false
		}
	}
	return s != ""
}

// escape makes text safe between tags and in attributes. Characters that XML
// can't hold become U+FFFD.
func escape(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == '&':
			b.WriteString("&amp;")
		case r == '<':
			b.WriteString("&lt;")
		case r == '>':
			b.WriteString("&gt;")
		case r == '"':
			b.WriteString("&quot;")
		case r < ' ' && r != '\t' && r != '\n' && r != '\r' || r == 0xFFFE || r == 0xFFFF:
			b.WriteRune(0xFFFD)
		default:
			b.WriteRune(r) // an invalid byte comes out of range as U+FFFD already
		}
	}
	return b.String()
}
