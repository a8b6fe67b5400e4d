// Package sector computes what a magnetic-sector mass spectrometer does with a
// beam of ions: radius, field, voltage and m/z in closed form, which ions reach
// the collector at each field of a sweep, and the trace that is recorded. It
// knows nothing of how the ions were made, so measured or typed ions fly too.
//
// For most uses call Field, Radius, Voltage, MZ and Velocity for single numbers,
// and Sweep with an Instrument for a trace; Centroids makes a spectrum of a
// trace again. Speeds are small against light: nothing is relativistic, and
// settings for which that would be wrong are refused.
//
// The relations are those of every textbook: an ion of charge z e is
// accelerated by the voltage V, z e V = m v^2 / 2, and bent by the field B,
// m v^2 / r = z e v B, so that m/z = e B^2 r^2 / (2 V u).
//
// Settings that can't be give a *SettingError with the setting's name, its
// value and the reason; results are never NaN.
package sector

import (
	"fmt"
	"math"
	"strconv"
)

// Units of the quantities that cross this package's border.
type (
	Volt           float64 // V
	Tesla          float64 // T
	Metre          float64 // m
	Second         float64 // s
	MetrePerSecond float64 // m/s
	VoltPerMetre   float64 // V/m
	Kilogram       float64 // kg
	Radian         float64 // rad
	Kelvin         float64 // K
)

// Constants of nature, CODATA 2022 (Mohr et al., Rev. Mod. Phys. 97 (2025)
// 025002); the elementary charge and the speed of light are exact by the
// definition of the SI units.
const (
	Dalton           Kilogram       = 1.66053906892e-27 // kg, uncertainty 0.00000000052e-27
	ElementaryCharge                = 1.602176634e-19   // C, exact
	SpeedOfLight     MetrePerSecond = 299792458         // m/s, exact
)

// boltzmann is the Boltzmann constant over the elementary charge in V/K, both
// exact by the definition of the SI units.
const boltzmann = 1.380649e-23 / ElementaryCharge

// Caution is what must be said wherever the hardware is described.
const Caution = "A mass spectrometer works with high voltage, evacuated vessels that can implode, " +
	"strong magnets (keep pacemakers, tools and cards away), hot parts, and often toxic or flammable samples. " +
	"What is shown here is a computation for teaching, no instruction for building or opening an instrument: " +
	"real work follows local rules and is done by or with trained staff."

// SettingError is a setting or quantity that can't be.
type SettingError struct {
	Name  string  // what it is, such as "accelerating voltage"
	Value float64 // in Unit
	Unit  string  // may be empty
	Why   string  // why it can't be and what to do
}

// Error returns name, value and reason.
func (e *SettingError) Error() string {
	value := strconv.FormatFloat(e.Value, 'g', 6, 64)
	if e.Unit != "" {
		value += " " + e.Unit
	}
	return fmt.Sprintf("%s of %s: %s", e.Name, value, e.Why)
}

// quantity is a number with what it is called in an error.
type quantity struct {
	name  string
	value float64
	unit  string
	why   string
}

func voltage(v Volt) quantity {
	return quantity{"accelerating voltage", float64(v), "V", "without a positive accelerating voltage the ions don't leave the source"}
}

func field(b Tesla) quantity {
	return quantity{"magnetic field", float64(b), "T", "without a positive field the ions fly straight on and nothing is separated"}
}

func radius(r Metre) quantity {
	return quantity{"radius", float64(r), "m", "the radius of a path is positive"}
}

func massToCharge(mz float64) quantity {
	return quantity{"m/z", mz, "", "an ion has a positive m/z"}
}

func mass(m Kilogram) quantity {
	return quantity{"mass", float64(m), "kg", "an ion has a positive mass"}
}

func charge(z int) quantity {
	return quantity{"charge number", float64(z), "", "an ion of this instrument has one positive charge or more"}
}

func velocity(v MetrePerSecond) quantity {
	return quantity{"velocity", float64(v), "m/s", "an ion that is to be bent moves forward"}
}

func length(name string, l Metre) quantity {
	return quantity{name, float64(l), "m", "a length is positive"}
}

// check returns an error for the first quantity that isn't positive and finite.
func check(quantities ...quantity) error {
	for _, q := range quantities {
		if q.value > 0 && !math.IsInf(q.value, 0) {
			continue
		}
		why := q.why
		if math.IsNaN(q.value) || math.IsInf(q.value, 0) {
			why = "expected a finite number"
		}
		return &SettingError{q.name, q.value, q.unit, why}
	}
	return nil
}

// result checks a computed value: positive settings can still be so far out
// that no number holds what they give.
func result(name string, value float64, unit string) error {
	if value > 0 && !math.IsInf(value, 0) {
		return nil
	}
	return &SettingError{name, value, unit, "the settings are so large or small that no number holds the result; check their units"}
}

// slow refuses a speed at which formulas without relativity are off by more
// than half a percent.
func slow(v MetrePerSecond) error {
	if v > SpeedOfLight/10 {
		return &SettingError{"velocity", float64(v), "m/s", "more than a tenth of the speed of light; the formulas here leave relativity out, so lower the voltage"}
	}
	return nil
}

// error is the error for a quantity that can't be.
func (q quantity) error() error { return &SettingError{q.name, q.value, q.unit, q.why} }

// orZero is check for a quantity that may be zero too.
func (q quantity) orZero() error {
	if q.value == 0 {
		return nil
	}
	return check(q)
}
