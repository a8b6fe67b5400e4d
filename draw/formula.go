package draw

import "ionwright/chem"

// Formula returns the runs that set a formula in Hill order with its counts
// and charge, as chem's Parts cuts them.
func Formula(f chem.Formula) []Run {
	parts := f.Parts()
	runs := make([]Run, len(parts))
	for i, part := range parts {
		runs[i] = Run{Text: part.Text, Script: Normal}
		switch part.Script {
		case chem.Subscript:
			runs[i].Script = Sub
		case chem.Superscript:
			runs[i].Script = Super
		}
	}
	return runs
}

// Ion is Formula with the dot of an odd-electron species after the charge, as
// IUPAC's recommendations of 2013 write it: C4H8O+•.
func Ion(f chem.Formula) []Run {
	runs := Formula(f)
	if f.OddElectron() {
		runs = append(runs, Run{Text: "•", Script: Super})
	}
	return runs
}
