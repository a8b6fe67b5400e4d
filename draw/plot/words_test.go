package plot_test

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"

	"ionwright/chem"
	"ionwright/draw"
	"ionwright/draw/plot"
	"ionwright/draw/svg"
	"ionwright/internal/fixture"
	"ionwright/spectrum"
)

func butanone(t *testing.T) spectrum.Spectrum {
	t.Helper()
	s := fixture.ByName(t, "2-butanone").Spectrum(t)
	s.Info.Name = "2-butanone"
	return s
}

func butanoneOptions() plot.Options {
	ion := func(f string) []draw.Run { return draw.Ion(chem.MustFormula(f)) }
	return plot.Options{
		MolecularIon: 72,
		Highlight:    []float64{43},
		Assignments:  []plot.Assignment{{MZ: 43, Text: ion("C2H3O+")}, {MZ: 57, Text: ion("C3H5O+")}, {MZ: 72, Text: ion("C4H8O+")}},
		Losses:       []plot.Loss{{From: 72, To: 57, Text: draw.Formula(chem.MustFormula("CH3"))}, {From: 72, To: 43, Text: draw.Formula(chem.MustFormula("C2H5"))}},
	}
}

func TestWordsForTeaching(t *testing.T) {
	f, err := plot.Spectrum(butanone(t), butanoneOptions())
	if err != nil {
		t.Fatal(err)
	}
	if want := "Mass spectrum of 2-butanone (measured)"; f.Title != want {
		t.Errorf("title %q, want %q", f.Title, want)
	}
	// Base peak 43, molecular ion 72, losses of CH3 and C2H5: common practice
	// for methyl ethyl ketone, and so in the measured record.
	for _, want := range []string{"base peak at m/z 43", "molecular ion at m/z 72 (", "15 (CH3) to m/z 57", "29 (C2H5) to m/z 43"} {
		if !strings.Contains(f.Description, want) {
			t.Errorf("the description lacks %q: %s", want, f.Description)
		}
	}
	if n := strings.Count(f.Description, ". "); n != 0 || !strings.HasSuffix(f.Description, ".") {
		t.Errorf("the description isn't one sentence: %s", f.Description)
	}
	if !strings.Contains(f.Detail, "m/z 43 as C2H3O+") {
		t.Errorf("the detail lacks the assignment: %s", f.Detail)
	}
	if want := []string{"m/z", "relative intensity (%)", "assignment"}; !slices.Equal(f.Table.Columns, want) {
		t.Errorf("columns %q, want %q", f.Table.Columns, want)
	}
	i := slices.IndexFunc(f.Table.Rows, func(r []string) bool { return r[0] == "72" })
	if i < 0 || f.Table.Rows[i][2] != "M+•, C4H8O+•" {
		t.Errorf("the table's row for m/z 72 is %q", f.Table.Rows[max(i, 0)])
	}
	if len(f.Table.Rows) != len(butanone(t).Peaks) {
		t.Errorf("%d rows for %d peaks", len(f.Table.Rows), len(butanone(t).Peaks))
	}
}

// A figure for a test gives nothing away, in any of its parts.
func TestNothingIsGivenAwayInTestMode(t *testing.T) {
	o := butanoneOptions()
	o.Mode, o.Alias, o.Name = plot.Test, "unknown 3", "methyl ethyl ketone"
	f, err := plot.Spectrum(butanone(t), o)
	if err != nil {
		t.Fatal(err)
	}
	if want := "Mass spectrum of unknown 3"; f.Title != want {
		t.Errorf("title %q, want %q", f.Title, want)
	}
	document, err := svg.Marshal(f, svg.Options{LinkFont: true})
	if err != nil {
		t.Fatal(err)
	}
	var table strings.Builder
	table.WriteString(f.Table.Caption)
	for _, row := range append(f.Table.Rows, f.Table.Columns) {
		table.WriteString(strings.Join(row, " ") + "\n")
	}
	for _, given := range []string{"butanone", "ketone", "C2H3", "CH3", "base", "molecular", "M+", "•", "loss", "−15", "strongest", "bold", draw.Light().Color(draw.Accent).Hex(), "assignment"} {
		if strings.Contains(f.Title+f.Description+f.Detail+table.String()+string(document), given) {
			t.Errorf("the figure for a test has %q in it", given)
		}
	}
	i := slices.IndexFunc(f.Table.Rows, func(r []string) bool { return r[0] == "43" })
	if i < 0 || f.Table.Rows[i][1] != "100" {
		t.Error("the data table has lost the peak at m/z 43")
	}
}

