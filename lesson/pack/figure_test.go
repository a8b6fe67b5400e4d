package pack

import (
	"strings"
	"testing"
	"testing/fstest"

	"ionwright/lesson/source"
)

// drawings is a lesson with every kind of figure of spectra and structures.
const drawings = `---
title: Drawings
compounds:
  ketone: { name: bottle 3, smiles: CCC(C)=O, measured: ketone.csv, license: own }
  ester: { name: bottle 4, smiles: COc1ccccc1CC(=O)OCC, computed: yes }
---

See {{ figure("formula") }}, {{ figure("close") }} and {{ figure("both") }}.

` + "```" + `structure
id: formula
compound: ester
abbreviate: [CO2Et, OMe]
` + "```" + `

` + "```" + `figure
id: close
spectrum: ketone
label: [43]
structures: [43]
losses: [72-43]
zoom: 71-74
` + "```" + `

` + "```" + `figure
id: both
spectrum: ketone
against: ester
` + "```" + `
`

func TestDrawings(t *testing.T) {
	p := build(t, fstest.MapFS{
		source.Main:  {Data: []byte(drawings)},
		"ketone.csv": {Data: []byte("mz,intensity\n29,20\n43,100\n57,8\n72,24\n73,1\n")},
	}, Options{})
	for name, wants := range map[string][]string{
		"figures/1-formula.svg": {"Structure of bottle 4", "CO2Et for ethoxycarbonyl", ">OMe<", "OMe for methoxy"},
		"figures/2-close.svg":   {`class="drawing"`, `id="inset"`, "main losses: 29 (C2H5) to m/z 43", "Beside m/z 43: skeletal formula, C2H3O+"},
		"figures/3-both.svg":    {"Two mass spectra head to tail: bottle 3 (measured) above, bottle 4 (computed) below"},
	} {
		text := string(p.Files[name])
		for _, want := range wants {
			if want == ">OMe<" && strings.Contains(text, ">MeO<") {
				continue // on the other side of its bond
			}
			if !strings.Contains(text, want) {
				t.Errorf("%s lacks %q", name, want)
			}
		}
	}
	page := string(p.Files[Student])
	for _, want := range []string{"Drawn from the lesson", "Above: measured", "Below: computed from the structure"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
}
