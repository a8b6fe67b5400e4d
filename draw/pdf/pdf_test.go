package pdf_test

import (
	"bytes"
	"fmt"
	"image"
	imagepng "image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf16"

	"ionwright/chem"
	"ionwright/draw"
	"ionwright/draw/pdf"
	"ionwright/draw/plot"
	"ionwright/draw/png"
	"ionwright/spectrum"
)

func figure(t *testing.T) draw.Figure {
	t.Helper()
	f, err := plot.Spectrum(spectrum.MustParse("15:5 29:20 43:100 57:8 72:25"), plot.Options{
		Name: "an invented spectrum", MolecularIon: 72, Highlight: []float64{43},
		Assignments: []plot.Assignment{{MZ: 43, Text: draw.Ion(chem.MustFormula("C2H3O+"))}},
		Losses:      []plot.Loss{{From: 72, To: 43, Text: draw.Formula(chem.MustFormula("C2H5"))}},
	})
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func write(t *testing.T, figures []draw.Figure, o pdf.Options) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := pdf.Write(&out, figures, o); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func TestDocument(t *testing.T) {
	f := figure(t)
	document := write(t, []draw.Figure{f, f}, pdf.Options{})
	if !bytes.HasPrefix(document, []byte("%PDF-1.")) || !bytes.HasSuffix(bytes.TrimSpace(document), []byte("%%EOF")) {
		t.Error("the document has no PDF head or end")
	}
	if n := bytes.Count(document, []byte("/Type /Page\n")); n != 4 { // each once more where it gets its tag
		t.Errorf("%d page objects, want 4", n)
	}
	if !bytes.Contains(document, []byte("[0 0 540.00 300.00]")) { // 720 x 400 pixels of 0.75 point
		t.Error("no page of 540 by 300 points")
	}
	if !bytes.Equal(document, write(t, []draw.Figure{f, f}, pdf.Options{})) {
		t.Error("the same figures give other bytes the second time")
	}
}

func TestWhatCantBeWritten(t *testing.T) {
	bad := draw.Figure{Title: "bad", Scene: draw.Scene{Width: 10, Height: 10, Items: []draw.Item{
		draw.Polyline(draw.Stroke{Role: draw.Ink, Width: 1}, draw.Point{X: math.Inf(1)}, draw.Point{}),
	}}}
	for _, test := range []struct {
		figures []draw.Figure
		want    string
	}{
		{nil, "there is no figure"},
		{[]draw.Figure{{Title: "empty"}}, `"empty" as PDF: the page would be 0 by 0 points`},
		{[]draw.Figure{bad}, `"bad" as PDF: a path goes through (+Inf, 0)`},
	} {
		var out bytes.Buffer
		err := pdf.Write(&out, test.figures, pdf.Options{})
		if err == nil || !strings.Contains(err.Error(), test.want) || out.Len() > 0 {
			t.Errorf("error %v, want one with %q and nothing written", err, test.want)
		}
	}
}

// poppler runs one of the poppler tools, the witness that reads PDF.
func poppler(t *testing.T, tool string, args ...string) []byte {
	t.Helper()
	path, err := exec.LookPath(tool)
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatalf("%s is absent; in CI it must be present", tool)
		}
		t.Skipf("%s is absent here; the fuller checks bring it", tool)
	}
	out, err := exec.Command(path, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", tool, err, out)
	}
	return out
}

