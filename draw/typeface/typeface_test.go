package typeface

import (
	"bytes"
	"math"
	"testing"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goitalic"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// figureText is what figures are made of: digits, element symbols, signs,
// units, Greek locants.
const figureText = "0123456789 HCNOFSiPClBrIAl()[]{}+−-•·×/%.,=≡→±≈′αβγδωμλmz relative intensity Ionq"

// The witness is golang.org/x/image's own reader of the same files.
func TestMetricsAgreeWithSfnt(t *testing.T) {
	for style, ttf := range map[Style][]byte{Regular: goregular.TTF, Italic: goitalic.TTF} {
		ref, err := sfnt.Parse(ttf)
		if err != nil {
			t.Fatal(err)
		}
		var buf sfnt.Buffer
		upem := fixed.Int26_6(ref.UnitsPerEm())
		face := Of(style)
		for _, r := range figureText {
			g, err := ref.GlyphIndex(&buf, r)
			if err != nil || g == 0 {
				t.Fatalf("%v: the font lacks %q", style, r)
			}
			bounds, advance, err := ref.GlyphBounds(&buf, g, upem<<6, font.HintingNone)
			if err != nil {
				t.Fatal(err)
			}
			em := func(v fixed.Int26_6) float64 { return float64(v) / 64 / float64(upem) }
			if want := em(advance); math.Abs(face.Advance(r)-want) > 1e-9 {
				t.Errorf("%v: advance of %q is %v, sfnt says %v", style, r, face.Advance(r), want)
			}
			ink := face.Ink(r)
			want := Box{em(bounds.Min.X), -em(bounds.Max.Y), em(bounds.Max.X), -em(bounds.Min.Y)}
			if math.Abs(ink.XMin-want.XMin)+math.Abs(ink.YMin-want.YMin)+math.Abs(ink.XMax-want.XMax)+math.Abs(ink.YMax-want.YMax) > 4e-3 {
				t.Errorf("%v: ink of %q is %v, sfnt says %v", style, r, ink, want)
			}
		}
	}
}

func TestHeightsHold(t *testing.T) {
	for style := range NumStyles {
		face := Of(style)
		for _, r := range figureText {
			if ink := face.Ink(r); ink.YMax > Ascent || ink.YMin < Descent {
				t.Errorf("%v: %q reaches from %.3f to %.3f em, outside %v..%v", style, r, ink.YMin, ink.YMax, Descent, Ascent)
			}
		}
		for _, r := range "0123456789H" {
			if ink := face.Ink(r); ink.YMax > CapHeight || ink.YMax < CapHeight-0.04 {
				t.Errorf("%v: %q is %.3f em high, CapHeight says %v", style, r, ink.YMax, CapHeight)
			}
		}
		if top := face.Ink('x').YMax; top > XHeight || top < XHeight-0.04 {
			t.Errorf("%v: x is %.3f em high, XHeight says %v", style, top, XHeight)
		}
	}
}

// A subset must measure and outline as the whole font does, read by the
// witness.
func TestSubset(t *testing.T) {
	runes := []rune("C₂H5é+•m/z−") // é is a composite glyph
	whole, err := sfnt.Parse(goregular.TTF)
	if err != nil {
		t.Fatal(err)
	}
	small := Of(Regular).Subset(runes)
	part, err := sfnt.Parse(small)
	if err != nil {
		t.Fatalf("sfnt can't read the subset: %v", err)
	}
	var buf sfnt.Buffer
	for _, r := range runes {
		size := fixed.I(100)
		gw, _ := whole.GlyphIndex(&buf, r)
		gp, err := part.GlyphIndex(&buf, r)
		if err != nil || gp == 0 {
			t.Errorf("the subset lacks %q", r)
			continue
		}
		bw, aw, err1 := whole.GlyphBounds(&buf, gw, size, font.HintingNone)
		bp, ap, err2 := part.GlyphBounds(&buf, gp, size, font.HintingNone)
		if err1 != nil || err2 != nil || bw != bp || aw != ap {
			t.Errorf("%q: bounds %v advance %v in the font, %v %v in the subset (%v, %v)", r, bw, aw, bp, ap, err1, err2)
		}
	}
	if g, _ := part.GlyphIndex(&buf, 'Q'); g != 0 {
		t.Errorf("the subset holds Q, which wasn't asked for")
	}
	if len(small) > 6000 {
		t.Errorf("a subset of %d glyphs has %d bytes", len(runes), len(small))
	}
	if sum := checksum(small); sum != 0xB1B0AFBA { // OpenType 1.9, head.checksumAdjustment
		t.Errorf("the subset's checksum is %#x", sum)
	}
	back := []rune("−z/m•+é5H₂C")
	if !bytes.Equal(small, Of(Regular).Subset(append(back, back...))) {
		t.Error("the same runes in another order give other bytes")
	}
	if !bytes.Contains(small, []byte("C\x00o\x00p\x00y\x00r\x00i\x00g\x00h\x00t")) {
		t.Error("the subset has lost the copyright notice")
	}
}

func TestMissingRuneIsOneEm(t *testing.T) {
	if w := Of(Regular).Width("質"); w != 1 {
		t.Errorf("width of a rune the font lacks is %v em, want 1", w)
	}
}

func TestDamagedFontIsAnError(t *testing.T) {
	for n := 0; n < len(goregular.TTF); n += 997 {
		if _, err := Parse(goregular.TTF[:n]); err == nil {
			t.Fatalf("the first %d bytes of a font parse", n)
		}
	}
	for at := 0; at < 3000; at++ { // a flipped byte may pass, but must not panic
		damaged := bytes.Clone(goregular.TTF)
		damaged[at] ^= 0xFF
		if f, err := Parse(damaged); err == nil {
			f.Subset([]rune("Cé5"))
			f.Ink('C')
		}
	}
}

func BenchmarkWidth(b *testing.B) {
	f := Of(Regular)
	for b.Loop() {
		f.Width("m/z 72")
	}
}
