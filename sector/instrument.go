package sector

import (
	"math"
)

// Instrument is a magnetic-sector instrument: source slit, drift, magnet,
// drift, collector slit. The zero Angle is the half circle with both slits at
// the edge of the field; then Radius, Voltage and CollectorSlit suffice.
type Instrument struct {
	Name          string
	Radius        Metre           // of the central path in the magnet
	Voltage       Volt            // accelerates the ions
	SourceSlit    Metre           // width; 0 is a point
	CollectorSlit Metre           // width
	Angle         Radian          // that the magnet bends the central path; 0 is half a circle
	Before        Metre           // source slit to the first field
	After         Metre           // magnet to collector slit; 0 is where the image forms
	EntryFace     Radian          // tilt of the entry face; positive focuses along the field, 0 is normal entry
	ExitFace      Radian          // tilt of the exit face
	Divergence    Radian          // half the angle of the beam from the source slit
	EnergySpread  Volt            // full width of the energies, as the voltage that gives them
	Temperature   Kelvin          // of the source, whose thermal energies add up; 0 is none
	MaxField      Tesla           // that the magnet reaches; 0 is no limit
	Gap           Metre           // between the poles, over which the field's edge falls off; 0 is a sharp edge
	Pressure      Pascal          // of residual gas, which scatters ions out of the beam; 0 is none
	Chamber       Metre           // width of the flight tube in the magnet and behind it; 0 is as wide as needed
	Electric      *ElectricSector // before the magnet; nil is single focusing
	Detector      Detector
}

// bend is Angle with its default.
func (i Instrument) bend() float64 {
	if i.Angle == 0 {
		return math.Pi
	}
	return float64(i.Angle)
}

// Check returns an error that names the first setting that can't be and why.
func (i Instrument) Check() error {
	if err := check(radius(i.Radius), voltage(i.Voltage),
		quantity{"collector slit", float64(i.CollectorSlit), "m", "through a closed slit no ion reaches the detector"}); err != nil {
		return err
	}
	for _, q := range []quantity{
		{"source slit", float64(i.SourceSlit), "m", "a width is zero or more"},
		{"drift before the magnet", float64(i.Before), "m", "a length is zero or more"},
		{"drift after the magnet", float64(i.After), "m", "a length is zero or more; 0 puts the collector where the image forms"},
		{"divergence", float64(i.Divergence), "rad", "half an angle is zero or more"},
		{"energy spread", float64(i.EnergySpread), "V", "a width is zero or more"},
		{"source temperature", float64(i.Temperature), "K", "a temperature is zero or more"},
		{"gap between the poles", float64(i.Gap), "m", "a width is zero or more"},
		{"residual pressure", float64(i.Pressure), "Pa", "a pressure is zero or more"},
		{"chamber width", float64(i.Chamber), "m", "expected a width, or 0 for as wide as needed"},
		{"largest field", float64(i.MaxField), "T", "expected a field, or 0 for no limit"},
	} {
		if !(q.value >= 0) || math.IsInf(q.value, 0) {
			return &SettingError{q.name, q.value, q.unit, q.why}
		}
	}
	switch angle := i.bend(); {
	case !(angle > 0) || angle > math.Pi:
		return &SettingError{"magnet angle", angle, "rad", "a sector bends the beam by more than 0 and at most half a circle (3.14159 rad)"}
	case math.Abs(float64(i.EntryFace)) >= math.Pi/2 || math.IsNaN(float64(i.EntryFace)):
		return &SettingError{"tilt of the entry face", float64(i.EntryFace), "rad", "a face is tilted by less than a right angle"}
	case math.Abs(float64(i.ExitFace)) >= math.Pi/2 || math.IsNaN(float64(i.ExitFace)):
		return &SettingError{"tilt of the exit face", float64(i.ExitFace), "rad", "a face is tilted by less than a right angle"}
	case i.Divergence >= 0.5:
		return &SettingError{"divergence", float64(i.Divergence), "rad", "so wide a beam isn't near the central path any more; expected less than 0.5 rad"}
	case i.EnergySpread >= i.Voltage:
		return &SettingError{"energy spread", float64(i.EnergySpread), "V", "as much as the accelerating voltage; expected far less"}
	case i.SourceSlit >= i.Radius || i.CollectorSlit >= i.Radius:
		return &SettingError{"slit", float64(max(i.SourceSlit, i.CollectorSlit)), "m", "a slit as wide as the radius separates nothing"}
	case i.Chamber >= 2*i.Radius:
		return &SettingError{"chamber width", float64(i.Chamber), "m", "wider than the circle of the path; expected less than twice the radius"}
	case i.Gap >= i.Radius:
		return &SettingError{"gap between the poles", float64(i.Gap), "m", "as wide as the radius, so the field would be all edge"}
	case Volt(boltzmann*float64(i.Temperature)) >= i.Voltage:
		return &SettingError{"source temperature", float64(i.Temperature), "K", "so hot that thermal energy is as large as that of acceleration"}
	}
	if i.Electric != nil {
		if err := i.Electric.check(); err != nil {
			return err
		}
	}
	if err := i.Detector.check(); err != nil {
		return err
	}
	_, err := i.optics()
	return err
}

// Field returns the field that brings ions of this m/z down the central path.
// It fails above MaxField.
func (i Instrument) Field(mz float64) (Tesla, error) {
	b, err := Field(mz, i.Voltage, i.Radius)
	if err == nil && i.MaxField > 0 && b > i.MaxField {
		return b, &SettingError{"magnetic field", float64(b), "T", "more than the magnet reaches for this m/z; lower the voltage, or take a stronger magnet or a larger radius"}
	}
	return b, err
}

// MZ returns the m/z that flies down the central path in the field b.
func (i Instrument) MZ(b Tesla) (float64, error) { return MZ(b, i.Radius, i.Voltage) }

// Reaches reports whether any of the ions of this m/z get through the
// collector slit in the field b.
func (i Instrument) Reaches(mz float64, b Tesla) (bool, error) {
	share, err := i.Share(mz, b)
	return share > 0, err
}

// Share returns the share, 0 to 1, of the ions of this m/z that get through
// the collector slit in the field b.
func (i Instrument) Share(mz float64, b Tesla) (float64, error) {
	s, err := i.ready()
	if err != nil {
		return 0, err
	}
	if err := check(massToCharge(mz), field(b)); err != nil {
		return 0, err
	}
	center, err := i.MZ(b)
	return s.share(deviation(mz, center)), err
}

// deviation is the relative excess of an ion's momentum over that of the ion
// on the central path, the energies being the same.
func deviation(mz, center float64) float64 { return math.Sqrt(mz/center) - 1 }

// ResolvingPower returns m over the width of a peak at its base, which two
// slits leave:
//
//	R = dispersion / (2 (magnification source slit + collector slit))
//
// that is r / (s1 + s2) for a symmetric instrument. It leaves out what
// divergence and energy spread add.
func (i Instrument) ResolvingPower() (float64, error) {
	if err := i.Check(); err != nil {
		return 0, err
	}
	o, err := i.optics()
	if err != nil {
		return 0, err
	}
	return math.Abs(o.dispersion) / 2 / (math.Abs(o.magnification)*float64(i.SourceSlit) + float64(i.CollectorSlit)), nil
}
