package sector

import (
	"math"
	"slices"
)

// Presets returns three instruments of our own to start from: a small one for
// teaching, whose beam flies half a circle; a single-focusing one of 60
// degrees; and a double-focusing one with an electric sector before the magnet.
// They are typical, and no copy of any maker's.
func Presets() []Instrument {
	degrees := func(n float64) Radian { return Radian(n * math.Pi / 180) } // as a description is read
	return []Instrument{
		{
			Name:          "half circle, for teaching",
			Radius:        0.10,
			Voltage:       1000,
			SourceSlit:    0.0002,
			CollectorSlit: 0.0002,
			Divergence:    0.01,
			EnergySpread:  0.2,
			Temperature:   500,
			MaxField:      0.8,
			Chamber:       0.03,
		},
		{
			Name:          "60 degrees, single focusing",
			Radius:        0.25,
			Voltage:       4000,
			SourceSlit:    0.0001,
			CollectorSlit: 0.0001,
			Angle:         degrees(60),
			Before:        0.433,
			Divergence:    0.005,
			EnergySpread:  1,
			Temperature:   500,
			MaxField:      1.2,
			Gap:           0.015,
			Chamber:       0.04,
		},
		{
			Name:          "double focusing",
			Radius:        0.15,
			Voltage:       4000,
			SourceSlit:    0.00002,
			CollectorSlit: 0.00002,
			Angle:         degrees(60),
			Before:        0.15,
			Divergence:    0.003,
			EnergySpread:  2,
			Temperature:   500,
			MaxField:      1.4,
			Gap:           0.012,
			Chamber:       0.03,
			Electric: &ElectricSector{
				Radius:  0.19,
				Angle:   degrees(90),
				Between: 0.29037, // EnergyFocus
				Gap:     0.02,
			},
		},
	}
}

// PresetNames returns the names by which Preset knows the instruments of
// Presets, in the same order.
func PresetNames() []string { return []string{"half-circle", "60-degrees", "double-focusing"} }

// Preset returns the preset with one of PresetNames, and false for another
// name.
func Preset(name string) (Instrument, bool) {
	k := slices.Index(PresetNames(), name)
	if k < 0 {
		return Instrument{}, false
	}
	return Presets()[k], true
}
