package svg_test

import (
	"bytes"
	"encoding/xml"
	"io"
	"math"
	"strings"
	"testing"

	"ionwright/draw"
	"ionwright/draw/svg"
)

func sample() draw.Figure {
	line := draw.Polyline(draw.Stroke{Role: draw.Accent, Width: 2, Dash: []float64{4, 2}}, draw.Point{X: 1, Y: 2}, draw.Point{X: 30, Y: 2.005})
	text := draw.Text{At: draw.Point{X: 50, Y: 40}, Anchor: draw.Middle, Size: 12, Role: draw.Ink, Halo: draw.Paper, Runs: []draw.Run{
		{Text: "C"}, {Text: "2", Script: draw.Sub}, {Text: "H"}, {Text: "5", Script: draw.Sub}, {Text: "+", Script: draw.Super}, {Text: " at "}, {Text: "m/z", Italic: true}, {Text: " 29 <&>"},
	}}
	return draw.Figure{
		Scene: draw.Scene{Width: 100, Height: 60, Items: []draw.Item{
			&draw.Group{ID: "peak-29", Class: "peak", Title: `"29" & more`, Items: []draw.Item{line, text}},
			draw.Circle(draw.Point{X: 80, Y: 30}, 5, draw.Panel, draw.Stroke{Role: draw.Muted, Width: 1}),
		}},
		Title: "A <sample>", Description: "It shows a line.", Detail: "And\x00 a circle.",
	}
}

// elements reads the document with encoding/xml, which is the witness that it
// is well formed, and returns its elements and its text.
func elements(t *testing.T, document []byte) ([]xml.StartElement, string) {
	t.Helper()
	decoder := xml.NewDecoder(bytes.NewReader(document))
	var all []xml.StartElement
	var text strings.Builder
	for {
		token, err := decoder.Token()
		if err == io.EOF {
			return all, text.String()
		}
		if err != nil {
			t.Fatalf("%v in\n%s", err, document)
		}
		switch token := token.(type) {
		case xml.StartElement:
			all = append(all, token.Copy())
		case xml.CharData:
			text.Write(token)
		}
	}
}

func TestWellFormedWithWords(t *testing.T) {
	document, err := svg.Marshal(sample(), svg.Options{})
	if err != nil {
		t.Fatal(err)
	}
	all, text := elements(t, document)
	if all[0].Name.Local != "svg" || all[0].Name.Space != "http://www.w3.org/2000/svg" {
		t.Errorf("the root is %v", all[0].Name)
	}
	for _, want := range []string{"A <sample>", "It shows a line. And\ufffd a circle.", `"29" & more`, "C2H5+ at m/z 29 <&>", "font/ttf;base64,"} {
		if !strings.Contains(text, want) {
			t.Errorf("the document's text lacks %q", want)
		}
	}
	for _, bad := range []string{"http://", "https://", "<script", "<image", "url(#"} {
		body := strings.Replace(string(document), `xmlns="http://www.w3.org/2000/svg"`, "", 1)
		if strings.Contains(body, bad) {
			t.Errorf("a self-contained document has %q", bad)
		}
	}
	again, _ := svg.Marshal(sample(), svg.Options{})
	if !bytes.Equal(document, again) {
		t.Error("the same figure gives other bytes the second time")
	}
}

func TestBaselineReturns(t *testing.T) {
	document, err := svg.Marshal(sample(), svg.Options{})
	if err != nil {
		t.Fatal(err)
	}
	all, _ := elements(t, document)
	sum := 0.0
	for _, e := range all {
		for _, a := range e.Attr {
			if e.Name.Local == "tspan" && a.Name.Local == "dy" {
				var dy float64
				if err := xml.Unmarshal([]byte("<v>"+a.Value+"</v>"), &dy); err != nil {
					t.Fatal(err)
				}
				sum += dy
			}
		}
	}
	if math.Abs(sum) > 0.02 { // rounding of five shifts to 0.01 px
		t.Errorf("after its last run the text stands %v px off its baseline", sum)
	}
}

