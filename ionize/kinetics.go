package ionize

import "math"

// The internal energy of an ion is followed on a grid of levels.
const (
	Levels    = 20   // levels of internal energy
	LevelStep = 0.75 // eV between them; the first is half a step above zero
)

// Distribution is the number of ions at each level.
type Distribution [Levels]float64

func (d *Distribution) sum() float64 {
	total := 0.0
	for _, n := range d {
		total += n
	}
	return total
}

func (d *Distribution) scale(by float64) {
	for i := range d {
		d[i] *= by
	}
}

// level is the internal energy of a level in eV.
func level(i int) float64 { return (float64(i) + 0.5) * LevelStep }

// UsualEnergy is the electron energy in eV at which spectra are usually taken,
// and that the corrections were fitted at.
const UsualEnergy = 70

// Deposited is the internal energy that ionization by electrons of energy
// eV leaves in a molecular ion of the given ionization energy, normalised to
// one ion. Its form (a rise, then an exponential fall, cut off where the
// electron has no more to give) follows the shape found in charge-exchange and
// photoelectron work; the two constants are rough, from memory.
//
// The cut-off is linear at 70 eV. At another energy it changes with the power
// closing of what the electron has left over: each state of the ion is
// reached the more seldom the less the electron has beyond what the state
// takes (threshold laws have powers between 1 and 2; the value was chosen by
// the molecular ion's share in low-energy spectra of hash classes 1 to 3, and
// also stands for slower electrons than set; "go run ./bench energy" reports
// on class 4).
func Deposited(eV, ionization float64) Distribution {
	var d Distribution
	for i := range d {
		d[i] = density(level(i), eV, ionization)
	}
	total := d.sum()
	if total == 0 { // at the threshold: all ions cold
		d[0] = 1
		return d
	}
	for i := range d {
		d[i] /= total
	}
	return d
}

// density is the distribution of Deposited at the internal energy e in eV, not
// normalised.
func density(e, eV, ionization float64) float64 {
	const rise, fall, closing = 1.0, 2.0, 1.5 // exponent; eV; exponent
	left := 1 - e/(eV-ionization)
	if left <= 0 {
		return 0
	}
	usual := 1 - e/(UsualEnergy-ionization)
	return math.Pow(e, rise) * math.Exp(-e/fall) * usual * math.Pow(left/usual, closing)
}

// Arriving is how the molecular ions of one compound set out: those with energy
// to break, by level, and the share of those without, of one ion together.
func Arriving(eV, ionization float64) (d Distribution, still float64) {
	d, still = Deposited(eV, ionization), undecaying(eV, ionization)
	d.scale(1 - still)
	return d, still
}

// Warmth says, from the properties of a molecule, how much more energy
// ionization leaves in its ions than Deposited has it, in 1/eV: each level's
// share is raised by the exponential of warmth times its energy. The first
// number is for all molecules.
type Warmth [NumProperties + 1]float32

// MostWarmth is the most of it, either way.
const MostWarmth = 0.4

// Of is the warmth of the molecule with the properties.
func (w *Warmth) Of(t *Properties) float64 {
	sum := w[0]
	for k, v := range t {
		sum += w[k+1] * v
	}
	return float64(min(max(sum, -MostWarmth), MostWarmth))
}

// Warm raises the higher levels' shares by the warmth; as many ions stay.
func (d *Distribution) Warm(warmth float64) {
	before := d.sum()
	for i := range d {
		d[i] *= math.Exp(warmth * level(i))
	}
	if after := d.sum(); after > 0 {
		d.scale(before / after)
	}
}

// cold is the internal energy in eV below which a molecular ion doesn't break.
const cold = 0.25

// undecaying is the share of the molecular ions, 0 to 1, that are cold with
// electrons of energy eV and aren't with those of 70 eV. The levels are too
// wide to show it: the lowest spans 0 to 0.75 eV, and what of it breaks at
// 70 eV was fitted. Towards the ionization energy it goes to 1.
func undecaying(eV, ionization float64) float64 {
	part := func(eV float64) float64 {
		const step = 0.01 // eV
		below, all := 0.0, 0.0
		for k := range int(Levels * LevelStep / step) {
			e := (float64(k) + 0.5) * step
			n := density(e, eV, ionization)
			if all += n; e < cold {
				below += n
			}
		}
		if all == 0 {
			return 1
		}
		return below / all
	}
	if eV >= UsualEnergy {
		return 0
	}
	usual := part(UsualEnergy)
	return max(0, (part(eV)-usual)/(1-usual))
}

// Residence is the mean time an ion stays in the source, in seconds; common
// practice for an electron-ionization source.
const Residence = 2e-6

// oscillators is the effective number of oscillators of an ion with n atoms in
// the classical RRK rate: a part of the true number, since high-frequency
// vibrations hold little energy (common practice, no source). The bound keeps
// large ions from needing energies that no measured breakdown shows.
func oscillators(atoms int) float64 {
	return min(max(1.5, 0.35*float64(3*atoms-6)), 25)
}

// rate is the RRK rate constant in 1/s at internal energy e for a step of
// critical energy e0 (eV): frequency × (1 - e0/e)^(s-1), the frequency given
// as its natural logarithm.
func rate(lnFrequency, e0, e, s float64) float64 {
	if e <= e0 {
		return 0
	}
	return math.Exp(lnFrequency + (s-1)*math.Log(1-e0/e))
}

// kept is the share of the energy left after a step that stays with the ion,
// by its share of the atoms.
func kept(ionAtoms, neutralAtoms int) float64 {
	return float64(3*ionAtoms) / float64(3*(ionAtoms+neutralAtoms))
}

// deposit adds n ions of energy e to the distribution, parted between the two
// levels around it.
func (d *Distribution) deposit(e, n float64) {
	x := e/LevelStep - 0.5
	switch {
	case x <= 0:
		d[0] += n
	case x >= Levels-1:
		d[Levels-1] += n
	default:
		i := int(x)
		f := x - float64(i)
		d[i] += n * (1 - f)
		d[i+1] += n * f
	}
}

// survival is the share of ions that leave the source undecayed when they
// decay at a total rate k (1/s) and leave at random after Residence on the
// average.
func survival(k float64) float64 { return 1 / (1 + k*Residence) }
