package jcamp

import (
	"regexp"
	"strings"

	"ionwright/chem"
	"ionwright/spectrum"
)

// checkHeader warns of what a block should say and doesn't.
func (d *decoder) checkHeader(h *header) {
	version, found := h.get("JCAMPDX")
	number := strings.TrimSpace(strings.TrimPrefix(strings.ToUpper(version.Text), "REVISION"))
	switch {
	case !found:
		d.warn(h.line, false, "no ##JCAMP-DX= with the version")
	case number != "4.24" && number != "5" && number != "5.0" && number != "5.00" && number != "5.01":
		d.warn(version.Line, false, "the version is %q; 4.24, 5.00 and 5.01 are known here", clip(version.Text))
	}
	if h.text("OWNER") == "" {
		d.warn(h.line, false, "no ##OWNER=, so the rights in the data are unknown")
	}
	if unit, found := h.get("XUNITS"); found && unit.Text != "" && !isMZ(unit.Text) {
		d.warn(unit.Line, true, "XUNITS is %q; expected M/Z", clip(unit.Text))
	}
}

// info fills in what the records say of the compound and the measurement.
func (d *decoder) info(h *header) spectrum.Info {
	info := spectrum.Info{
		Name:       h.text("NAMES"),
		Instrument: h.text("SPECTROMETERDATASYSTEM"),
		SourceID:   h.text("SOURCEREFERENCE"),
		Owner:      h.text("OWNER"),
		License:    h.text("$LICENSE"),
	}
	if info.Name == "" {
		info.Name = h.text("CASNAME")
	}
	if r, found := h.get("MOLFORM"); found && r.Text != "" {
		formula, err := parseFormula(r.Text)
		if err != nil {
			d.warn(r.Line, false, "MOLFORM isn't understood: %v", err)
		}
		info.Formula = formula
	}
	energy, err := h.given(".IONIZATIONENERGY")
	switch {
	case err != nil:
		d.warn(energy.line, false, ".IONIZATION ENERGY is %q; expected a number of eV", clip(energy.text))
	case energy.ok && energy.value > 0:
		info.EnergyEV = energy.value
	case energy.ok:
		d.warn(energy.line, false, ".IONIZATION ENERGY is %s eV; expected a positive number", energy.text)
	}
	switch strings.ToLower(h.text("$SPECTRUMORIGIN")) {
	case "measured":
		info.Origin = spectrum.Measured
	case "computed":
		info.Origin = spectrum.Computed
	}
	var comments []string
	for _, r := range h.records {
		if r.Label == "COMMENTS" {
			comments = append(comments, r.Text)
		}
	}
	info.Comment = strings.Join(comments, "\n")
	return info
}

var (
	caretLabel = regexp.MustCompile(`\^(\d+)([A-Z][a-z]?)`)
	lastCharge = regexp.MustCompile(`\s(\d*[+-])$`)
)

// parseFormula reads the spaced formula of MOLFORM, "C 5 H 10 O", isotopes as
// ^13C.
func parseFormula(text string) (chem.Formula, error) {
	text = caretLabel.ReplaceAllString(text, "[$1$2]")
	charge := ""
	if at := lastCharge.FindStringSubmatchIndex(text); at != nil {
		text, charge = text[:at[0]], " "+text[at[2]:at[3]]
	}
	return chem.ParseFormula(strings.Join(strings.Fields(text), "") + charge)
}

// spacedFormula is the other way round. That an isotope is written ^13C is from
// memory of the standard.
func spacedFormula(f chem.Formula) string {
	var out []string
	label := ""
	for _, part := range f.Parts() {
		switch {
		case part.Script == chem.Superscript && strings.ContainsAny(part.Text, "+−"):
			out = append(out, strings.ReplaceAll(part.Text, "−", "-"))
		case part.Script == chem.Superscript:
			label = "^" + part.Text
		default:
			out = append(out, label+part.Text)
			label = ""
		}
	}
	return strings.Join(out, " ")
}
