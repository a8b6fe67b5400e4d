package sector

// Dwell is one stop of peak switching.
type Dwell struct {
	MZ      float64 // that the field is set for
	Field   Tesla
	Current float64 // that reaches the collector, in the unit of Ion.Intensity
}

// Switch returns, for each selected m/z, the ion current that reaches the
// collector when the field is set for it: peak switching, or selected-ion
// monitoring. Ions that the slits let in beside it count too, and so do
// metastable ions. It fails like Sweep.
func Switch(i Instrument, ions []Ion, decays []Decay, selected []float64) ([]Dwell, error) {
	s, err := i.readyFor(ions, decays)
	if err != nil {
		return nil, err
	}
	if len(selected) == 0 {
		return nil, &SettingError{"number of selected ions", 0, "", "there is nothing to switch to"}
	}
	out := make([]Dwell, len(selected))
	for at, mz := range selected {
		b, err := i.Field(mz)
		if err != nil {
			return nil, err
		}
		out[at] = Dwell{MZ: mz, Field: b}
		for _, ion := range ions {
			out[at].Current += ion.Intensity * s.share(deviation(ion.MZ, mz))
		}
		for _, d := range decays {
			out[at].Current += d.Intensity * s.shareAround(deviation(d.apparent(), mz), d.spread(i.Voltage))
		}
	}
	return out, nil
}
