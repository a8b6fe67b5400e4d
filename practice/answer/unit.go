package answer

import (
	"strings"

	"ionwright/sector"
)

// dimension is a family of units that turn into each other, with their sizes.
type dimension struct {
	name  string
	sizes map[string]float64
}

// dimensions is the visible list of the units that answers may have.
var dimensions = []dimension{
	{"field", map[string]float64{"T": 1, "tesla": 1, "mT": 1e-3, "µT": 1e-6, "G": 1e-4}},
	{"voltage", map[string]float64{"V": 1, "volt": 1, "volts": 1, "kV": 1e3, "mV": 1e-3}},
	{"length", map[string]float64{"m": 1, "dm": 0.1, "cm": 1e-2, "mm": 1e-3, "µm": 1e-6, "um": 1e-6, "nm": 1e-9}},
	{"time", map[string]float64{"s": 1, "ms": 1e-3, "µs": 1e-6, "us": 1e-6, "ns": 1e-9}},
	{"mass", map[string]float64{
		"kg": 1, "g": 1e-3, "mg": 1e-6, "u": float64(sector.Dalton), "Da": float64(sector.Dalton), "amu": float64(sector.Dalton),
		"kDa": 1e3 * float64(sector.Dalton),
	}},
	{"speed", map[string]float64{"m/s": 1, "km/s": 1e3, "m s^-1": 1, "m s-1": 1, "ms^-1": 1, "ms-1": 1, "cm/s": 1e-2}},
	{"energy", map[string]float64{"J": 1, "kJ": 1e3, "eV": sector.ElementaryCharge, "keV": 1e3 * sector.ElementaryCharge}},
	{"charge", map[string]float64{"C": 1, "e": sector.ElementaryCharge}},
	{"share", map[string]float64{"": 1, "%": 1e-2, "percent": 1e-2, "per cent": 1e-2, "ppm": 1e-6}},
	{"electric field", map[string]float64{"V/m": 1, "kV/m": 1e3, "V/cm": 1e2, "N/C": 1}},
	{"molar energy", map[string]float64{"kJ/mol": 1, "J/mol": 1e-3}},
}

// sizeOf finds a unit; the names of units keep their capitals, since mV and
// MV differ.
func sizeOf(unit string) (size float64, of string, known bool) {
	unit = strings.TrimSpace(strings.TrimRight(plain(unit), ". "))
	for _, d := range dimensions {
		if size, ok := d.sizes[unit]; ok {
			return size, d.name, true
		}
	}
	return 0, "", false
}

// KnownUnit tells whether answers can have the unit.
func KnownUnit(unit string) bool {
	_, _, ok := sizeOf(unit)
	return ok
}

// In returns the number in another unit, and false where the units measure
// different things or one isn't known. A unit spelled the same needs no
// table.
func (n Number) In(unit string) (float64, bool) {
	if n.Unit == unit {
		return n.Value, true
	}
	from, what, ok := sizeOf(n.Unit)
	to, other, ok2 := sizeOf(unit)
	if !ok || !ok2 || what != other {
		return 0, false
	}
	if from == to {
		return n.Value, true
	}
	return n.Value * from / to, true
}
