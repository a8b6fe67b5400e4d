package pack

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"io"
	"path"
	"regexp"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"ionwright/lesson/check"
	"ionwright/lesson/source"
	"ionwright/spectrum/jcamp"
)

// hidden is a lesson with an unknown, whose file and identifier would name it,
// and a compound that only a question shows.
const hidden = `---
title: What is in the bottle?
author: Ilse Quarnholt
license: CC BY 4.0
compounds:
  bottle9: { name: bottle 9, smiles: CCC(C)=O, measured: telltale-file.jdx, unknown: formula, known: [ketone] }
  whispered: { name: Whispered name, smiles: CCCCO, measured: telltale-other.jdx }
  ether: { name: diethyl ether, smiles: CCOCC, computed: yes }
---

Look at {{ figure("nine") }} and {{ figure("ether") }}.

~~~figure
id: nine
spectrum: bottle9
label: [43]
structures: [43]
losses: [72-43]
caption: Bottle 9.
~~~
~~~figure
id: ether
spectrum: ether
caption: An ether.
~~~
~~~question
id: ion
kind: formula
ask: Which ion stands at m/z 43 of bottle 9?
about: bottle9
asks: ion
peak: 43
answer: ion(bottle9, 43).formula
because: Whispered to the instructor.
~~~
~~~question
id: structure
kind: structure
ask: Which structure has this spectrum?
about: whispered
answer: whispered
~~~
`

const record = `##TITLE= Whispered title
##JCAMP-DX= 5.00
##DATA TYPE= MASS SPECTRUM
##DATA CLASS= PEAK TABLE
##ORIGIN= store room
##OWNER= Tobin Vasko
##NAMES= Whispered substance
##SOURCE REFERENCE= Whispered-0001
##$LICENSE= CC BY-SA 4.0
##.IONIZATION ENERGY= 70
##XUNITS= M/Z
##YUNITS= RELATIVE ABUNDANCE
##NPOINTS= 5
##PEAK TABLE= (XY..XY)
29,2412 31,4803 43,9999 57,812 72,2405
##END=
`

var (
	hiddenOnce  sync.Once
	hiddenBuilt *Pack
)

// hiddenPack is the lesson's pack, built once for all tests.
func hiddenPack(t *testing.T) *Pack {
	t.Helper()
	hiddenOnce.Do(func() {
		r, diags, err := check.Check(t.Context(), fstest.MapFS{
			source.Main:          {Data: []byte(hidden)},
			"telltale-file.jdx":  {Data: []byte(record)},
			"telltale-other.jdx": {Data: []byte(record)},
		})
		if err != nil || diags.HasErrors() { // it has its warnings
			t.Fatal(err, diags)
		}
		if hiddenBuilt, err = Build(r, Options{}); err != nil {
			t.Fatal(err)
		}
	})
	if hiddenBuilt == nil {
		t.Fatal("the lesson wasn't built; another test says why")
	}
	return hiddenBuilt
}

// unpacked calls visit for a file, and for the files in it where it is an
// archive.
func unpacked(t *testing.T, name string, data []byte, visit func(name string, data []byte)) {
	t.Helper()
	visit(name, data)
	if e := path.Ext(name); e != ".zip" && e != ".pptx" {
		return
	}
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		unpacked(t, name+"/"+f.Name, text, visit)
	}
}

// TestStudentFilesHoldNoAnswer searches every file for students, and what is in
// the archives, for words that would give an unknown away; each of them is in
// some file for the instructor.
func TestStudentFilesHoldNoAnswer(t *testing.T) {
	for _, test := range []struct {
		pack  *Pack
		words []string
	}{
		{hiddenPack(t), []string{"Whispered", "telltale", "CCC(C)=O", "CCCCO", "C2H3O"}},
		{build(t, fstest.MapFS{"lesson.md": {Data: []byte(secret)}}, Options{}), []string{"Whispered", "Reasoned for", "Right for", "1224"}},
	} {
		found := map[string]bool{}
		students := 0
		for _, e := range test.pack.Contents {
			if e.Students {
				students++
			}
			unpacked(t, e.Name, test.pack.Files[e.Name], func(name string, data []byte) {
				for _, word := range test.words {
					if !bytes.Contains(data, []byte(word)) && !strings.Contains(name, word) {
						continue
					}
					if found[word] = true; e.Students {
						t.Errorf("%s holds %q", name, word)
					}
				}
			})
		}
		for _, word := range test.words {
			if !found[word] {
				t.Errorf("no file holds %q", word)
			}
		}
		if students < 4 {
			t.Errorf("%d files for students", students)
		}
	}
}

var svgTexts = regexp.MustCompile(`(?s)<title[^>]*>(.*?)</title>|<desc[^>]*>(.*?)</desc>`)

