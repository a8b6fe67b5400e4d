package sector

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"
)

// DescriptionError is an error in the description of an instrument.
type DescriptionError struct {
	Line, Column int // 1-based
	Message      string
}

// Error returns the message with its place.
func (e *DescriptionError) Error() string {
	return fmt.Sprintf("reading an instrument: line %d, column %d: %s", e.Line, e.Column, e.Message)
}

// unit is a unit that a description may use, and how much of the SI unit it is:
// times / over, so that 173 mm is 0.173 m to the last digit.
type unit struct {
	name        string
	times, over float64
}

// setting is one line of a description.
type setting struct {
	key   string
	units []unit
	of    func(i *Instrument) *float64 // nil pointer where the instrument has no such part
}

// settings lists what a description can say, in the order that it is written.
// Those of the electric sector make one where they are first set.
func settings() []setting {
	// Units by kind; the first one is what Description writes.
	var (
		lengthUnits   = []unit{{"m", 1, 1}, {"cm", 1, 1e2}, {"mm", 1, 1e3}, {"um", 1, 1e6}, {"µm", 1, 1e6}}
		voltUnits     = []unit{{"V", 1, 1}, {"kV", 1e3, 1}, {"mV", 1, 1e3}}
		angleUnits    = []unit{{"deg", math.Pi, 180}, {"rad", 1, 1}, {"mrad", 1, 1e3}}
		fieldUnits    = []unit{{"T", 1, 1}, {"mT", 1, 1e3}}
		kelvinUnits   = []unit{{"K", 1, 1}}
		pressureUnits = []unit{{"Pa", 1, 1}, {"mPa", 1, 1e3}, {"mbar", 100, 1}}
		secondUnits   = []unit{{"s", 1, 1}, {"ms", 1, 1e3}, {"us", 1, 1e6}}
		rateUnits     = []unit{{"1/s", 1, 1}}
		noUnits       = []unit{{"", 1, 1}}
	)
	electric := func(field func(e *ElectricSector) *float64) func(i *Instrument) *float64 {
		return func(i *Instrument) *float64 {
			if i.Electric == nil {
				return nil
			}
			return field(i.Electric)
		}
	}
	return []setting{
		{"voltage", voltUnits, func(i *Instrument) *float64 { return (*float64)(&i.Voltage) }},
		{"source slit", lengthUnits, func(i *Instrument) *float64 { return (*float64)(&i.SourceSlit) }},
		{"divergence", angleUnits, func(i *Instrument) *float64 { return (*float64)(&i.Divergence) }},
		{"energy spread", voltUnits, func(i *Instrument) *float64 { return (*float64)(&i.EnergySpread) }},
		{"source temperature", kelvinUnits, func(i *Instrument) *float64 { return (*float64)(&i.Temperature) }},
		{"drift before", lengthUnits, func(i *Instrument) *float64 { return (*float64)(&i.Before) }},
		{"electric radius", lengthUnits, electric(func(e *ElectricSector) *float64 { return (*float64)(&e.Radius) })},
		{"electric angle", angleUnits, electric(func(e *ElectricSector) *float64 { return (*float64)(&e.Angle) })},
		{"electric gap", lengthUnits, electric(func(e *ElectricSector) *float64 { return (*float64)(&e.Gap) })},
		{"drift between", lengthUnits, electric(func(e *ElectricSector) *float64 { return (*float64)(&e.Between) })},
		{"radius", lengthUnits, func(i *Instrument) *float64 { return (*float64)(&i.Radius) }},
		{"angle", angleUnits, func(i *Instrument) *float64 { return (*float64)(&i.Angle) }},
		{"entry face", angleUnits, func(i *Instrument) *float64 { return (*float64)(&i.EntryFace) }},
		{"exit face", angleUnits, func(i *Instrument) *float64 { return (*float64)(&i.ExitFace) }},
		{"pole gap", lengthUnits, func(i *Instrument) *float64 { return (*float64)(&i.Gap) }},
		{"chamber", lengthUnits, func(i *Instrument) *float64 { return (*float64)(&i.Chamber) }},
		{"largest field", fieldUnits, func(i *Instrument) *float64 { return (*float64)(&i.MaxField) }},
		{"drift after", lengthUnits, func(i *Instrument) *float64 { return (*float64)(&i.After) }},
		{"collector slit", lengthUnits, func(i *Instrument) *float64 { return (*float64)(&i.CollectorSlit) }},
		{"residual pressure", pressureUnits, func(i *Instrument) *float64 { return (*float64)(&i.Pressure) }},
		{"detector gain", noUnits, func(i *Instrument) *float64 { return &i.Detector.Gain }},
		{"dark rate", rateUnits, func(i *Instrument) *float64 { return &i.Detector.DarkRate }},
		{"time constant", secondUnits, func(i *Instrument) *float64 { return (*float64)(&i.Detector.TimeConst) }},
	}
}

