package output_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"image"
	imagepng "image/png"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ionwright/draw"
	"ionwright/draw/output"
	"ionwright/draw/plot"
	"ionwright/draw/png"
	"ionwright/draw/structure"
	"ionwright/mol/smiles"
	"ionwright/spectrum"
)

// figures are one of a spectrum with everything, one of a structure, and one
// with dashed bonds in brackets.
func figures(t *testing.T) map[string]draw.Figure {
	t.Helper()
	m, err := smiles.Parse("C[C@H](N)C(=O)Oc1ccccc1")
	if err != nil {
		t.Fatal(err)
	}
	// Larger than the least window that a browser opens.
	formula, err := structure.Draw(m, structure.Options{LonePairs: true, Numbers: true, Atoms: []int{1}, Bond: 90})
	if err != nil {
		t.Fatal(err)
	}
	small, err := structure.Draw(m, structure.Options{Bond: 20})
	if err != nil {
		t.Fatal(err)
	}
	peaks, err := plot.Spectrum(spectrum.MustParse("29:20 43:100 57:8 71:11 72:24 73:3"), plot.Options{
		MolecularIon: 72, Highlight: []float64{43}, Losses: []plot.Loss{{From: 72, To: 43}}, Zoom: &plot.Zoom{From: 71, To: 73},
		Insets: []plot.Inset{{MZ: 43, Figure: small}},
	})
	if err != nil {
		t.Fatal(err)
	}
	ion, err := smiles.Parse("[CH2+]c1ccccc1")
	if err != nil {
		t.Fatal(err)
	}
	spread, _ := structure.Delocalize(ion)
	brackets, err := structure.Draw(ion, structure.Options{Brackets: spread, Bond: 110})
	if err != nil {
		t.Fatal(err)
	}
	return map[string]draw.Figure{"structure": formula, "spectrum": peaks, "brackets": brackets}
}

func written(t *testing.T, name string, f draw.Figure, o output.Options) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := output.Write(&b, name, f, o); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestSameBytes(t *testing.T) {
	for kind, f := range figures(t) {
		for _, format := range output.Formats() {
			a, b := written(t, "a"+format.Ending, f, output.Options{}), written(t, "b"+format.Ending, f, output.Options{})
			if len(a) == 0 || !bytes.Equal(a, b) {
				t.Errorf("%s as %s: %d bytes and %d bytes that differ", kind, format.Name, len(a), len(b))
			}
		}
	}
}

func TestRefused(t *testing.T) {
	f := figures(t)["structure"]
	for want, err := range map[string]error{
		"end with .svg, .png, .pdf": output.Write(io.Discard, "a.gif", f, output.Options{}),
		"a scale of -1":             output.Write(io.Discard, "a.png", f, output.Options{Scale: -1}),
		"a scale of NaN":            output.Write(io.Discard, "a.png", f, output.Options{Scale: math.NaN()}),
	} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("the error is %v, want %q in it", err, want)
		}
	}
}

// allowed are the elements of SVG 1.1 that figures use, with the attributes
// that the recommendation gives each (and paint-order, of SVG 2), and in what
// they may stand.
var allowed = map[string]struct{ in, attributes string }{
	"svg":   {"", "width height viewBox role aria-labelledby class lang font-family xmlns"},
	"title": {"svg g", "id"},
	"desc":  {"svg", "id"},
	"style": {"svg", ""},
	"rect":  {"svg", "width height fill"},
	"g":     {"svg g", "id class"},
	"path":  {"svg g", "d fill stroke stroke-width stroke-linecap stroke-linejoin stroke-dasharray paint-order transform class"},
	"text":  {"svg g", "x y font-size fill text-anchor stroke stroke-width stroke-linejoin paint-order transform textLength lengthAdjust space"},
	"tspan": {"text", "dy font-size font-weight font-style"},
}

// svgFaults reads a document and lists what SVG doesn't allow.
func svgFaults(document []byte) []string {
	var faults []string
	var open []string
	d := xml.NewDecoder(bytes.NewReader(document))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return faults
		}
		if err != nil {
			return append(faults, err.Error())
		}
		switch token := token.(type) {
		case xml.StartElement:
			name, parent := token.Name.Local, ""
			if len(open) > 0 {
				parent = open[len(open)-1]
			}
			rule, known := allowed[name]
			if !known || parent != "" && !slices.Contains(strings.Fields(rule.in), parent) {
				faults = append(faults, "<"+name+"> in <"+parent+">")
			}
			seen := map[string]bool{}
			for _, a := range token.Attr {
				if !slices.Contains(strings.Fields(rule.attributes), a.Name.Local) || seen[a.Name.Local] {
					faults = append(faults, name+" has "+a.Name.Local+", or twice")
				}
				seen[a.Name.Local] = true
			}
			open = append(open, name)
		case xml.EndElement:
			open = open[:len(open)-1]
		}
	}
}

func TestSVGKeepsTheRules(t *testing.T) {
	for kind, f := range figures(t) {
		for _, o := range []output.Options{{}, {Outlines: true}, {Palette: draw.Dark(), Transparent: true}, {Palette: draw.Light(), Dark: draw.Dark()}} {
			for _, fault := range svgFaults(written(t, "a.svg", f, o)) {
				t.Errorf("%s: %s", kind, fault)
			}
		}
	}
	if n := len(svgFaults([]byte(`<svg><path points="1"/><circle/></svg>`))); n != 2 { // the checker sees both
		t.Errorf("a bad document has %d faults, want 2", n)
	}
}

