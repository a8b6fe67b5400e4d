package ionize

import (
	"fmt"
	"strings"

	"ionwright/chem"
)

// neutralNames are neutrals whose formula leaves no doubt about what they are
// in ordinary compounds.
var neutralNames = map[string]string{
	"H": "a hydrogen atom", "H2": "molecular hydrogen", "CH3": "a methyl radical", "CH4": "methane",
	"C2H2": "ethyne", "C2H4": "ethene", "C2H5": "an ethyl radical", "C2H6": "ethane", "C3H6": "propene or cyclopropane",
	"HO": "a hydroxyl radical", "H2O": "water", "CO": "carbon monoxide", "CO2": "carbon dioxide", "CHO": "a formyl radical",
	"CH2O": "formaldehyde", "CH4O": "methanol", "C2H2O": "ketene", "CHN": "hydrogen cyanide", "CN": "a cyano radical",
	"H3N": "ammonia", "H2N": "an amino radical", "NO": "nitrogen monoxide", "NO2": "nitrogen dioxide", "N2": "dinitrogen",
	"F": "a fluorine atom", "Cl": "a chlorine atom", "Br": "a bromine atom", "I": "an iodine atom",
	"HF": "hydrogen fluoride", "HCl": "hydrogen chloride", "ClH": "hydrogen chloride", "BrH": "hydrogen bromide", "HI": "hydrogen iodide",
	"HS": "a sulfanyl radical", "H2S": "hydrogen sulfide", "O2S": "sulfur dioxide", "C6H5": "a phenyl radical", "C6H6": "benzene",
	"C2H4O2": "acetic acid or an isomer of it",
}

// LossName names a lost neutral for a sentence: its name where the formula
// leaves no doubt, with the formula; otherwise the formula with "radical" or
// "molecule", and for deuterated neutrals the formula alone.
func LossName(loss chem.Formula) string {
	text := loss.Unicode()
	if name, ok := neutralNames[loss.String()]; ok {
		return fmt.Sprintf("%s (%s)", name, text)
	}
	if loss.OddElectron() {
		return "a radical " + text
	}
	return "a neutral " + text
}

// Notation is the ion's formula with its charge, and a dot where it has an
// unpaired electron, as in C3H6O with + and a dot.
func (ion Ion) Notation() string {
	if ion.OddElectron {
		return ion.Formula.Unicode() + "•"
	}
	return ion.Formula.Unicode()
}

// Sentence says how the ion comes about, in a form that can be read aloud:
// the route's steps, and what its electrons say about its m/z.
func (p *Prediction) Sentence(ion Ion) string {
	var text strings.Builder
	fmt.Fprintf(&text, "m/z %d, %s: ", ion.MZ, ion.Notation())
	text.WriteString(routeWords(p.Route(ion.ID)))
	text.WriteString("; ")
	text.WriteString(parity(ion))
	text.WriteString(".")
	return text.String()
}

// parity says what the nitrogen rule makes of the ion.
func parity(ion Ion) string {
	electrons, expected := "even-electron", "odd"
	if ion.OddElectron {
		electrons, expected = "odd-electron", "even"
	}
	nitrogens := ion.Formula.Count(chem.N)
	switch {
	case labelled(ion.Formula):
		return electrons
	case nitrogens == 0:
		return fmt.Sprintf("%s, so %s m/z without nitrogen", electrons, expected)
	case nitrogens%2 == 0:
		return fmt.Sprintf("%s, so %s m/z with an even number of nitrogens", electrons, expected)
	}
	if expected == "odd" {
		expected = "even"
	} else {
		expected = "odd"
	}
	return fmt.Sprintf("%s, so %s m/z with an odd number of nitrogens", electrons, expected)
}

func labelled(f chem.Formula) bool {
	for species := range f.All() {
		if species.MassNumber() != 0 {
			return true
		}
	}
	return false
}
