package script

import (
	"context"
	"encoding/csv"
	"io/fs"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"ionwright/lesson/check"
	"ionwright/lesson/example"
)

func of(t *testing.T, files fs.FS) *Script {
	t.Helper()
	r, diags, err := check.Check(context.Background(), files)
	if err != nil || r == nil {
		t.Fatal(diags, err)
	}
	for _, d := range diags {
		t.Log(d)
	}
	names := map[string]string{}
	for _, f := range r.Figures {
		names[f.ID] = "figures/" + f.ID + ".svg"
	}
	return Of(r, names)
}

func text(lesson string) fs.FS { return fstest.MapFS{"lesson.md": {Data: []byte(lesson)}} }

func TestWhatIsSaidOfWords(t *testing.T) {
	for _, row := range []struct{ written, spoken string }{ // common practice, no source
		{"the peak at m/z 43.", "The peak at m over z forty-three."},
		{"M + 2 and M−18", "M plus two and M minus eighteen"},
		{"at 0.239 T, or 70 eV", "At zero point two three nine tesla, or seventy electronvolts"},
		{"the ion C2H3O+, then CH3+", "The ion C two H three O plus, then C H three plus"},
		{"C6H5Cl loses Cl", "C six H five Cl loses Cl"},
		{"(76 %) of 1200", "(seventy-six percent) of one thousand two hundred"},
		{"as 3 : 1 or 3:1, peaks 43–57", "As three to one or three to one, peaks forty-three to fifty-seven"},
		{"2-butanone, α-cleavage", "Two-butanone, alpha-cleavage"},
		{"2.68×10⁻²⁶ kg", "Two point six eight times ten to the minus twenty-six kilograms"},
		{"5 C atoms", "Five C atoms"},
		{"In 112 of 1000012 cases", "In one hundred twelve of one million twelve cases"},
		{"of C-13 (CH2, H2O) and M+•.", "Of C-thirteen (C H two, H two O) and M plus dot."},
		{"as [M+H]+, or [M−CH3]+; see [2M+Na]+", "As M plus H plus, or M minus C H three plus; see two M plus Na plus"},
		{"1,200 V on the 2nd day", "One thousand two hundred volts on the 2nd day"},
		{"007 and 12345678901", "Zero zero seven and one two three four five six seven eight nine zero one"},
		{"No – I do", "No – I do"},
	} {
		var said []string
		for _, s := range sentences(plain(row.written)) {
			said = append(said, spoken(s.words))
		}
		if got := strings.ReplaceAll(strings.Join(said, " | "), "\u00a0", " "); got != row.spoken {
			t.Errorf("%q is said %q, not %q", row.written, got, row.spoken)
		}
	}
}

func TestSentences(t *testing.T) {
	var got []string
	for _, s := range sentences(plain(`One ends. Two, e.g. this, "ends." m/z 43 is it! Is it? Yes – `)) {
		got = append(got, strings.ReplaceAll(lineText(s.words), "\u00a0", " "))
	}
	want := []string{"One ends.", `Two, e.g. this, "ends."`, "m/z 43 is it!", "Is it?", "Yes –"}
	if !slices.Equal(got, want) {
		t.Errorf("%q, not %q", got, want)
	}
}

func TestTimesAddUp(t *testing.T) {
	s := of(t, example.Bottles())
	if s.Pace != 130 { // the example's front matter
		t.Errorf("the pace is %d", s.Pace)
	}
	at := 0
	for _, section := range s.Sections {
		if section.At != at {
			t.Errorf("%s begins at word %d, not %d", section.Title, section.At, at)
		}
		for _, p := range section.Parts {
			if p.At != at {
				t.Errorf("a part begins at word %d, not %d", p.At, at)
			}
			at += len(strings.FieldsFunc(spoken(p.Says), func(r rune) bool { return strings.ContainsRune(" -\u00a0", r) }))
		}
		if section.At+section.Words != at {
			t.Errorf("%s ends at word %d, not %d", section.Title, section.At+section.Words, at)
		}
	}
	if at != s.Words || at < 1000 {
		t.Errorf("%d words, counted %d", s.Words, at)
	}
	if got := (&Script{Pace: 120}).Time(60); got != 30*time.Second { // 60 words at 2 a second
		t.Errorf("60 words take %v", got)
	}
	if s := of(t, text("---\ntitle: T\ncompounds: { a: { smiles: CC, computed: yes } }\n---\nOne.\n")); s.Pace != DefaultPace {
		t.Errorf("the pace is %d", s.Pace)
	}
}