// TestTwoKindsOfAlternativeText: a spectrum on a lesson's page says what its
// peaks are; that of an unknown and of a question says which there are.
func TestTwoKindsOfAlternativeText(t *testing.T) {
	p := hiddenPack(t)
	teaching := []string{"base peak at m/z", "m/z 43 as C2H3O+"}
	for name, want := range map[string][]string{
		"figures/1-nine.svg":     {"Mass spectrum of bottle 9<", "with 5 peaks, m/z from"},
		"figures/1-nine-key.svg": teaching,
		"figures/2-ether.svg":    {"base peak at m/z"},
		"figures/question-1.svg": {"Mass spectrum of the compound of question 1<", "with 5 peaks, m/z from"},
		"figures/question-2.svg": {"Mass spectrum of the compound of question 2<", "with 5 peaks, m/z from"},
	} {
		words := ""
		for _, m := range svgTexts.FindAll(p.Files[name], 3) {
			words += string(m)
		}
		for _, w := range want {
			if !strings.Contains(words, w) {
				t.Errorf("%s says %q, without %q", name, words, w)
			}
		}
		test := strings.Contains(words, "peaks, m/z from")
		for _, given := range []string{"base peak", "C2H3O", "molecular ion", "loss"} {
			if test && strings.Contains(words, given) {
				t.Errorf("%s says %q, with %q", name, words, given)
			}
		}
	}
}

// TestSpectra reads the JCAMP-DX files again.
func TestSpectra(t *testing.T) {
	p := hiddenPack(t)
	for name, want := range map[string]struct{ title, license, owner, id, formula string }{
		"spectra/1-bottle-9.jdx":                       {"bottle 9 (measured)", "CC BY-SA 4.0", "Tobin Vasko", "", ""},
		"spectra/1-bottle-9-key.jdx":                   {"bottle 9 (measured)", "CC BY-SA 4.0", "Tobin Vasko", "Whispered-0001", "C4H8O"},
		"spectra/2-the-compound-of-question-2.jdx":     {"the compound of question 2 (measured)", "CC BY-SA 4.0", "Tobin Vasko", "", ""},
		"spectra/2-the-compound-of-question-2-key.jdx": {"Whispered name (measured)", "CC BY-SA 4.0", "Tobin Vasko", "Whispered-0001", "C4H10O"},
		"spectra/3-diethyl-ether.jdx":                  {"diethyl ether (computed)", "CC BY 4.0", "Ilse Quarnholt", "", "C4H10O"},
	} {
		all, err := jcamp.Read(bytes.NewReader(p.Files[name]))
		if err != nil || len(all) != 1 {
			t.Errorf("%s: %d spectra, %v", name, len(all), err)
			continue
		}
		s := all[0]
		if s.Title != want.title || s.Info.License != want.license || s.Info.Owner != want.owner || s.Info.SourceID != want.id || s.Info.Formula.String() != want.formula {
			t.Errorf("%s: %q, %+v", name, s.Title, s.Info)
		}
		if strings.HasSuffix(want.title, "(measured)") && (len(s.Peaks) != 5 || s.At(43) != 100 || s.At(72) != 24.05) { // 2405 of 9999
			t.Errorf("%s: peaks %v", name, s.Peaks)
		}
	}
}

// TestProvenance: everything that is shown has an owner and a license.
func TestProvenance(t *testing.T) {
	var m manifestData
	if err := json.Unmarshal(hiddenPack(t).Files[Manifest], &m); err != nil {
		t.Fatal(err)
	}
	if m.Author != "Ilse Quarnholt" || m.License != "CC BY 4.0" || m.Notation != "iupac" {
		t.Errorf("by %q, license %q, notation %q", m.Author, m.License, m.Notation)
	}
	for _, c := range m.Compounds {
		want := manifestRights{Origin: "measured", Owner: "Tobin Vasko", License: "CC BY-SA 4.0"}
		if c.Key == "ether" {
			want = manifestRights{Origin: "computed", Owner: "Ilse Quarnholt", License: "CC BY 4.0"}
		}
		if c.manifestRights != want || c.Drawn == "" {
			t.Errorf("%s: %+v", c.Key, c.manifestRights)
		}
	}
	if len(m.Figures) != 4 {
		t.Errorf("%d figures", len(m.Figures))
	}
	for _, f := range m.Figures {
		if len(f.Rights) == 0 || f.Rights[0].Owner == "" || f.Rights[0].License == "" {
			t.Errorf("the figure %s has the rights %+v", f.ID, f.Rights)
		}
		if (f.Key != "") != (f.ID == "nine") {
			t.Errorf("the figure %s has the key's file %q", f.ID, f.Key)
		}
	}
}
