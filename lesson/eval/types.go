package eval

import (
	"ionwright/lesson/load"
)

// The types that expressions handle beside CEL's own. The cel tags are the
// names that authors write; fields without a tag stay out of their reach.

// Compound is one of the lesson's compounds.
type Compound struct {
	Name string `cel:"name"`
	of   *load.Compound
}

// Instrument is one of the lesson's instruments.
type Instrument struct {
	Name string `cel:"name"`
	of   *load.Instrument
}

// Peak is a peak of a compound's spectrum. Intensity is relative, in percent
// of the base peak, and 0 where there is no peak.
type Peak struct {
	MZ        int     `cel:"mz"`
	Intensity float64 `cel:"intensity"`
}

// Ion is an ion that the engine finds a route to.
type Ion struct {
	MZ        int     `cel:"mz"`
	Formula   string  `cel:"formula"`
	ExactMass float64 `cel:"exactMass"`
	OddElect  bool    `cel:"oddElectron"`
	Route     string  `cel:"route"`
}

// Loss is the neutral that a molecular ion loses on the way to an ion.
type Loss struct {
	Mass    int    `cel:"mass"`
	Formula string `cel:"formula"`
}

// fieldKinds says how the fields of the types are printed.
var fieldKinds = map[string]map[string]Kind{
	"Compound":   {"name": Words},
	"Instrument": {"name": Words},
	"Peak":       {"mz": MZ, "intensity": Percent},
	"Ion":        {"mz": MZ, "formula": Formula, "exactMass": ExactMass, "oddElectron": Truth, "route": Words},
	"Loss":       {"mass": NominalMass, "formula": Formula},
}
