package script

import (
	"encoding/json"
	"fmt"
	"html"
	"net/http"
	"net/http/httptest"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"ionwright/internal/browser"
	"ionwright/lesson/example"
)

// hostile is a lesson whose words try to end a cue, begin another, or be
// markup.
const hostile = `---
title: "00:00:01.000 --> 00:00:02.000 &amp; <b>title</b>"
pace: 300
compounds: { a: { name: "--> <c.red>a</c>", smiles: CCC(C)=O, computed: yes } }
ideas: { i: "An idea --> with an arrow." }
hooks: { i: "A hook -->" }
---

WEBVTT --> and {{ a.name }} and \<v Somebody> and &lt;i> and &amp;nbsp; and NOTE \--> x.

00:00:09.000 \--> 00:00:10.000

STYLE

{{ "one\n\ntwo --> three\r\n\r\nfour\u0000five" }} – — … ! ?

- – –
- – one

Donaudampfschifffahrtselektrizitätenhauptbetriebswerkbauunterbeamtengesellschaft and
https://example.org/a-path-of-many-words/that-goes-on/and-on-and-on/and-on-and-on-until-the-end.

## 00:00:01.000 \--> 00:00:02.000 {#i}

Text. Text.
`

type caption struct {
	Start, End float64 // s
	Text       string
}

var (
	timing  = regexp.MustCompile(`^(\d{2,}):([0-5]\d):([0-5]\d)\.(\d{3}) --> (\d{2,}):([0-5]\d):([0-5]\d)\.(\d{3})$`)
	markup  = regexp.MustCompile(`<|>|-->`)
	escapes = regexp.MustCompile(`&(amp|lt|gt|lrm|rlm|nbsp);`)
)

// parse reads WebVTT by the syntax of a file in the W3C Recommendation
// (section 4.1) and fails on whatever it doesn't allow, and on cues that
// overlap or lie out of order.
func parse(t *testing.T, data []byte) []caption {
	t.Helper()
	file := string(data)
	if !utf8.ValidString(file) || strings.ContainsAny(file, "\x00\r") || !strings.HasPrefix(file, "WEBVTT\n") || !strings.HasSuffix(file, "\n") {
		t.Fatalf("no WebVTT: %.60q", file)
	}
	var all []caption
	last := 0.0
	for i, block := range strings.Split(strings.TrimSuffix(file, "\n"), "\n\n")[1:] {
		lines := strings.Split(block, "\n")
		if len(lines) < 3 || len(lines) > 2+Lines || lines[0] != fmt.Sprint(i+1) {
			t.Fatalf("block %d: %q", i+1, block)
		}
		m := timing.FindStringSubmatch(lines[1])
		if m == nil {
			t.Fatalf("block %d: the times are %q", i+1, lines[1])
		}
		var n [9]float64
		for k := 1; k < 9; k++ {
			fmt.Sscan(m[k], &n[k])
		}
		c := caption{n[1]*3600 + n[2]*60 + n[3] + n[4]/1000, n[5]*3600 + n[6]*60 + n[7] + n[8]/1000, ""}
		if c.Start < last || c.End <= c.Start {
			t.Errorf("block %d runs from %v to %v after one that ends at %v", i+1, c.Start, c.End, last)
		}
		last = c.End
		for k, line := range lines[2:] {
			if markup.MatchString(line) || strings.Contains(escapes.ReplaceAllString(line, ""), "&") {
				t.Errorf("block %d: markup in %q", i+1, line)
			}
			line = html.UnescapeString(line)
			if size := utf8.RuneCountInString(line); size > LineLength || strings.TrimSpace(line) == "" {
				t.Errorf("block %d: %d characters in %q", i+1, size, line)
			}
			if k > 0 {
				c.Text += "\n"
			}
			c.Text += line
		}
		all = append(all, c)
	}
	return all
}