func file(t *testing.T, document []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "figure.pdf")
	if err := os.WriteFile(path, document, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestTextIsText(t *testing.T) {
	text := string(poppler(t, "pdftotext", file(t, write(t, []draw.Figure{figure(t)}, pdf.Options{})), "-"))
	for _, want := range []string{"relative intensity (%)", "m/z", "C2H3O+", "M+•", "−29 (C2H5)", "72"} {
		if !strings.Contains(text, want) {
			t.Errorf("the page's text lacks %q:\n%s", want, text)
		}
	}
}

// Poppler finds a figure with its words for each page.
func TestTagged(t *testing.T) {
	f, g := figure(t), figure(t)
	g.Title, g.Description, g.Detail = "a second figure (of two)", "Ions go → and °.", "More."
	path := file(t, write(t, []draw.Figure{f, g}, pdf.Options{}))
	info := string(poppler(t, "pdfinfo", path))
	for _, want := range []string{"Tagged:          yes", "Pages:           2", "Title:           " + f.Title} {
		if !strings.Contains(info, want) {
			t.Errorf("the document lacks %q:\n%s", want, info)
		}
	}
	tree := string(poppler(t, "pdfinfo", "-struct", path))
	for _, want := range []string{"Document\n", `Figure "` + f.Title + `"`, `Figure "a second figure (of two)"`} {
		if !strings.Contains(tree, want) {
			t.Errorf("the structure tree lacks %q:\n%s", want, tree)
		}
	}
	document := write(t, []draw.Figure{f, g}, pdf.Options{})
	if hex := fmt.Sprintf("/Alt <FEFF%X>", utf16BE(g.Description+" "+g.Detail)); !bytes.Contains(document, []byte(hex)) {
		t.Error("the second figure's alternative text is missing")
	}
	if n := bytes.Count(document, []byte("/Alt ")); n != 2 {
		t.Errorf("%d alternative texts, want 2", n)
	}
	if n := strings.Count(string(poppler(t, "pdfinfo", "-struct-text", path)), "Figure"); n != 2 {
		t.Errorf("%d figures in the tree, want 2", n)
	}
}

func utf16BE(s string) []byte {
	var out []byte
	for _, unit := range utf16.Encode([]rune(s)) {
		out = append(out, byte(unit>>8), byte(unit))
	}
	return out
}

// The page looks like the PNG of the same figure.
func TestLooksLikeThePNG(t *testing.T) {
	f := figure(t)
	path := file(t, write(t, []draw.Figure{f}, pdf.Options{Palette: draw.Light()}))
	poppler(t, "pdftoppm", "-r", "96", "-png", "-singlefile", path, strings.TrimSuffix(path, ".pdf"))
	data, err := os.ReadFile(strings.TrimSuffix(path, "pdf") + "png")
	if err != nil {
		t.Fatal(err)
	}
	theirs, err := imagepng.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	ours, err := png.Image(f.Scene, png.Options{Scale: 1})
	if err != nil {
		t.Fatal(err)
	}
	if theirs.Bounds() != ours.Bounds() {
		t.Fatalf("the page is %v, the PNG %v", theirs.Bounds(), ours.Bounds())
	}
	const most = 25 // of 255; antialiasing differs by tool
	if d := difference(theirs, ours); d > most {
		t.Errorf("the brightness of a square differs by %.0f of 255", d)
	}
	// The comparison must see a single digit that differs.
	other, err := plot.Spectrum(spectrum.MustParse("15:5 29:20 43:100 57:8 72:25"), plot.Options{Strongest: 4})
	if err != nil {
		t.Fatal(err)
	}
	same, err := plot.Spectrum(spectrum.MustParse("15:5 29:20 43:100 58:8 72:25"), plot.Options{Strongest: 4})
	if err != nil {
		t.Fatal(err)
	}
	a, errA := png.Image(other.Scene, png.Options{Scale: 1})
	b, errB := png.Image(same.Scene, png.Options{Scale: 1})
	if errA != nil || errB != nil || difference(a, b) < 2*most {
		t.Errorf("a peak at m/z 58 instead of 57 makes a difference of only %.0f", difference(a, b))
	}
}

// difference is the greatest difference in brightness, of 255, between squares
// of 8 pixels of two pictures of one size.
func difference(a, b image.Image) float64 {
	const square = 8
	worst := 0.0
	for y := 0; y < a.Bounds().Dy(); y += square {
		for x := 0; x < a.Bounds().Dx(); x += square {
			worst = max(worst, math.Abs(mean(a, x, y, square)-mean(b, x, y, square)))
		}
	}
	return worst
}

func mean(m image.Image, x, y, square int) float64 {
	sum, n := 0.0, 0.0
	for j := y; j < min(y+square, m.Bounds().Dy()); j++ {
		for i := x; i < min(x+square, m.Bounds().Dx()); i++ {
			_, g, _, _ := m.At(i, j).RGBA()
			sum += float64(g) / 257
			n++
		}
	}
	return sum / n
}
