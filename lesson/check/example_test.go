package check

import (
	"bytes"
	"context"
	"io/fs"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/yuin/goldmark/ast"

	"ionwright/internal/fixture"
	"ionwright/lesson/diag"
	"ionwright/lesson/example"
	"ionwright/lesson/source"
	"ionwright/spectrum/jcamp"
)

// exampleSource is the example lesson's text.
func exampleSource(t *testing.T) string {
	t.Helper()
	text, err := fs.ReadFile(example.Bottles(), "lesson.md")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// check checks a lesson of one source file and further files.
func checkText(t *testing.T, text string, files fstest.MapFS) (*Report, diag.List) {
	t.Helper()
	all := fstest.MapFS{"lesson.md": {Data: []byte(text)}}
	for name, f := range files {
		all[name] = f
	}
	r, diags, err := Check(context.Background(), all)
	if err != nil {
		t.Fatal(err)
	}
	return r, diags
}

func TestTheExampleHolds(t *testing.T) {
	r, diags := checkText(t, exampleSource(t), nil)
	for _, d := range diags {
		t.Error(d)
	}
	if len(r.Claims) != 10 || len(r.Questions) != 6 || len(r.Source.Compounds) != 3 || len(r.Source.Ideas) != 4 {
		t.Errorf("the example has %d claims, %d questions, %d compounds and %d ideas", len(r.Claims), len(r.Questions),
			len(r.Source.Compounds), len(r.Source.Ideas))
	}
}

func TestTheStarterHolds(t *testing.T) {
	_, diags, err := Check(context.Background(), example.Starter())
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range diags {
		t.Error(d)
	}
}

// measuredBottles puts measured spectra into the example in place of the
// computed ones.
func measuredBottles(t *testing.T) (string, fstest.MapFS) {
	t.Helper()
	text, files := exampleSource(t), fstest.MapFS{}
	for _, c := range []struct{ smiles, record string }{ // MassBank records, internal/fixture
		{"CCC(C)=O", "2-butanone"}, {"CCCCC", "pentane"}, {"Clc1ccccc1", "chlorobenzene"},
	} {
		var file bytes.Buffer
		if err := jcamp.Write(&file, fixture.ByName(t, c.record).Spectrum(t)); err != nil {
			t.Fatal(err)
		}
		files[c.record+".jdx"] = &fstest.MapFile{Data: file.Bytes()}
		before := text
		if text = strings.Replace(text, c.smiles+", computed: yes", c.smiles+", measured: "+c.record+".jdx", 1); text == before {
			t.Fatalf("the example has no computed %s", c.smiles)
		}
	}
	return text, files
}

// TestTheExampleHoldsOnMeasuredSpectra is the same lesson on measurements.
func TestTheExampleHoldsOnMeasuredSpectra(t *testing.T) {
	text, files := measuredBottles(t)
	r, diags := checkText(t, text, files)
	for _, d := range diags {
		t.Error(d)
	}
	for _, c := range r.Lesson.Compounds {
		if !c.Measured || c.Spectrum.Info.License == "" || c.Spectrum.Info.SourceID == "" {
			t.Errorf("%s: measured %v, license %q, source %q", c.Key, c.Measured, c.Spectrum.Info.License, c.Spectrum.Info.SourceID)
		}
	}
	if len(r.Claims) != 10 {
		t.Errorf("%d claims", len(r.Claims))
	}
	for _, c := range r.Claims {
		if !c.Holds || len(c.Parts) == 0 || len(c.From) == 0 {
			t.Errorf("claim %d: holds %v, parts %v, from %v", c.Number, c.Holds, c.Parts, c.From)
		}
	}
}

var (
	checkedWords = regexp.MustCompile(`\[([^\[\]]*\d[^\[\]]*)\]\{=`)
	claimLines   = regexp.MustCompile(`(?m)^that: .*$`)
	number       = regexp.MustCompile(`\d+(?:\.\d+)?`)
)

// TestEveryNumberInTheProseIsChecked changes each number that the example's
// prose states, one at a time: every change must be found on its line, with
// the claimed and the computed value.
func TestEveryNumberInTheProseIsChecked(t *testing.T) {
	text := exampleSource(t)
	changed := 0
	for _, words := range checkedWords.FindAllStringSubmatchIndex(text, -1) {
		for _, m := range number.FindAllStringIndex(text[words[2]:words[3]], -1) {
			from, to := words[2]+m[0], words[2]+m[1]
			for _, by := range []float64{1, -1} {
				foundFalse(t, text, from, to, other(t, text[from:to], by), diag.TextFalse)
				changed++
			}
		}
	}
	if changed < 40 {
		t.Errorf("only %d changes were tried", changed)
	}
}

// TestEveryNumberInTheClaimsIsChecked changes each number that a claim
// compares with.
func TestEveryNumberInTheClaimsIsChecked(t *testing.T) {
	text := exampleSource(t)
	changed := 0
	compared := regexp.MustCompile(`(==|>|<) (\d+(?:\.\d+)?)|reaches\(43, (0\.239)`)
	for _, line := range claimLines.FindAllStringIndex(text, -1) {
		for _, m := range compared.FindAllStringSubmatchIndex(text[line[0]:line[1]], -1) {
			group, by := 4, map[string]float64{"==": 1, ">": 1000, "<": -1000}
			if m[4] < 0 {
				group = 6
			}
			from, to := line[0]+m[group], line[0]+m[group+1]
			step := 0.01
			if m[2] >= 0 {
				step = by[text[line[0]+m[2]:line[0]+m[3]]]
			}
			foundFalse(t, text, from, to, other(t, text[from:to], step), diag.ClaimFalse)
			changed++
		}
	}
	if changed < 12 {
		t.Errorf("only %d changes were tried", changed)
	}
}

// other is a number changed by so much, with the same decimals.
func other(t *testing.T, text string, by float64) string {
	t.Helper()
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	decimals := 0
	if _, after, ok := strings.Cut(text, "."); ok {
		decimals = len(after)
		if by == 1 || by == -1 {
			by /= 100
		}
	}
	return strconv.FormatFloat(x+by, 'f', decimals, 64)
}

// foundFalse fails unless text with [from:to] replaced has exactly one error,
// of the code, on that line, with both values.
func foundFalse(t *testing.T, text string, from, to int, instead string, code diag.Code) {
	t.Helper()
	line := 1 + strings.Count(text[:from], "\n")
	_, diags := checkText(t, text[:from]+instead+text[to:], nil)
	if len(diags) != 1 || diags[0].Code != code || diags[0].Line != line || diags[0].File != "lesson.md" ||
		diags[0].Claimed == "" || diags[0].Computed == "" {
		t.Errorf("line %d: %q in place of %q gives %v, want one %s", line, instead, text[from:to], diags, code)
	}
}

// TestNoNumberOfTheProseIsUnchecked looks for digits in what students read
// that stand outside of checked and computed prose.
func TestNoNumberOfTheProseIsUnchecked(t *testing.T) {
	r, _ := checkText(t, exampleSource(t), nil)
	digits := regexp.MustCompile(`\S*\d\S*`)
	for _, s := range sentences(r) {
		for _, word := range digits.FindAllString(regexp.MustCompile(`(?i)bottle \d`).ReplaceAllString(s, ""), -1) {
			t.Errorf("%q in %q", word, s)
		}
	}
}

// sentences are the plain words of everything students read.
func sentences(r *Report) []string {
	var all []string
	r.Source.Walk(func(p *source.Prose, n ast.Node) {
		if s, ok := source.Plain(p, n); ok {
			all = append(all, s.Words)
		}
	})
	return all
}