// difference is the mean absolute difference of two pictures, of 255, and the
// share of pixels that differ by more than half of that in some channel.
func difference(a, b image.Image) (mean, share float64) {
	box := a.Bounds().Intersect(b.Bounds())
	sum, far := 0.0, 0
	for y := box.Min.Y; y < box.Max.Y; y++ {
		for x := box.Min.X; x < box.Max.X; x++ {
			r, g, bl, _ := a.At(x, y).RGBA()
			r2, g2, bl2, _ := b.At(x, y).RGBA()
			worst := 0.0
			for _, d := range []float64{float64(r) - float64(r2), float64(g) - float64(g2), float64(bl) - float64(bl2)} {
				sum += math.Abs(d) / 257 / 3
				worst = max(worst, math.Abs(d)/257)
			}
			if worst > 127 {
				far++
			}
		}
	}
	n := float64(box.Dx() * box.Dy())
	return sum / n, float64(far) / n
}

// absent ends the test for want of an outside program: skipped, but failed
// where CI=true.
func absent(t *testing.T, why string) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatal(why + "; in CI it must be there")
	}
	t.Skip(why + "; the fuller checks (.ci/run) bring it")
}

// tool finds a program that the test needs, or skips.
func tool(t *testing.T, names ...string) string {
	t.Helper()
	for _, name := range names {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	absent(t, fmt.Sprintf("none of %v is installed", names))
	return ""
}

// same compares a picture with our own PNG at the same scale. The bounds are
// about twice the worst that was measured with Chromium 0.29 and 0.0003, with
// Poppler 0.77 and 0.0017: they tell other antialiasing from another drawing.
func same(t *testing.T, what string, f draw.Figure, got image.Image) {
	t.Helper()
	want, err := png.Image(f.Scene, png.Options{Scale: 2})
	if err != nil {
		t.Fatal(err)
	}
	if d := got.Bounds().Size().Sub(want.Bounds().Size()); d.X < -2 || d.X > 2 || d.Y < -2 || d.Y > 2 {
		t.Errorf("%s is %v, our PNG %v", what, got.Bounds().Size(), want.Bounds().Size())
	}
	mean, share := difference(want, got)
	t.Logf("%s differs from our PNG by %.3f of 255; %.5f of the pixels by more than half", what, mean, share)
	if mean > mostMean || share > mostShare {
		t.Errorf("%s differs from our PNG by %.3f of 255, and %.5f of the pixels by more than half; at most %v and %v", what, mean, share, mostMean, mostShare)
	}
}

const (
	mostMean  = 1.5
	mostShare = 0.004
)

func picture(t *testing.T, path string) image.Image {
	t.Helper()
	file, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	p, err := imagepng.Decode(file)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestChromiumDrawsTheSame(t *testing.T) {
	if testing.Short() {
		t.Skip("starts a browser")
	}
	browser := tool(t, "chromium", "chromium-browser", "google-chrome")
	for kind, f := range figures(t) {
		for name, o := range map[string]output.Options{"text": {Palette: draw.Light()}, "outlines": {Palette: draw.Light(), Outlines: true}} {
			dir := t.TempDir()
			// A page without margins, as large as the figure.
			page := append([]byte("<!doctype html><meta charset=utf-8><style>body{margin:0}svg{display:block}</style>"), written(t, "a.svg", f, o)...)
			if err := os.WriteFile(filepath.Join(dir, "a.html"), page, 0o644); err != nil {
				t.Fatal(err)
			}
			size := []string{number(f.Scene.Width), number(f.Scene.Height)}
			cmd := exec.Command(browser, "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", "--force-device-scale-factor=2", "--enable-logging=stderr",
				"--user-data-dir="+filepath.Join(dir, "profile"), "--window-size="+strings.Join(size, ","), "--screenshot="+filepath.Join(dir, "a.png"), "file://"+filepath.Join(dir, "a.html"))
			said, err := cmd.CombinedOutput()
			if err != nil {
				absent(t, fmt.Sprintf("Chromium doesn't run here: %v", err))
			}
			if strings.Contains(string(said), "CONSOLE") {
				t.Errorf("%s: the console says %s", kind, said)
			}
			same(t, kind+" as SVG with "+name+" in Chromium", f, picture(t, filepath.Join(dir, "a.png")))
		}
	}
}

func number(v float64) string { return strconv.FormatFloat(math.Ceil(v), 'f', -1, 64) }

func TestPDFShowsTheSame(t *testing.T) {
	render := tool(t, "pdftoppm")
	for kind, f := range figures(t) {
		dir := t.TempDir()
		if err := os.WriteFile(filepath.Join(dir, "a.pdf"), written(t, "a.pdf", f, output.Options{Palette: draw.Light()}), 0o644); err != nil {
			t.Fatal(err)
		}
		cmd := exec.Command(render, "-r", "192", "-png", "-singlefile", filepath.Join(dir, "a.pdf"), filepath.Join(dir, "a"))
		if said, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("pdftoppm: %v: %s", err, said)
		}
		same(t, kind+" as PDF", f, picture(t, filepath.Join(dir, "a.png")))
	}
}

// A picture of something else is seen.
func TestDifferenceSees(t *testing.T) {
	all := figures(t)
	a, err := png.Image(all["spectrum"].Scene, png.Options{Scale: 1})
	if err != nil {
		t.Fatal(err)
	}
	moved := all["spectrum"].Scene
	moved.Items = draw.Placed(moved.Items, 1, 3, 0)
	b, err := png.Image(moved, png.Options{Scale: 1})
	if err != nil {
		t.Fatal(err)
	}
	if mean, share := difference(a, b); mean < mostMean && share < mostShare {
		t.Errorf("the same moved by three pixels differs by only %v and %v", mean, share)
	}
}