func TestCaptionsFollowTheStandard(t *testing.T) {
	for name, s := range map[string]*Script{"example": of(t, example.Bottles()), "starter": of(t, example.Starter()), "hostile": of(t, text(hostile))} {
		t.Run(name, func(t *testing.T) {
			all := parse(t, s.Captions())
			if len(all) < 3 {
				t.Fatalf("%d captions", len(all))
			}
			if end := s.Time(s.Words).Seconds(); end-all[len(all)-1].End > 0.001 || all[0].Start != 0 {
				t.Errorf("the captions run from %v to %v, the script to %v", all[0].Start, all[len(all)-1].End, end)
			}
			// Every word that is said is captioned, one after another.
			var said, read []string
			for _, section := range s.Sections {
				for _, p := range section.Parts {
					said = append(said, lineText(p.Says))
				}
			}
			for i, c := range all {
				read = append(read, c.Text)
				if i > 0 && c.Start != all[i-1].End {
					t.Errorf("caption %d begins at %v, the one before ends at %v", i+1, c.Start, all[i-1].End)
				}
			}
			squeeze := func(s []string) string { return strings.Join(strings.Fields(strings.Join(s, " ")), "") }
			if name != "hostile" && squeeze(said) != squeeze(read) {
				t.Error("the captions aren't what is said")
			}
		})
	}
}

// FuzzCaptions: whatever is said, its captions follow the standard.
func FuzzCaptions(f *testing.F) {
	for _, seed := range []string{"m/z 43 --> C2H3O+.\n\nNOTE x", "– [M+H]+ 1,200 V! \u00a0 & <c>", "12345678901.5×10⁻³ 43–57 3 : 1", "\xff\x00\u2028…",
		"of one world-and-all-the-words-until-the-line-ends\u00a0"} {
		f.Add(seed, 130)
	}
	f.Fuzz(func(t *testing.T, said string, pace int) {
		n := &narrator{script: &Script{Pace: 40 + int(uint(pace)%261)}, shown: map[string]bool{}} // the paces that a lesson can have
		n.begin("T", "")
		n.paragraph(plain(said), false)
		parse(t, n.script.Captions())
		if _, err := n.script.CueSheet(); err != nil {
			t.Error(err)
		}
		n.script.Markdown()
	})
}

// TestCaptionsInABrowser loads the captions as a track and compares the cues
// that Chromium reads with ours.
func TestCaptionsInABrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("starts a browser")
	}
	files := map[string][]byte{"/example.vtt": of(t, example.Bottles()).Captions(), "/hostile.vtt": of(t, text(hostile)).Captions()}
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if data, ok := files[r.URL.Path]; ok {
			w.Header().Set("Content-Type", "text/vtt; charset=utf-8")
			_, _ = w.Write(data)
			return
		}
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		fmt.Fprintf(w, `<!doctype html><title>captions</title><link rel="icon" href="data:,"><video><track kind="captions" srclang="en" src="%s" default></video>`, r.URL.Query().Get("track"))
	}))
	t.Cleanup(server.Close)
	page := browser.Open(t, server.URL)
	for name, data := range files {
		ours := parse(t, data)
		page.Go("/?track=" + name)
		page.Text(`document.querySelector("track").track.mode = "showing"`)
		page.Wait(`document.querySelector("track").readyState >= 2`)
		var theirs []caption
		if err := json.Unmarshal([]byte(page.Text(`JSON.stringify([...document.querySelector("track").track.cues].map((c) =>
			({Start: c.startTime, End: c.endTime, Text: c.getCueAsHTML().textContent})))`)), &theirs); err != nil {
			t.Fatal(err)
		}
		if state := page.Text(`document.querySelector("track").readyState`); state != "2" || len(theirs) != len(ours) { // HTML: 2 is loaded, 3 an error
			t.Fatalf("%s: state %s, %d cues of %d", name, state, len(theirs), len(ours))
		}
		for i := range ours {
			if d := ours[i].Start - theirs[i].Start; d > 1e-6 || d < -1e-6 || ours[i].Text != theirs[i].Text {
				t.Errorf("%s, cue %d: %+v, the browser reads %+v", name, i+1, ours[i], theirs[i])
			}
		}
	}
	page.Quiet()
}
