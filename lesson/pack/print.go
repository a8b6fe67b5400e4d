package pack

import (
	"fmt"
	"html/template"
	"strings"

	"ionwright/chem"
	"ionwright/lesson/eval"
	"ionwright/lesson/notation"
)

// dotted is a computed value as the lesson's notation writes it: an ion with an
// unpaired electron has its dot, where the profile writes one.
func dotted(r eval.Result, n notation.Profile) eval.Printed {
	var out, formula eval.Printed
	end := func() {
		if len(formula) > 0 && formula[len(formula)-1].Script == chem.Superscript {
			if f, err := chem.ParseFormula(unicodeText(formula)); err == nil {
				if dot := n.Dot(f); dot != "" {
					out = append(out, eval.Run{Text: dot, Script: chem.Superscript})
				}
			}
		}
		formula = nil
	}
	for _, run := range r.Text {
		if strings.Contains(run.Text, " ") { // between two formulas
			end()
			out = append(out, run)
			continue
		}
		out, formula = append(out, run), append(formula, run)
	}
	end()
	return out
}

// printed is a computed value as HTML.
func (b *builder) printed(r eval.Result) template.HTML {
	if r.Kind == eval.FigureRef && len(r.Trace.Figures) > 0 {
		return template.HTML(fmt.Sprintf(`<a href="#figure-%s">%s</a>`, r.Trace.Figures[0], template.HTMLEscapeString(r.Text.String())))
	}
	var out strings.Builder
	for _, run := range dotted(r, b.report.Source.Notation) {
		text := template.HTMLEscapeString(run.Text)
		switch run.Script {
		case chem.Subscript:
			text = "<sub>" + text + "</sub>"
		case chem.Superscript:
			text = "<sup>" + text + "</sup>"
		}
		out.WriteString(text)
	}
	return template.HTML(out.String())
}

// formula is a formula of a key as HTML.
func (b *builder) formula(f chem.Formula) string {
	if dot := b.report.Source.Notation.Dot(f); dot != "" {
		return f.HTML() + "<sup>" + dot + "</sup>"
	}
	return f.HTML()
}

// raised and lowered digits and signs, for text without markup.
var (
	raised  = strings.NewReplacer("0", "⁰", "1", "¹", "2", "²", "3", "³", "4", "⁴", "5", "⁵", "6", "⁶", "7", "⁷", "8", "⁸", "9", "⁹", "+", "⁺", "−", "⁻")
	lowered = strings.NewReplacer("0", "₀", "1", "₁", "2", "₂", "3", "₃", "4", "₄", "5", "₅", "6", "₆", "7", "₇", "8", "₈", "9", "₉")
)

// unicodeText is a value with the raised and lowered characters of Unicode.
func unicodeText(p eval.Printed) string {
	var out strings.Builder
	for _, run := range p {
		switch run.Script {
		case chem.Subscript:
			_, _ = lowered.WriteString(&out, run.Text)
		case chem.Superscript:
			_, _ = raised.WriteString(&out, run.Text)
		default:
			out.WriteString(run.Text)
		}
	}
	return out.String()
}