// ReadDescription reads the description of an instrument in YAML: a mapping
// with the keys of Description, each a number with its unit.
//
//	name: half circle
//	voltage: 1 kV
//	radius: 10 cm
//	collector slit: 0.2 mm
//
// It fails, naming line and column, for a key or unit that it doesn't know, for
// a number without unit, and for a key that is there twice; and like Check.
func ReadDescription(text []byte) (Instrument, error) {
	const most = 64 << 10 // bytes
	if len(text) > most {
		return Instrument{}, &DescriptionError{1, 1, fmt.Sprintf("more than %d bytes", most)}
	}
	file, err := parser.ParseBytes(text, 0)
	if err != nil {
		return Instrument{}, fmt.Errorf("reading an instrument: %w", err)
	}
	if len(file.Docs) != 1 || file.Docs[0].Body == nil {
		return Instrument{}, &DescriptionError{1, 1, "expected one mapping with lines such as radius: 10 cm"}
	}
	mapping, ok := file.Docs[0].Body.(*ast.MappingNode)
	if !ok {
		return Instrument{}, &DescriptionError{1, 1, "expected a mapping with lines such as radius: 10 cm"}
	}
	var i Instrument
	all := settings()
	seen := map[string]bool{}
	for _, entry := range mapping.Values {
		key := entry.Key.GetToken()
		fail := func(format string, args ...any) error {
			return &DescriptionError{key.Position.Line, key.Position.Column, fmt.Sprintf(format, args...)}
		}
		if seen[key.Value] {
			return Instrument{}, fail("%q is there twice", key.Value)
		}
		seen[key.Value] = true
		value, ok := scalar(entry.Value)
		if !ok {
			return Instrument{}, fail("%q has no single value", key.Value)
		}
		if key.Value == "name" {
			i.Name = value
			continue
		}
		if key.Value == "electric bends" {
			if value != "the same way" && value != "the other way" {
				return Instrument{}, fail("the electric sector bends %q; expected: the same way, or: the other way", value)
			}
			i.electric().Opposite = value == "the other way"
			continue
		}
		known := false
		for _, s := range all {
			if s.key != key.Value {
				continue
			}
			known = true
			if strings.HasPrefix(s.key, "electric") || s.key == "drift between" {
				i.electric()
			}
			number, err := measure(value, s.units)
			if err != nil {
				return Instrument{}, fail("%s: %v", s.key, err)
			}
			*s.of(&i) = number
		}
		if !known {
			return Instrument{}, fail("there is no setting %q; the settings are name, electric bends, %s", key.Value, keys(all))
		}
	}
	return i, i.Check()
}

// electric returns the electric sector and makes one where there is none.
func (i *Instrument) electric() *ElectricSector {
	if i.Electric == nil {
		i.Electric = &ElectricSector{}
	}
	return i.Electric
}

// scalar returns the text of a scalar node.
func scalar(n ast.Node) (string, bool) {
	switch n := n.(type) {
	case *ast.StringNode:
		return n.Value, true
	case *ast.IntegerNode, *ast.FloatNode:
		return n.GetToken().Value, true
	}
	return "", false
}

func keys(all []setting) string {
	names := make([]string, len(all))
	for at, s := range all {
		names[at] = s.key
	}
	return strings.Join(names, ", ")
}

// measure reads a number with one of the units.
func measure(text string, units []unit) (float64, error) {
	number, name, _ := strings.Cut(strings.TrimSpace(text), " ")
	name = strings.TrimSpace(name)
	value, err := strconv.ParseFloat(number, 64)
	if err != nil || math.IsNaN(value) || math.IsInf(value, 0) {
		return 0, fmt.Errorf("%q isn't a number with a unit, such as 10 %s", text, units[0].name)
	}
	for _, u := range units {
		if u.name == name {
			return value * u.times / u.over, nil
		}
	}
	names := make([]string, len(units))
	for at, u := range units {
		names[at] = u.name
	}
	return 0, fmt.Errorf("%q isn't a unit of it; expected one of %s, with a space before", name, strings.Join(names, ", "))
}

// Description returns the description of an instrument as ReadDescription
// reads it. Settings that are zero are left out.
func (i Instrument) Description() string {
	var out strings.Builder
	if i.Name != "" {
		fmt.Fprintf(&out, "name: %q\n", i.Name)
	}
	for _, s := range settings() {
		value := s.of(&i)
		if value == nil || *value == 0 {
			continue
		}
		fmt.Fprintf(&out, "%s: %s\n", s.key, written(*value, s.units))
		if s.key == "electric radius" && i.Electric.Opposite {
			out.WriteString("electric bends: the other way\n")
		}
	}
	return out.String()
}

// written is a value in the unit in which it is shortest, the first of equally
// short ones, such that reading gives the same number.
func written(value float64, units []unit) string {
	best := ""
	for _, u := range units {
		number := value * u.over / u.times
		if round, err := strconv.ParseFloat(strconv.FormatFloat(number, 'g', 12, 64), 64); err == nil && round*u.times/u.over == value {
			number = round // 60 degrees, not 59.99999999999999
		} else if number*u.times/u.over != value && best != "" {
			continue
		}
		text := strings.TrimSpace(strconv.FormatFloat(number, 'g', -1, 64) + " " + u.name)
		if best == "" || len(text) < len(best) {
			best = text
		}
	}
	return best
}