func TestOptions(t *testing.T) {
	marshal := func(o svg.Options) string {
		document, err := svg.Marshal(sample(), o)
		if err != nil {
			t.Fatal(err)
		}
		elements(t, document)
		return string(document)
	}
	dark := marshal(svg.Options{Palette: draw.Dark()})
	if ink := draw.Dark().Color(draw.Ink).Hex(); !strings.Contains(dark, `fill="`+ink+`"`) {
		t.Errorf("the dark figure has no ink of %s", ink)
	}
	both := marshal(svg.Options{Dark: draw.Dark(), Prefix: "fig-3"})
	for _, want := range []string{"prefers-color-scheme:dark", "var(--ionwright-ink)", `id="fig-3-peak-29"`, `aria-labelledby="fig-3-title fig-3-desc"`} {
		if !strings.Contains(both, want) {
			t.Errorf("the figure in two palettes lacks %q", want)
		}
	}
	linked := marshal(svg.Options{LinkFont: true, Transparent: true})
	if strings.Contains(linked, "base64") || strings.Contains(linked, "<rect") || !strings.Contains(linked, "textLength=") {
		t.Error("LinkFont or Transparent isn't heeded")
	}
	if css := svg.FontCSS(sample().Scene); strings.Count(css, "@font-face") != 2 { // regular and italic
		t.Errorf("the page's font rules: %.80q", css)
	}
}

func TestWhatCantBeWritten(t *testing.T) {
	bad := func(change func(*draw.Figure), o svg.Options) error {
		f := sample()
		change(&f)
		var out bytes.Buffer
		err := svg.Write(&out, f, o)
		if out.Len() > 0 {
			t.Error("Write wrote part of a figure that it refuses")
		}
		return err
	}
	tests := []struct {
		name, want string
		err        error
	}{
		{"NaN", "a path goes through (NaN, 2)", bad(func(f *draw.Figure) {
			f.Scene.Items = []draw.Item{draw.Polyline(draw.Stroke{Role: draw.Ink}, draw.Point{X: math.NaN(), Y: 2})}
		}, svg.Options{})},
		{"canvas", "the canvas is 0 by 60 pixels", bad(func(f *draw.Figure) { f.Scene.Width = 0 }, svg.Options{})},
		{"id", `the id "a b" has characters`, bad(func(f *draw.Figure) { f.Scene.Items = []draw.Item{&draw.Group{ID: "a b"}} }, svg.Options{})},
		{"twice", `the id "a" is there twice`, bad(func(f *draw.Figure) { f.Scene.Items = []draw.Item{&draw.Group{ID: "a"}, &draw.Group{ID: "a"}} }, svg.Options{})},
		{"prefix", `the id prefix "\"" has`, bad(func(*draw.Figure) {}, svg.Options{Prefix: `"`})},
	}
	for _, test := range tests {
		if test.err == nil || !strings.Contains(test.err.Error(), test.want) || !strings.Contains(test.err.Error(), `"A <sample>"`) {
			t.Errorf("%s: error %v, want one with %q and the figure's title", test.name, test.err, test.want)
		}
	}
}

func BenchmarkMarshal(b *testing.B) {
	f := sample()
	for b.Loop() {
		if _, err := svg.Marshal(f, svg.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

// TestLinkedColors leaves the colours to the page, as variables that ColorCSS
// names.
func TestLinkedColors(t *testing.T) {
	f := draw.Figure{Title: "T", Scene: draw.Scene{Width: 10, Height: 10, Items: []draw.Item{
		draw.Polyline(draw.Stroke{Role: draw.Accent, Width: 1}, draw.Point{X: 1, Y: 1}, draw.Point{X: 9, Y: 9}),
	}}}
	text, err := svg.Marshal(f, svg.Options{LinkFont: true, LinkColors: true})
	if err != nil {
		t.Fatal(err)
	}
	if strings.Contains(string(text), "<style") || !strings.Contains(string(text), `stroke="var(--ionwright-accent)"`) {
		t.Errorf("the figure is %s", text)
	}
	if css := svg.ColorCSS(draw.Light()); !strings.Contains(css, "--ionwright-accent:#") {
		t.Errorf("the rules are %q", css)
	}
}