func TestMolecularIonInWords(t *testing.T) {
	tests := []struct {
		peaks string
		m     float64
		want  string
	}{
		{"43:100 58:30", 58, "molecular ion at m/z 58 (30 %); main losses: 15 to m/z 43"},
		{"78:100 52:20", 78, "base peak at m/z 78, which is the molecular ion"},
		{"57:100 41:40", 72, "no molecular ion to be seen at m/z 72"},
		{"45:100 45.5:20", 91, "no molecular ion to be seen at m/z 91"},
	}
	for _, test := range tests { // invented heights: the sentence is arithmetic
		f, err := plot.Spectrum(spectrum.MustParse(test.peaks), plot.Options{MolecularIon: test.m})
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(f.Description, test.want) {
			t.Errorf("%s: %q lacks %q", test.peaks, f.Description, test.want)
		}
	}
}

func TestNumbers(t *testing.T) {
	for percent, want := range map[float64]string{100: "100", 31.96: "32", 10: "10", 9.96: "10", 9.94: "9.9", 0.5: "0.5", 0.04: "<0.1", 0: "0"} {
		if got := plot.Percent(percent); got != want { // by the definition of Percent
			t.Errorf("Percent(%v) = %q, want %q", percent, got, want)
		}
	}
	for _, test := range []struct {
		mz       float64
		decimals int
		want     string
	}{
		{43, 0, "43"},
		{45.5, 0, "45.5"}, // C7H7 2+, IUPAC Gold Book M03752
		{43.0184, 0, "43"},
		{43.0184, 3, "43.018"},
	} {
		if got := plot.MZ(test.mz, test.decimals); got != test.want {
			t.Errorf("MZ(%v, %d) = %q, want %q", test.mz, test.decimals, got, test.want)
		}
	}
}

func TestWhatCantBeDrawn(t *testing.T) {
	s := spectrum.MustParse("43:100 58:30")
	s.Info.Name = "acetone"
	tests := []struct {
		name string
		s    spectrum.Spectrum
		o    plot.Options
		want string
	}{
		{"empty", spectrum.Spectrum{}, plot.Options{}, "it has no peak with intensity"},
		{"NaN", spectrum.Spectrum{Peaks: []spectrum.Peak{{MZ: math.NaN(), Intensity: 1}}}, plot.Options{}, "has m/z NaN"},
		{"out of range", s, plot.Options{From: 60, To: 80}, "it has no peak from m/z 60 to 80"},
		{"no range", s, plot.Options{From: 60, To: 50}, "the m/z axis from 60 to 50 is empty"},
		{"tiny", s, plot.Options{Width: 3}, "the canvas is 3 by 400 pixels"},
		{"loss", s, plot.Options{To: 70, Losses: []plot.Loss{{From: 100, To: 58}}}, "a loss from m/z 100 to 58 has to lie on the axis"},
		{"loss NaN", s, plot.Options{Losses: []plot.Loss{{From: math.NaN(), To: 58}}}, "a loss from m/z NaN"},
		{"zoom", s, plot.Options{Zoom: &plot.Zoom{From: 200, To: 210}}, "there is no peak to enlarge"},
	}
	for _, test := range tests {
		_, err := plot.Spectrum(test.s, test.o)
		if err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%s: error %v, want one with %q", test.name, err, test.want)
		}
	}
	if _, err := plot.Compare(s, spectrum.Spectrum{}, plot.CompareOptions{Lower: "computed"}); err == nil || !strings.Contains(err.Error(), `"computed"`) {
		t.Errorf("comparing with nothing: %v", err)
	}
	if _, err := plot.Lines([]plot.Series{{Name: "a", X: []float64{1}}}, plot.LinesOptions{}); err == nil {
		t.Error("a series without y is drawn")
	}
	if _, err := plot.Trace(spectrum.Trace{X: []float64{1, 2}, Y: []float64{0, 0}}, plot.TraceOptions{}); err == nil {
		t.Error("a trace without signal is drawn")
	}
}

