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

// customary are small neutrals whose usual formula isn't in Hill order, by that
// order (common practice, no source).
var customary = map[string]string{
	"ClH": "HCl", "BrH": "HBr", "FH": "HF", "CHN": "HCN", "CHNO": "HNCO", "H3N": "NH3", "H2N": "NH2",
	"HO": "OH", "HS": "SH", "O2S": "SO2", "OS": "SO",
}

// Neutral returns the runs of a neutral that is lost, with its elements in the
// customary order: HCl where Hill's is ClH.
func Neutral(f chem.Formula) []Run {
	usual, ok := customary[f.String()]
	if !ok {
		return Formula(f)
	}
	var runs []Run
	for _, c := range usual {
		run := Run{Text: string(c)}
		if c >= '0' && c <= '9' {
			run.Script = Sub
		}
		runs = append(runs, run)
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
