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
	{"mol/groups", []string{"mol", "mol/smarts"}, "the named functional groups", true},
	{"mol/molfile", []string{"chem", "mol"}, "connection tables in and out", true},
	{"mol/names", []string{"chem", "mol", "mol/smiles"}, "systematic and common names", true},
	{"isomer", []string{"chem", "mol", "mol/smiles", "mol/smarts"}, "all structures of a formula", true},
	{"isotope", []string{"chem"}, "isotope patterns", true},
	{"compose", []string{"chem"}, "formulas that fit a mass", true},
	{"spectrum/match", []string{"spectrum"}, "similarity of spectra", true},
	{"spectrum/jcamp", []string{"chem", "spectrum"}, "JCAMP-DX", true},
	{"spectrum/table", []string{"spectrum"}, "comma-separated values", true},
	{"spectrum/file", []string{"spectrum", "spectrum/jcamp", "spectrum/table"}, "the formats of spectrum files by their endings", true},
	{"ionize", []string{"chem", "mol", "isotope", "spectrum"}, "from a structure to its ions, with routes", true},
	{"ionize/fit", []string{"ionize", "isotope"}, "fits the parameters of ionize; data are passed in", true},
	{"sector", []string{"spectrum"}, "from a beam to a recorded trace; knows nothing of ionize, so measured ions fly too", true},
	{"reading/boost", nil, "sums of small trees, fitted and explained", true},
	{"reading/net", nil, "small networks of units, fitted and applied", true},
	{"reading/infer", []string{"chem", "compose", "spectrum", "reading/boost", "reading/net"}, "from peaks to probabilities of the molecular ion, formula and groups", true},
	{"reading", []string{"chem", "isotope", "compose", "spectrum", "reading/infer"}, "from peaks to clues, formula and groups, in words", true},
	{"reading/candidate", []string{"mol", "mol/smarts", "spectrum", "spectrum/match", "ionize", "reading/infer", "reading"}, "structures ranked by how well they explain a spectrum", true},
	{"reading/fit", []string{"chem", "spectrum", "reading/boost", "reading/net", "reading/infer", "reading"}, "fits the parameters of reading; data are passed in", true},
	{"draw/typeface", nil, "the one font: widths, outlines, subsets", true},
	{"draw", []string{"chem", "draw/typeface"}, "the scene: a drawing as a value", true},
	{"draw/svg", []string{"draw", "draw/typeface"}, "a scene as SVG", true},
	{"draw/png", []string{"draw", "draw/typeface"}, "a scene as PNG", true},
	{"draw/pdf", []string{"draw", "draw/typeface"}, "a scene as PDF", true},
	{"draw/output", []string{"draw", "draw/svg", "draw/png", "draw/pdf"}, "the formats of figure files by their endings", true},
	{"draw/plot", []string{"spectrum", "draw"}, "figures of spectra and traces", true},
	{"draw/layout", []string{"chem", "mol"}, "two-dimensional coordinates", true},
	{"draw/structure", []string{"chem", "mol", "mol/smarts", "draw", "draw/layout"}, "drawings of structures", true},
	{"draw/mechanism", []string{"chem", "mol", "ionize", "draw", "draw/layout", "draw/structure"}, "mechanisms with electron arrows, and maps of fragmentation", true},
	{"draw/ions", []string{"chem", "mol", "spectrum", "ionize", "draw", "draw/plot", "draw/structure"}, "what a prediction knows, for the figure of a spectrum", true},
	{"draw/apparatus", []string{"spectrum", "sector", "draw", "draw/plot"}, "drawings of the instrument", true},
	{"draw/motion", []string{"sector", "draw", "draw/svg", "draw/apparatus", "draw/plot"}, "a field sweep as an animation", false},
	{"practice/answer", []string{"chem", "mol", "mol/smiles", "mol/molfile", "sector"}, "what students write, read", true},
	{"practice/cause", []string{"chem", "mol", "mol/smiles", "isotope", "spectrum", "sector", "reading", "practice/answer"}, "the wrong rules that students follow, and the answers they lead to", true},
	{"practice", []string{"chem", "mol", "mol/smiles", "practice/answer", "practice/cause"}, "questions with key, marking scheme, hints and solution", true},
	{"practice/arrow", []string{"chem", "mol", "ionize", "practice", "practice/answer"}, "what electron arrows lead to, and those that a step needs", true},
	{"practice/mark", []string{"chem", "mol", "ionize", "practice", "practice/answer", "practice/cause", "practice/arrow"}, "marks for answers", true},
	{"practice/propose", []string{"chem", "spectrum", "mol", "mol/smiles", "isotope", "ionize", "reading", "practice", "practice/cause", "practice/arrow"}, "questions from an idea and a level", true},
	{"practice/qti", []string{"chem", "mol", "mol/smiles", "practice", "practice/answer", "practice/cause", "practice/arrow"}, "questions as packages of the open standard QTI", true},
	{"practice/rival", []string{"chem", "mol", "mol/smiles", "mol/smarts", "mol/groups", "isomer", "spectrum", "spectrum/match", "ionize", "reading/infer", "reading", "reading/candidate"}, "the structures that fit an unknown as well as its answer does", true},
	{"lesson/diag", nil, "diagnostics: what is wrong where, as values", false},
	{"lesson/foreign", []string{"chem", "spectrum", "mol", "mol/smiles", "mol/names", "isotope", "sector", "lesson/diag"}, "text that isn't a lesson, checked against what can be computed", true},
	{"lesson/notation", []string{"chem", "draw"}, "the profiles by which a lesson writes ions and terms", true},
	{"lesson/source", []string{"practice", "lesson/diag", "lesson/notation"}, "a lesson's text taken apart, every part with its place", false},
	{"lesson/cache", nil, "results kept on disk under a hash of what they came from", false},
	{"lesson/load", []string{"chem", "mol", "mol/smiles", "mol/names", "mol/molfile", "spectrum", "spectrum/jcamp", "spectrum/table", "ionize", "sector", "lesson/diag", "lesson/source"}, "a lesson's compounds and instruments", false},
	{"lesson/eval", []string{"chem", "isotope", "sector", "reading", "draw/plot", "lesson/diag", "lesson/source", "lesson/load"}, "the expressions of a lesson and their functions", false},
	{"lesson/check", []string{"chem", "mol", "mol/smiles", "draw/structure", "draw/ions", "practice", "practice/answer", "practice/cause", "practice/mark", "practice/rival", "lesson/diag", "lesson/cache", "lesson/source", "lesson/load", "lesson/eval", "lesson/foreign"}, "what must hold for a lesson to build", false},
	{"lesson/script", []string{"chem", "lesson/source", "lesson/load", "lesson/eval", "lesson/check"}, "a lesson's narration, with its times, cues and captions", false},
	{"lesson/slides", nil, "a presentation as a value, written as Office Open XML", true},
	{"lesson/pack", []string{"chem", "spectrum", "spectrum/jcamp", "sector", "draw", "draw/structure", "practice", "practice/qti", "draw/svg", "draw/png", "draw/plot", "draw/ions", "draw/mechanism", "draw/apparatus", "lesson/notation", "lesson/cache", "lesson/source", "lesson/load", "lesson/eval", "lesson/check", "lesson/script", "lesson/slides"}, "the pages and files a lesson is built into", false},
	{"lesson/printer", nil, "pages printed to PDF by an installed Chromium", false},
	{"lesson/example", nil, "the embedded example lesson", false},
	{"lesson", []string{"lesson/diag", "lesson/cache", "lesson/source", "lesson/check", "lesson/script", "lesson/pack"}, "check and build a lesson folder", false},
	{"lesson/course", []string{"draw", "lesson", "lesson/diag", "lesson/cache", "lesson/source", "lesson/pack"}, "several lessons checked and built as one", false},
	{"lesson/shelf", []string{"lesson/source", "lesson"}, "a folder of lessons, read and saved", false},
	{"web/preview", []string{"lesson", "lesson/diag", "lesson/pack"}, "a lesson served while it is written", false},
	{"web", []string{"chem", "mol", "mol/names", "mol/smiles", "spectrum", "spectrum/match", "spectrum/file", "ionize", "sector", "reading", "reading/candidate", "draw", "draw/typeface", "draw/svg", "draw/png", "draw/pdf", "draw/plot", "draw/structure", "draw/apparatus", "draw/mechanism", "lesson", "practice", "practice/answer", "practice/mark", "lesson/diag", "lesson/source", "lesson/eval", "lesson/pack", "lesson/example", "lesson/shelf", "web/preview"}, "the application in the browser", false},
}
