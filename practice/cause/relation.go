package cause

import (
	"fmt"
	"math"

	"ionwright/sector"
)

// Relation is a quantity as a product of powers of others, in SI units:
// with it, slips of units and of rearranging are computed.
type Relation struct {
	Name  string // "the field"
	Terms []Term
}

// Term is a factor of a relation.
type Term struct {
	Name  string // "the accelerating voltage"
	Value float64
	Power float64
	// Given is the size of the unit in which the question gives the value
	// (1000 for kV); 1 or 0 where it is the SI unit or a plain number.
	Given float64
	// Role says what else can be forgotten about it.
	Role Role
}

// Role is what kind of factor a term is.
type Role uint8

// The roles.
const (
	Quantity   Role = iota
	Dalton          // turns a mass in Da into kg
	KineticTwo      // the 2 of m v^2 / 2
	Elementary      // the elementary charge
)

// Value returns the product.
func (r Relation) Value() float64 {
	v := 1.0
	for _, t := range r.Terms {
		v *= math.Pow(t.Value, t.Power)
	}
	return v
}

const avogadro = 6.02214076e23 // 1/mol, exact by the definition of the SI units

// slips are the values that a forgotten conversion or operation gives.
func (r Relation) slips() []Mistake {
	right := r.Value()
	within := 0.005 * abs(right)
	var out []Mistake
	add := func(factor float64, because string) {
		v := right * factor
		if abs(v-right) > 4*within && !math.IsInf(v, 0) && v != 0 {
			out = append(out, number(v, 0.005*abs(v), because))
		}
	}
	rooted := false
	for _, t := range r.Terms {
		switch t.Role {
		case Dalton:
			add(math.Pow(t.Value, -t.Power), "the mass was left in u; SI units need kg")
			add(math.Pow(1e3, t.Power), "the mass was taken in g; SI units need kg")
			add(math.Pow(avogadro, t.Power), "the molar mass was used without dividing by the Avogadro constant")
			add(math.Pow(1e3*avogadro, t.Power), "the molar mass in g was used for the mass of one ion")
		case KineticTwo:
			add(math.Pow(t.Value, -t.Power), "the factor ½ of the kinetic energy was left out")
		case Elementary:
			add(math.Pow(t.Value, -t.Power), "the charge was taken as a number of charges and not in coulomb")
		default:
			if t.Given != 0 && t.Given != 1 {
				add(math.Pow(t.Given, -t.Power), fmt.Sprintf("%s was used without turning its unit into the SI unit", t.Name))
				add(math.Pow(t.Given, t.Power), fmt.Sprintf("the unit of %s was converted twice or the wrong way round", t.Name))
			}
			if t.Power == 2 {
				add(1/t.Value, fmt.Sprintf("%s wasn't squared", t.Name))
			}
		}
		rooted = rooted || abs(t.Power) == 0.5
	}
	if rooted {
		whole := 1.0
		for _, t := range r.Terms {
			p := t.Power
			if abs(p) == 0.5 {
				p *= 2
			}
			whole *= math.Pow(t.Value, p)
		}
		add(whole/right, "the square root wasn't taken")
		add(right, "the square root wasn't taken")
	}
	add(1e3, "the result is a thousand times too large")
	add(1e-3, "the result is a thousand times too small")
	return out
}

// FieldFor is the field in T that brings an ion of m/z mz to the collector,
// by m/z = e B^2 r^2 / (2 V u); the voltage is given in kV and the radius in
// cm where kilo and centi say so.
func FieldFor(mz, radius, volt float64, centi, kilo bool) Relation {
	r := Relation{"the field", []Term{
		{Name: "the kinetic energy's factor", Value: 2, Power: 0.5, Role: KineticTwo},
		{Name: "the mass", Value: float64(sector.Dalton), Power: 0.5, Role: Dalton},
		{Name: "m/z", Value: mz, Power: 0.5},
		{Name: "the accelerating voltage", Value: volt, Power: 0.5, Given: 1},
		{Name: "the elementary charge", Value: sector.ElementaryCharge, Power: -0.5, Role: Elementary},
		{Name: "the radius", Value: radius, Power: -1, Given: 1},
	}}
	if kilo {
		r.Terms[3].Given = 1e3
	}
	if centi {
		r.Terms[5].Given = 1e-2
	}
	return r
}

// MZFor is the m/z that a field b (T), radius (m) and voltage (V) bring to the
// collector.
func MZFor(b, radius, volt float64, centi, kilo bool) Relation {
	r := Relation{"m/z", []Term{
		{Name: "the field", Value: b, Power: 2},
		{Name: "the radius", Value: radius, Power: 2, Given: 1},
		{Name: "the elementary charge", Value: sector.ElementaryCharge, Power: 1, Role: Elementary},
		{Name: "the kinetic energy's factor", Value: 2, Power: -1, Role: KineticTwo},
		{Name: "the accelerating voltage", Value: volt, Power: -1, Given: 1},
		{Name: "the mass", Value: float64(sector.Dalton), Power: -1, Role: Dalton},
	}}
	if centi {
		r.Terms[1].Given = 1e-2
	}
	if kilo {
		r.Terms[4].Given = 1e3
	}
	return r
}

// SpeedFor is the speed in m/s of an ion of mass m (Da) and z charges after a
// voltage, from z e V = m v^2 / 2.
func SpeedFor(mass float64, z int, volt float64, kilo bool) Relation {
	r := Relation{"the speed", []Term{
		{Name: "the kinetic energy's factor", Value: 2, Power: 0.5, Role: KineticTwo},
		{Name: "the number of charges", Value: float64(z), Power: 0.5},
		{Name: "the elementary charge", Value: sector.ElementaryCharge, Power: 0.5, Role: Elementary},
		{Name: "the accelerating voltage", Value: volt, Power: 0.5, Given: 1},
		{Name: "the mass", Value: float64(sector.Dalton), Power: -0.5, Role: Dalton},
		{Name: "the mass number", Value: mass, Power: -0.5},
	}}
	if kilo {
		r.Terms[3].Given = 1e3
	}
	return r
}

// FlightFor is the time in s that an ion of mass m (Da) with the kinetic
// energy energy (J) takes through a field-free tube of length (m):
// t = length sqrt(m / (2 energy)).
func FlightFor(mass, energy, length float64) Relation {
	return Relation{"the time of flight", []Term{
		{Name: "the length of the tube", Value: length, Power: 1},
		{Name: "the mass", Value: float64(sector.Dalton), Power: 0.5, Role: Dalton},
		{Name: "the mass number", Value: mass, Power: 0.5},
		{Name: "the kinetic energy's factor", Value: 2, Power: -0.5, Role: KineticTwo},
		{Name: "the kinetic energy", Value: energy, Power: -0.5},
	}}
}
