package ionize

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"ionwright/mol"
)

// Breakdown is how the ions of a compound part at different electron
// energies: its breakdown curves.
type Breakdown struct {
	Mol      *mol.Mol
	Energies []float64 // of the electrons, eV
	// Ions are those that are detected at any of the energies, 0 the molecular
	// ion, then by falling greatest share; Abundance is that greatest share.
	Ions []Ion
	// Shares[i][k] is the share of Ions[i] of all ions at Energies[k], 0 to 1;
	// over all ions they add up to 1.
	Shares [][]float64
}

// BreakDown computes the ions at each of the electron energies, in eV. The
// steps are worked out once and the kinetics redone at each energy, which is
// much quicker than a [Predict] each. It gives the same within 3 % of all ions:
// the additive energy of some ions depends on which of two descriptions of one
// ion is met first. It fails as Predict does, and without an energy.
func BreakDown(ctx context.Context, m *mol.Mol, energies []float64) (*Breakdown, error) {
	if len(energies) == 0 {
		return nil, fmt.Errorf("computing breakdown curves: no electron energy is given")
	}
	out := &Breakdown{Mol: m, Energies: slices.Clone(energies)}
	var s *search
	var shares [][]float64 // by energy and node
	for _, eV := range energies {
		var err error
		if s, err = s.at(ctx, m, eV); err != nil {
			return nil, err
		}
		at := make([]float64, len(s.nodes))
		for id := range s.nodes {
			at[id] = s.nodes[id].stayed
		}
		shares = append(shares, at)
	}
	greatest := make([]float64, len(s.nodes))
	for _, at := range shares {
		for id, share := range at {
			greatest[id] = max(greatest[id], share)
		}
	}
	order := []int{0}
	for id := 1; id < len(s.nodes); id++ {
		if greatest[id] > 0 {
			order = append(order, id)
		}
	}
	slices.SortStableFunc(order[1:], func(a, b int) int { return cmp.Compare(greatest[b], greatest[a]) })
	for i, id := range order {
		n := &s.nodes[id]
		out.Ions = append(out.Ions, Ion{ID: i, Formula: s.m.formulaOf(&n.skeleton, 1), MZ: n.mass, Abundance: greatest[id], OddElectron: n.odd, skeleton: n.skeleton})
		curve := make([]float64, len(energies))
		for k, at := range shares {
			if id < len(at) { // later energies may have met more ions
				curve[k] = at[id]
			}
		}
		out.Shares = append(out.Shares, curve)
	}
	return out, nil
}

// at does the kinetics at an electron energy, on the search that has done
// them at another or, where it is nil, on a new one.
func (s *search) at(ctx context.Context, m *mol.Mol, eV float64) (*search, error) {
	if s == nil {
		prepared, err := prepare(m)
		if err != nil {
			return nil, err
		}
		s = newSearch(prepared, Settings{}, fitted())
		s.known = map[int32]workedOut{}
	}
	if err := s.m.checkEnergy(eV); err != nil {
		return nil, err
	}
	s.settings.EnergyEV = eV
	for id := range s.nodes {
		n := &s.nodes[id]
		n.arriving, n.arrived, n.stayed, n.queued = Distribution{}, 0, 0, false
	}
	s.flows, s.followed, s.flowing, s.familiar = s.flows[:0], 0, 0, 0
	if err := s.run(ctx); err != nil {
		return nil, fmt.Errorf("ionizing the structure: %w", err)
	}
	return s, nil
}

// checkEnergy returns an error for an electron energy, in eV, that the engine
// doesn't cover: one that doesn't ionize the molecule, or above highestEnergy.
func (m *molecule) checkEnergy(eV float64) error {
	if !(eV > 0) || eV > highestEnergy {
		return fmt.Errorf("ionizing the structure: an electron energy of %g eV is outside what the engine covers: above the ionization energy, up to %g eV", eV, float64(highestEnergy))
	}
	whole := m.whole()
	if ionization := m.energies(&whole).ionization; eV <= ionization {
		return fmt.Errorf("ionizing the structure: electrons of %g eV don't ionize it: its ionization energy is about %.1f eV; raise the electron energy", eV, ionization)
	}
	return nil
}

// highestEnergy of the electrons, in eV: what happens above isn't modelled.
const highestEnergy = 100

// workedOut are the steps of an ion, as many as mostChannels allowed.
type workedOut struct {
	most     int
	channels []channel
}

// offeredBy returns the steps of an ion, from those worked out before where
// they are enough.
func (s *search) offeredBy(id int32, here *node) []channel {
	if s.known == nil {
		return s.workOut(id, here)
	}
	before, most := s.known[id], s.mostChannels(here.arrived)
	if before.most < most {
		before = workedOut{most, slices.Clone(s.workOut(id, here))}
		s.known[id] = before
	}
	for i := range before.channels {
		before.channels[i].ions = 0
	}
	return before.channels
}

// Threshold returns the electron energy in eV at which the molecular ion of m
// begins to form: its ionization energy by the engine's additive scheme, good
// to some tenths of an eV for ordinary compounds. It fails for a structure that
// the rules don't cover.
func Threshold(m *mol.Mol) (float64, error) {
	prepared, err := prepare(m)
	if err != nil {
		return math.NaN(), err
	}
	whole := prepared.whole()
	return prepared.energies(&whole).ionization, nil
}