func TestSameBytes(t *testing.T) {
	document := func() []byte {
		f, err := plot.Spectrum(butanone(t), butanoneOptions())
		if err != nil {
			t.Fatal(err)
		}
		out, err := svg.Marshal(f, svg.Options{})
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
	if !bytes.Equal(document(), document()) {
		t.Error("the same spectrum gives other bytes the second time")
	}
}

func TestCompareWords(t *testing.T) {
	f, err := plot.Compare(spectrum.MustParse("43:100 58:30"), spectrum.MustParse("43:100 58:50 15:3"), plot.CompareOptions{Upper: "measured", Lower: "computed"})
	if err != nil {
		t.Fatal(err)
	}
	if want := "they differ most at m/z 58 (30 % above, 50 % below)."; !strings.HasSuffix(f.Description, want) {
		t.Errorf("description %q, want it to end with %q", f.Description, want)
	}
	if want := []string{"15", "0", "3.0"}; !slices.Equal(f.Table.Rows[0], want) {
		t.Errorf("first row %q, want %q", f.Table.Rows[0], want)
	}
}

// Peaks far narrower than a pixel keep their heights, and noise doesn't make a
// drawing of as many points as were recorded.
func TestTraceKeepsNarrowPeaks(t *testing.T) {
	trace := spectrum.Trace{XUnit: "T"}
	const n = 200_000
	for i := range n {
		y := 0.01 * float64(i*7919%13)
		if i%50_000 == 25_000 {
			y = float64(1 + i/50_000)
		}
		trace.X, trace.Y = append(trace.X, 0.1+float64(i)*1e-6), append(trace.Y, y)
	}
	f, err := plot.Trace(trace, plot.TraceOptions{})
	if err != nil {
		t.Fatal(err)
	}
	var curve []draw.Point
	f.Scene.Walk(func(item draw.Item, within []*draw.Group) {
		if p, ok := item.(draw.Path); ok && len(within) > 0 && within[len(within)-1].Class == "series" {
			curve = p.Flatten(0.1)[0]
		}
	})
	if len(curve) > 6000 {
		t.Errorf("a trace of %d points is drawn through %d", n, len(curve))
	}
	var tops [4]float64
	base := math.Inf(-1)
	left, right := curve[0].X, curve[len(curve)-1].X
	for k := range tops {
		tops[k] = math.Inf(1)
	}
	for _, p := range curve {
		k := min(int((p.X-left)/(right-left)*4), 3)
		tops[k], base = min(tops[k], p.Y), max(base, p.Y)
	}
	for k, top := range tops {
		if got, want := (base-top)/(base-tops[3]), float64(k+1)/4; math.Abs(got-want) > 0.005 {
			t.Errorf("peak %d is drawn %.3f high, want %.2f", k+1, got, want)
		}
	}
}

// A curve's drawing keeps its extremes though points are left out.
func TestTraceKeepsItsPeaks(t *testing.T) {
	trace := spectrum.Trace{XUnit: "T"}
	for i := range 5000 {
		x := 0.1 + float64(i)*2e-5
		trace.X = append(trace.X, x)
		trace.Y = append(trace.Y, 3*math.Exp(-math.Pow((x-0.15)/2e-4, 2))+math.Exp(-math.Pow((x-0.17)/2e-4, 2)))
	}
	f, err := plot.Trace(trace, plot.TraceOptions{Marks: []plot.Mark{{X: 0.15, Text: draw.Plain("43")}, {X: 0.17, Text: draw.Plain("58")}}})
	if err != nil {
		t.Fatal(err)
	}
	var curve []draw.Point
	f.Scene.Walk(func(item draw.Item, within []*draw.Group) {
		if p, ok := item.(draw.Path); ok && len(within) > 0 && within[len(within)-1].Class == "series" {
			curve = p.Flatten(0.1)[0]
		}
	})
	if len(curve) > 600 || len(curve) < 20 {
		t.Errorf("a trace of 5000 points is drawn through %d", len(curve))
	}
	top, base := math.Inf(1), math.Inf(-1)
	second := math.Inf(1)
	for _, p := range curve {
		top, base = min(top, p.Y), max(base, p.Y)
		if p.X > 500 {
			second = min(second, p.Y)
		}
	}
	if ratio := (base - second) / (base - top); math.Abs(ratio-1.0/3) > 0.005 {
		t.Errorf("the second peak is drawn at %.3f of the first, want 1/3", ratio)
	}
	if !strings.Contains(f.Description, "highest at 0.15") {
		t.Errorf("description %q", f.Description)
	}
	check(t, "trace", f, spectrum.Spectrum{}, []string{"43", "58"})
}