// TestFiguresAreShownWhenSpokenOf: a sentence that names a figure has it
// before the eyes.
func TestFiguresAreShownWhenSpokenOf(t *testing.T) {
	s := of(t, example.Bottles())
	shown, seen := "", map[string]bool{}
	for _, section := range s.Sections {
		for _, p := range section.Parts {
			if p.Show != nil {
				if p.Show.File != "" {
					shown, _, _ = strings.Cut(p.Show.What, ",")
					seen[p.Show.File] = true
				}
				continue
			}
			said := strings.ReplaceAll(lineText(p.Says), "\u00a0", " ")
			if _, after, ok := strings.Cut(said, "Figure "); ok && "Figure "+after[:1] != shown {
				t.Errorf("%q is said while %q is shown", said, shown)
			}
		}
	}
	if len(seen) != 7 { // the example's figures
		t.Errorf("%d figures are shown: %v", len(seen), seen)
	}
	sheet, err := s.CueSheet()
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(string(sheet))).ReadAll()
	if err != nil || !slices.Equal(rows[0], []string{"start", "section", "file", "show"}) {
		t.Fatalf("%v, %v", rows, err)
	}
	if !slices.IsSortedFunc(rows[1:], func(a, b []string) int { return strings.Compare(a[0], b[0]) }) || len(rows) < 8 {
		t.Errorf("the cue sheet isn't in order: %q", rows)
	}
}

func TestMarkdownOfTheExample(t *testing.T) {
	script := string(of(t, example.Bottles()).Markdown())
	for _, needed := range []string{
		"# Script: Three bottles without labels\n",
		"at 130 words a minute",
		"m over z forty-three to the detector at zero point two three nine tesla",
		"Show:** Figure 5, the mechanism to m/z 43 of bottle 3",
		"C four H eight O: its two bonds",
		"is the atom chlorine.",
		"Show:** Figure 3, the computed spectrum of bottle 8",
		"Electrons of seventy electronvolts strike",
		"To remember it: Featherweights turn the corner first.",
		"Question one: Toluene",
		"- [ ] [",
		"Remember: A ketone snaps at the elbow",
	} {
		if !strings.Contains(script, needed) {
			t.Errorf("the script lacks %q", needed)
		}
	}
	if strings.Index(script, "To remember it: Featherweights") > strings.Index(script, "Question one") {
		t.Error("a hook comes after the questions")
	}
	for _, bad := range []string{"{{", "}}", "{=", "**molecular", "m/z forty", "  ", "ask for one observation", "￼"} {
		if strings.Contains(script, bad) {
			t.Errorf("the script holds %q", bad)
		}
	}
}

// TestNoAnswerIsSaid: what is for the instructor stands in no file of the
// script, which students may see.
func TestNoAnswerIsSaid(t *testing.T) {
	s := of(t, text("---\ntitle: T\ncompounds: { a: { smiles: CCC(C)=O, computed: yes } }\n---\nSaid.\n\n"+
		"~~~note\nsays: Whispered.\n~~~\n~~~claim\nthat: mass(a) == 72\nsays: Claimed.\n~~~\n"+
		"~~~question\nid: q\nkind: number\nask: How heavy?\nanswer: mass(a)\nbecause: Reasoned.\n~~~\n"))
	sheet, err := s.CueSheet()
	if err != nil {
		t.Fatal(err)
	}
	all := string(s.Markdown()) + string(s.Captions()) + string(sheet)
	for _, bad := range []string{"Whispered", "Claimed", "Reasoned", "72", "seventy"} {
		if strings.Contains(all, bad) {
			t.Errorf("the script gives %q away", bad)
		}
	}
	for _, needed := range []string{"Said.", "How heavy?"} {
		if strings.Count(all, needed) != 2 { // script and captions
			t.Errorf("%q stands %d times", needed, strings.Count(all, needed))
		}
	}
}
