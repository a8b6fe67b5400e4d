package eval

import (
	"ionwright/sector"
)

var anyInstrument = Form{{"mz", "number or ion"}, {"instrument", "instrument"}}

// instrumentFunctions are the relations of a magnetic sector between m/z,
// field, accelerating voltage and path radius: m/z = e B²r² / (2 u V).
var instrumentFunctions = []Function{
	{
		Name: "field", Forms: []Form{anyInstrument, {{"mz", "number"}, {"volts", "number"}, {"radius", "number"}}},
		Result: "decimal", Kind: Field,
		Doc:     "The magnetic field in T at which ions of an m/z reach the detector; radius in m. An ion stands for its exact m/z.",
		Example: "field(43, marigold)", Prints: "0.239\u00a0T",
		bind: func(r *run, a args) (any, error) {
			mz, err := a.ionOrMZ(0)
			if err != nil {
				return nil, err
			}
			if n := a.instrument(1); n != nil {
				r.noteInstrument(n)
				return number64(n.of.Sector.Field(mz))
			}
			_, volts, radius, err := a.positives()
			if err != nil {
				return nil, err
			}
			return number64(sector.Field(mz, sector.Volt(volts), sector.Metre(radius)))
		},
	}, {
		Name: "voltage", Forms: []Form{{{"mz", "number"}, {"tesla", "number"}, {"radius", "number"}}}, Result: "decimal", Kind: Voltage,
		Doc:     "The accelerating voltage in V at which ions of an m/z follow a path of the radius (m) in a magnetic field (T).",
		Example: "voltage(72, 0.3, 0.25)", Prints: "3769\u00a0V",
		bind: func(_ *run, a args) (any, error) {
			mz, tesla, radius, err := a.positives()
			if err != nil {
				return nil, err
			}
			return number64(sector.Voltage(mz, sector.Tesla(tesla), sector.Metre(radius)))
		},
	}, {
		Name: "radius", Forms: []Form{{{"mz", "number"}, {"tesla", "number"}, {"volts", "number"}}}, Result: "decimal", Kind: Length,
		Doc:     "The radius in m of the path of ions of an m/z in a magnetic field (T) after acceleration by a voltage (V).",
		Example: "radius(72, 0.3, 4000)", Prints: "0.258\u00a0m",
		bind: func(_ *run, a args) (any, error) {
			mz, tesla, volts, err := a.positives()
			if err != nil {
				return nil, err
			}
			return number64(sector.Radius(mz, sector.Tesla(tesla), sector.Volt(volts)))
		},
	}, {
		Name: "mzAt", Forms: []Form{{{"tesla", "number"}, {"instrument", "instrument"}},
			{{"tesla", "number"}, {"volts", "number"}, {"radius", "number"}}},
		Result: "decimal", Kind: Plain,
		Doc:     "The m/z of the ions that reach the detector at a magnetic field (T); not rounded.",
		Example: "mzAt(0.3, marigold)", Prints: "67.84",
		bind: func(r *run, a args) (any, error) {
			tesla, err := a.positive(0)
			if err != nil {
				return nil, err
			}
			if n := a.instrument(1); n != nil {
				r.noteInstrument(n)
				return number64(n.of.Sector.MZ(sector.Tesla(tesla)))
			}
			_, volts, radius, err := a.positives()
			if err != nil {
				return nil, err
			}
			return number64(sector.MZ(sector.Tesla(tesla), sector.Metre(radius), sector.Volt(volts)))
		},
	}, {
		Name: "reaches", Forms: []Form{{{"mz", "number or ion"}, {"tesla", "number"}, {"instrument", "instrument"}}}, Result: "truth", Kind: Truth,
		Doc:     "Whether ions of an m/z pass the collector slit of an instrument at a magnetic field (T). An ion stands for its exact m/z.",
		Example: "reaches(43, 0.239, marigold)", Prints: "yes",
		bind: func(r *run, a args) (any, error) {
			mz, err := a.ionOrMZ(0)
			if err != nil {
				return nil, err
			}
			tesla, err := a.positive(1)
			if err != nil {
				return nil, err
			}
			n := a.instrument(2)
			r.noteInstrument(n)
			return n.of.Sector.Reaches(mz, sector.Tesla(tesla))
		},
	}, {
		Name: "wholeResolvingPower", Forms: []Form{{{"instrument", "instrument"}}}, Result: "decimal", Kind: ResolvingPower,
		Doc:     "The resolving power m/Δm of an instrument with everything that widens a peak added to its slits: errors of the image, and the spread of energies.",
		Example: "wholeResolvingPower(marigold)", Prints: "310",
		bind: func(r *run, a args) (any, error) {
			n := a.instrument(0)
			r.noteInstrument(n)
			b, err := n.of.Sector.Budget()
			return b.All, err
		},
	},
}

// number64 is a quantity as CEL has numbers.
func number64[Q ~float64](q Q, err error) (any, error) { return float64(q), err }

func (r *run) noteInstrument(n *Instrument) {
	s := n.of.Sector
	r.note("from the instrument %s: path radius %g m, accelerating voltage %g V", n.of.Key, float64(s.Radius), float64(s.Voltage))
}

// slitPower is the resolving power of an instrument, or of a radius with two
// slits.
func (r *run) slitPower(a args) (any, error) {
	if n := a.instrument(0); n != nil {
		r.noteInstrument(n)
		return number64(n.of.Sector.ResolvingPower())
	}
	radius, slit1, slit2, err := a.positives()
	if err != nil {
		return nil, err
	}
	const anyVoltage = 1000 // the slits' share doesn't depend on it
	return sector.Instrument{Radius: sector.Metre(radius), Voltage: anyVoltage, SourceSlit: sector.Metre(slit1), CollectorSlit: sector.Metre(slit2)}.ResolvingPower()
}

// ionOrMZ is an argument as an m/z: a number, or an ion for its exact one.
func (a args) ionOrMZ(i int) (float64, error) {
	if ion, ok := a[i].(Ion); ok {
		return ion.ExactMass, nil // ions of the engine carry one charge
	}
	return a.positive(i)
}
