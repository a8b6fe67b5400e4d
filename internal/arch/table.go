// Package arch holds the table of rooms: which packages exist, in data-flow
// order, and which of the others each may import. Its test fails on any
// import that isn't in the table, with the two names and the reason.
package arch

// Room is one package of this module and what it may import of the module.
type Room struct {
	Name    string   // path below the module
	Imports []string // rooms it may import besides itself
	Why     string   // what the room is for, in a line
	Pure    bool     // opens no file, reads no clock, logs nothing, knows no HTTP and no HTML
}

// Rooms is the table, in data-flow order: a room imports only rooms above it.
var Rooms = []Room{
	{"chem", nil, "elements, isotopes, formulas, masses", true},
	{"spectrum", []string{"chem"}, "the peak, spectrum and trace types that all rooms exchange", true},
	{"mol", []string{"chem"}, "molecular graphs", true},
	{"mol/smiles", []string{"chem", "mol"}, "OpenSMILES in and out", true},
	{"mol/smarts", []string{"chem", "mol"}, "substructure patterns", true},
	{"mol/groups", []string{"chem", "mol", "mol/smarts"}, "the named functional groups", true},
	{"mol/molfile", []string{"chem", "mol"}, "connection tables in and out", true},
	{"mol/names", []string{"chem", "mol", "mol/smiles"}, "systematic and common names", true},
	{"isotope", []string{"chem"}, "isotope patterns", true},
	{"compose", []string{"chem", "isotope"}, "formulas that fit a mass", true},
	{"spectrum/match", []string{"chem", "spectrum"}, "similarity of spectra", true},
	{"spectrum/jcamp", []string{"chem", "spectrum"}, "JCAMP-DX", true},
	{"spectrum/table", []string{"chem", "spectrum"}, "comma-separated values", true},
	{"ionize", []string{"chem", "mol", "isotope", "spectrum"}, "from a structure to its ions, with routes", true},
	{"ionize/fit", []string{"chem", "mol", "mol/smiles", "isotope", "spectrum", "spectrum/match", "ionize"}, "fits the parameters of ionize", true},
	{"sector", []string{"chem", "spectrum"}, "from a beam to a recorded trace", true},
	{"reading/boost", nil, "sums of small trees, fitted and explained", true},
	{"reading/infer", []string{"chem", "isotope", "compose", "spectrum", "reading/boost"}, "from peaks to probabilities of the molecular ion, formula and groups", true},
	{"reading", []string{"chem", "isotope", "compose", "mol", "mol/groups", "spectrum", "reading/infer"}, "from peaks to clues, formula and groups, in words", true},
	{"reading/fit", []string{"chem", "isotope", "compose", "spectrum", "reading/boost", "reading/infer", "reading"}, "fits the parameters of reading", true},
	{"draw", []string{"chem"}, "the scene: a drawing as a value", true},
	{"draw/svg", []string{"draw"}, "a scene as SVG", true},
	{"draw/plot", []string{"chem", "spectrum", "draw"}, "figures of spectra and traces", true},
	{"draw/layout", []string{"chem", "mol"}, "two-dimensional coordinates", true},
	{"draw/structure", []string{"chem", "mol", "draw", "draw/layout"}, "drawings of structures", true},
	{"draw/apparatus", []string{"chem", "spectrum", "sector", "draw", "draw/plot"}, "drawings of the instrument", true},
}
