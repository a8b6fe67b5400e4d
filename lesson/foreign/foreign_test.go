package foreign

import (
	"bytes"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"ionwright/lesson/diag"
)

var annotation = regexp.MustCompile(`⟦([a-z-]+) ("(?:[^"\\]|\\.)*")⟧`)

// expectOne takes the one annotation out of a text and fails unless exactly
// that is found, at its place.
func expectOne(t *testing.T, file, text string) {
	t.Helper()
	m := annotation.FindStringSubmatchIndex(text)
	if m == nil {
		t.Fatalf("%q announces nothing", text)
	}
	code := diag.Code(text[m[2]:m[3]])
	words, err := strconv.Unquote(text[m[4]:m[5]])
	if err != nil {
		t.Fatal(err)
	}
	before := text[:m[0]]
	line := strings.Count(before, "\n") + 1
	col := utf8.RuneCountInString(before[strings.LastIndexByte(before, '\n')+1:]) + 1
	found, err := Check(file, []byte(before+text[m[1]:]))
	if err != nil {
		t.Fatal(err)
	}
	if len(found) != 1 {
		t.Fatalf("%d findings in %q, want 1 [%s]: %v", len(found), text, code, found)
	}
	d := found[0]
	if d.Code != code || d.Line != line || d.Col != col || !strings.Contains(d.String(), words) {
		t.Errorf("%q\n got %s\nwant %d:%d [%s] with %q", text, d, line, col, code, words)
	}
	if d.Claimed == "" || d.Computed == "" || d.Suggestion == "" {
		t.Errorf("a finding without claimed, computed or suggestion: %+v", d)
	}
}

// TestCodes triggers every code by the example in its documentation.
func TestCodes(t *testing.T) {
	for _, info := range diag.ForeignCodes() {
		t.Run(string(info.Code), func(t *testing.T) {
			if !strings.HasPrefix(annotation.FindString(info.Example), "⟦"+string(info.Code)+" ") {
				t.Error("the example doesn't announce its own code")
			}
			expectOne(t, "example.txt", info.Example)
		})
	}
}

// TestPublishedErrors finds errors that were published, in our own words with
// the published numbers.
func TestPublishedErrors(t *testing.T) {
	for _, row := range []struct{ source, file, text string }{
		{"MIT Spectrometry Lab, Resolution and Accuracy: formula", "a.html", // C2H4 is 28.0313
			"<p>At mass 28 there are CO (27.9949) and ⟦mass-false \"the formula is C2H4\"⟧C<sub>2</sub>H<sub>2</sub> (28.0313).</p>"},
		{"MIT Spectrometry Lab, Resolution and Accuracy: nitrogen", "a.html", // N2 is 28.0061
			"<table><tr><td>⟦mass-false \"computed: 28.0061\"⟧N<sub>2</sub></td><td>28.0161</td></tr></table>"},
		{"MIT Spectrometry Lab, Resolution and Accuracy: resolution", "a.html", // 1114
			"<p>To tell N<sub>2</sub> from C<sub>2</sub>H<sub>4</sub> the resolution needed is ⟦resolution-false \"computed: 1114\"⟧1842.</p>"},
		{"OpenStax Organic Chemistry m00136: sectors", "a.html", // msterms.org, Double-focusing mass spectrometer
			"<para>Some instruments, called <emphasis effect=\"italics\">double-focusing mass spectrometers</emphasis>, have ⟦instrument-false \"a magnetic and an electric sector\"⟧two magnetic sectors in their mass analyzers.</para>"},
		{"OpenStax Organic Chemistry m00136: M+ of neopentane", "a.html", // M 72, the text says that no M+ is seen
			"<figcaption>Mass spectrum of 2,2-dimethylpropane (C<sub>5</sub>H<sub>12</sub>; MW = 72). No molecular ion is observed. What do you think is the structure of the M<sup>+</sup> peak at <i>m</i>/<i>z</i> = ⟦mass-false \"computed: 72\"⟧57?</figcaption>"},
		{"OpenStax Organic Chemistry m00226: homolysis", "a.md", // homolysis gives two radicals
			"**Homolytic** bond breaking: A:B → ⟦bond-false \"two radicals\"⟧A⁺ + B:⁻"},
		{"OpenStax Organic Chemistry m00136: deuterium", "a.html", // NIST 0.000115
			"<para>In addition, a small amount of <sup>2</sup>H (deuterium; ⟦isotope-false \"computed: 0.0115 %\"⟧0.015% natural abundance) is present.</para>"},
		{"a public Swift table of isotopes", "a.md", // NIST 33.967867004
			"| isotope | mass | abundance |\n|---|---|---|\n| ³⁴S | ⟦isotope-false \"computed: 33.967867\"⟧33.976867004 | 0.0425 |\n"},
		{"a homework-answer page: butanol", "a.txt", // 74 - 18 = 56
			"Butanol has a molecular mass of 74. Dehydration of butanol gives a peak at m/z ⟦loss-false \"computed: 56\"⟧46."},
		{"a homework-answer page: butanol, worked out", "a.txt", // 74 - 18 = 56
			"The alkene ion is found at 74 - 18 = ⟦loss-false \"computed: 56\"⟧46."},
		{"OpenStax Organic Chemistry m00137: alternative text", "a.html", // a radical is lost
			"<p>See below.</p><img src=\"x.jpg\" alt=\"2-methyl-3-pentanol (m plus 102) undergoes alpha cleavage, losing ⟦bond-false \"propyl radical\"⟧propyl cation (m plus 43, giving peak at 59).\">"},
	} {
		t.Run(row.source, func(t *testing.T) { expectOne(t, row.file, row.text) })
	}
}

