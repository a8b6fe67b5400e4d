package slides

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"path"
	"slices"
	"strings"
	"testing"
)

// orders are the children that an element may have, in the order of the schema:
// those of p from pml.xsd (ISO/IEC 29500 transitional, the copy among the
// references of python-docx), those of a from dml-main.xsd (from memory). Names
// with a bar between them may follow each other in any order.
var orders = map[string]string{
	"p:presentation":  "sldMasterIdLst notesMasterIdLst handoutMasterIdLst sldIdLst sldSz notesSz",
	"p:sld":           "cSld clrMapOvr transition timing",
	"p:sldLayout":     "cSld clrMapOvr transition timing hf",
	"p:sldMaster":     "cSld clrMap sldLayoutIdLst transition timing hf txStyles",
	"p:notesMaster":   "cSld clrMap hf notesStyle",
	"p:notes":         "cSld clrMapOvr",
	"p:cSld":          "bg spTree",
	"p:spTree":        "nvGrpSpPr grpSpPr sp|pic",
	"p:sp":            "nvSpPr spPr style txBody",
	"p:nvSpPr":        "cNvPr cNvSpPr nvPr",
	"p:pic":           "nvPicPr blipFill spPr style",
	"p:nvPicPr":       "cNvPr cNvPicPr nvPr",
	"p:nvGrpSpPr":     "cNvPr cNvGrpSpPr nvPr",
	"p:txStyles":      "titleStyle bodyStyle otherStyle",
	"p:blipFill":      "blip srcRect tile stretch",
	"p:spPr":          "xfrm custGeom prstGeom solidFill ln",
	"p:txBody":        "bodyPr lstStyle p",
	"a:p":             "pPr r|br|fld endParaRPr",
	"a:r":             "rPr t",
	"a:fld":           "rPr pPr t",
	"a:pPr":           "lnSpc spcBef spcAft buClr buSzPct buFont buNone buAutoNum buChar tabLst defRPr",
	"a:lvl1pPr":       "lnSpc spcBef spcAft buClr buSzPct buFont buNone buAutoNum buChar tabLst defRPr",
	"a:rPr":           "ln solidFill effectLst latin ea cs sym hlinkClick",
	"a:defRPr":        "ln solidFill effectLst latin ea cs sym hlinkClick",
	"a:theme":         "themeElements objectDefaults",
	"a:themeElements": "clrScheme fontScheme fmtScheme",
	"a:clrScheme":     "dk1 lt1 dk2 lt2 accent1 accent2 accent3 accent4 accent5 accent6 hlink folHlink",
	"a:fontScheme":    "majorFont minorFont",
	"a:majorFont":     "latin ea cs",
	"a:minorFont":     "latin ea cs",
	"a:fmtScheme":     "fillStyleLst lnStyleLst effectStyleLst bgFillStyleLst",
	"a:xfrm":          "off ext chOff chExt",
}

// needed are the children that the same schemas ask for.
var needed = map[string]string{
	"p:presentation": "notesSz", "p:sld": "cSld", "p:sldMaster": "cSld clrMap", "p:notesMaster": "cSld clrMap", "p:cSld": "spTree",
	"p:spTree": "nvGrpSpPr grpSpPr", "p:sp": "nvSpPr spPr", "p:pic": "nvPicPr blipFill spPr", "p:nvSpPr": "cNvPr cNvSpPr nvPr",
	"p:nvPicPr": "cNvPr cNvPicPr nvPr", "p:txBody": "bodyPr p", "a:r": "t", "a:themeElements": "clrScheme fontScheme fmtScheme",
	"a:clrScheme": "dk1 lt1 dk2 lt2 accent1 accent2 accent3 accent4 accent5 accent6 hlink folHlink",
}

// TestElementsStandInTheSchemasOrder: programs for presentations repair or
// refuse a file whose elements are out of order.
func TestElementsStandInTheSchemasOrder(t *testing.T) {
	seen := map[string]bool{}
	for name, data := range opened(t, sample(t)) {
		if !strings.HasPrefix(name, "ppt/") || path.Ext(name) != ".xml" {
			continue
		}
		type open struct {
			name     string
			children []string
		}
		var stack []open
		d := xml.NewDecoder(bytes.NewReader(data))
		for {
			token, err := d.Token()
			if errors.Is(err, io.EOF) {
				break
			}
			if err != nil {
				t.Fatal(err)
			}
			switch token := token.(type) {
			case xml.StartElement:
				if len(stack) > 0 {
					top := &stack[len(stack)-1]
					top.children = append(top.children, token.Name.Local)
				}
				prefix := map[string]string{nsDrawing: "a:", nsPresentation: "p:"}[token.Name.Space]
				stack = append(stack, open{name: prefix + token.Name.Local})
			case xml.EndElement:
				top := stack[len(stack)-1]
				stack = stack[:len(stack)-1]
				order, known := orders[top.name]
				if !known {
					continue
				}
				seen[top.name] = true
				at := 0
				for _, child := range top.children {
					i := slices.IndexFunc(strings.Fields(order), func(names string) bool { return slices.Contains(strings.Split(names, "|"), child) })
					if i < at {
						t.Errorf("%s: %s has the children %q, in another order than %q", name, top.name, top.children, order)
						break
					}
					at = i
				}
				for _, child := range strings.Fields(needed[top.name]) {
					if !slices.Contains(top.children, child) {
						t.Errorf("%s: %s lacks %s", name, top.name, child)
					}
				}
			}
		}
	}
	for name := range orders {
		if !seen[name] {
			t.Errorf("no part has %s", name)
		}
	}
}
