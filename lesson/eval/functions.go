package eval

import "slices"

// Functions is the visible list of what expressions can call beside CEL's own
// operators; the printed reference is made from it.
func Functions() []Function {
	return slices.Concat(spectrumFunctions, structureFunctions, isotopeFunctions, commonFunctions, instrumentFunctions, physicsFunctions, textFunctions)
}

var (
	ofCompound       = []Form{{{"compound", "compound"}}}
	ofCompoundOrText = []Form{{{"compound", "compound"}}, {{"formula", "text"}}}
	atMZ             = []Form{{{"compound", "compound"}, {"mz", "number"}}}
)