func TestWrongStatements(t *testing.T) {
	for line := range strings.Lines(wrongStatements) {
		if line = strings.TrimSpace(line); line != "" {
			expectOne(t, "wrong.md", line)
		}
	}
}

func TestRightStatements(t *testing.T) {
	n := 0
	for line := range strings.Lines(rightStatements) {
		if line = strings.TrimSpace(line); line == "" {
			continue
		}
		n++
		for _, file := range []string{"right.md", "right.html", "right.txt"} {
			found, err := Check(file, []byte(line))
			if err != nil {
				t.Fatal(err)
			}
			for _, d := range found {
				t.Errorf("false alarm in %s, %q: %s", file, line, d)
			}
		}
	}
	if n < 40 {
		t.Errorf("%d right statements, want 40", n)
	}
}

// TestRightTogether puts the right statements into one paragraph and one list:
// nothing is taken from a neighbour.
func TestRightTogether(t *testing.T) {
	statements := strings.Split(strings.TrimSpace(rightStatements), "\n")
	for _, text := range []string{strings.Join(statements, " "), "- " + strings.Join(statements, "\n- "), strings.Join(statements, "\n")} {
		found, err := Check("right.md", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range found {
			t.Errorf("false alarm: %s", d)
		}
	}
}

func TestRefused(t *testing.T) {
	for name, text := range map[string][]byte{"zero byte": {'a', 0}, "no UTF-8": {0xff, 0xfe}, "too long": bytes.Repeat([]byte("a "), MaxLength)} {
		if _, err := Check("a.txt", text); err == nil || !strings.Contains(err.Error(), `"a.txt"`) {
			t.Errorf("%s: error %v doesn't name the file", name, err)
		}
	}
}

func hostile() map[string]string {
	return map[string]string{
		"open tags":    strings.Repeat("<p", 500_000),
		"less-than":    strings.Repeat("<", 1_000_000),
		"open comment": "<!--" + strings.Repeat("<b>x", 250_000),
		"open script":  strings.Repeat("<script>", 125_000),
		"brackets":     strings.Repeat("[](", 330_000),
		"one word":     strings.Repeat("methyl", 170_000),
		"names":        strings.Repeat("methane butanone ", 60_000),
		"parentheses":  strings.Repeat("C((", 330_000),
		"numbers":      strings.Repeat("74 - 18 = 56 ", 77_000),
		"terms":        strings.Repeat("the molecular mass of ", 45_000),
		"losses":       strings.Repeat("loss of water ", 70_000),
		"isotopes":     strings.Repeat("13C 1.1 % ", 100_000),
		"lines":        strings.Repeat("\n", 1_000_000),
	}
}

// TestHostile reads a megabyte of garbage of every kind; how long it takes is
// the benchmark's to say.
func TestHostile(t *testing.T) {
	for name, text := range hostile() {
		for _, file := range []string{"a.md", "a.html", "a.txt"} {
			if _, err := Check(file, []byte(text)); err != nil {
				t.Errorf("%s: %v", name, err)
			}
		}
	}
}

func BenchmarkHostile(b *testing.B) {
	for name, text := range hostile() {
		b.Run(strings.ReplaceAll(name, " ", "-"), func(b *testing.B) {
			for b.Loop() {
				if _, err := Check("a.html", []byte(text)); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func FuzzCheck(f *testing.F) {
	for line := range strings.Lines(wrongStatements + rightStatements) {
		f.Add("a.md", line)
	}
	f.Add("a.html", `<p class="a>b" <img alt='M+ at m/z 57'><script>`)
	f.Fuzz(func(t *testing.T, file, text string) {
		found, err := Check(file, []byte(text))
		if err != nil {
			return
		}
		lines := strings.Split(text, "\n")
		for _, d := range found {
			if d.Line < 1 || d.Line > len(lines) || d.Col < 1 || d.EndCol <= d.Col || d.EndCol > utf8.RuneCountInString(lines[d.Line-1])+1 {
				t.Errorf("a place outside of the text: %+v", d)
			}
		}
	})
}
