// Package ionize goes from a structure to the ions that electron ionization
// makes of it, with the steps that lead to each.
//
// For most uses call [Predict] and then [Prediction.Spectrum],
// [Prediction.At] and [Prediction.Route].
//
// An ion is a skeleton: which atoms it holds, which are joined, and how many
// hydrogens each carries; resonance forms of one ion are one skeleton. Steps
// are offered by families of rules (see families in expand.go), each with a
// kind from [Kinds]. Critical energies come from additive bond and ionization
// energies (handbook.go), rates from the classical RRK expression at each
// level of internal energy, and the flow of ions is followed from the
// molecular ion down until too few arrive.
//
// The fitted corrections (corrections.bin, features.go) move critical energies
// and frequency factors by what a step's surroundings say; without evidence
// they stay at the handbook value. Bonds that a rearrangement forms are limited
// to ring closures, extrusions, the nitro-nitrite rearrangement and the
// migration of silyl groups and halogens; ions are singly charged.
package ionize

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"ionwright/chem"
	"ionwright/isotope"
	"ionwright/mol"
	"ionwright/spectrum"
)

// Settings are the conditions of an ionization. The zero value means 70 eV.
type Settings struct {
	EnergyEV float64 // energy of the ionizing electrons in eV, up to 100
}

// Prediction is what became of the molecular ions of one compound.
type Prediction struct {
	Mol      *mol.Mol
	Settings Settings
	Ions     []Ion  // 0 is the molecular ion; then by falling abundance
	Steps    []Step // by falling flow
	// Known is the share, 0 to 1, of what describes the steps taken that the fit
	// has seen in other compounds, weighted by the ions that take them.
	Known float64
	// Confidence is what to expect of the match with a measurement, as a cosine
	// of square roots of intensities (see confidence.go).
	Confidence float64
	molecule   *molecule
}

// Ion is one ion of a prediction.
type Ion struct {
	ID          int
	Formula     chem.Formula // charge included
	MZ          int          // nominal, of the isotopologue of principal isotopes
	Abundance   float64      // ions of this kind that are detected, of all molecular ions formed: 0 to 1
	OddElectron bool
	skeleton    skeleton
}

// Step is an elementary step from one ion to another.
type Step struct {
	Kind     Kind
	From, To int          // indices into Ions
	Loss     chem.Formula // of the neutral
	Flow     float64      // ions that take the step, of all molecular ions formed
	Critical float64      // critical energy used, eV
	taken    *proposal    // what moved, for the movement of its electrons
}

// Predict follows the molecular ion of m down to the ions that are detected.
//
// It fails with a *StructureError for a structure the rules don't cover, and
// with an error for an energy that isn't above the ionization energy or is
// above 100 eV. When ctx is cancelled it stops and returns the context's
// error.
func Predict(ctx context.Context, m *mol.Mol, settings Settings) (*Prediction, error) {
	if settings.EnergyEV == 0 {
		settings.EnergyEV = UsualEnergy
	}
	prepared, err := prepare(m)
	if err != nil {
		return nil, err
	}
	if err := prepared.checkEnergy(settings.EnergyEV); err != nil {
		return nil, err
	}
	s := newSearch(prepared, settings, fitted())
	defer s.release()
	if err := s.run(ctx); err != nil {
		return nil, fmt.Errorf("ionizing the structure: %w", err)
	}
	return s.prediction(m), nil
}

// prediction keeps the ions that are detected or passed through, by falling
// abundance, and the steps between them.
func (s *search) prediction(m *mol.Mol) *Prediction {
	order := s.listed()
	p := &Prediction{Mol: m, Settings: s.settings, molecule: s.m}
	if s.flowing > 0 {
		p.Known = s.familiar / s.flowing
	}
	p.Confidence = confidence(p.Known, s.nodes[0].mass)
	place := make([]int, len(s.nodes))
	formulas := make([]chem.Formula, len(s.list)) // of the pieces; empty until asked for
	p.Ions = make([]Ion, 0, len(order))
	for i, id := range order {
		n := &s.nodes[id]
		place[id] = i
		formula := s.formula(formulas, n.id).WithCharge(1)
		p.Ions = append(p.Ions, Ion{ID: i, Formula: formula, MZ: n.mass, Abundance: n.stayed, OddElectron: n.odd, skeleton: n.skeleton})
	}
	byFlow := make([]ranked, len(s.flows))
	for i := range byFlow {
		byFlow[i] = ranked{s.flows[i].ions, int32(i)}
	}
	slices.SortFunc(byFlow, ranked.compare)
	p.Steps = make([]Step, 0, len(s.flows))
	taken := make([]proposal, len(s.flows))
	for i, rank := range byFlow {
		f := &s.flows[rank.at]
		taken[i] = f.proposal
		var loss chem.Formula
		if f.gone > 0 {
			loss = lostHydrogen(&s.nodes[f.from].skeleton, &f.ion)
		} else {
			loss = s.formula(formulas, f.lost)
		}
		p.Steps = append(p.Steps, Step{Kind: f.kind, From: place[f.from], To: place[f.to], Loss: loss, Flow: f.ions, Critical: f.e0, taken: &taken[i]})
	}
	return p
}

// formula is that of the piece, as a neutral; known are those asked for before.
func (s *search) formula(known []chem.Formula, piece int32) chem.Formula {
	if f := &known[piece]; f.IsEmpty() {
		*f = s.m.formulaOf(&s.list[piece].skeleton, 0)
	}
	return known[piece]
}

// ranked is a place in some list with what the list is to be sorted by.
type ranked struct {
	by float64
	at int32
}

// compare sorts the highest first, and equals as they stood.
func (a ranked) compare(b ranked) int {
	switch {
	case a.by > b.by:
		return -1
	case a.by < b.by:
		return 1
	}
	return cmp.Compare(a.at, b.at)
}

// listed are the nodes that are detected or passed through: the molecular ion,
// then by falling abundance. A node's place in the list is the ID of its ion.
func (s *search) listed() []int32 {
	var ranks []ranked
	for id := range s.nodes {
		if id == 0 || s.nodes[id].queued {
			ranks = append(ranks, ranked{s.nodes[id].stayed, int32(id)})
		}
	}
	slices.SortFunc(ranks[1:], ranked.compare)
	order := make([]int32, len(ranks))
	for i, rank := range ranks {
		order[i] = rank.at
	}
	return order
}

// lostHydrogen is the H, H2, HD or D2 between two skeletons.
func lostHydrogen(before, after *skeleton) chem.Formula {
	protium, deuterium := 0, 0
	for rest := before.atoms; rest != 0; rest &= rest - 1 {
		i := rest.first()
		protium += before.protium(i) - after.protium(i)
		deuterium += before.deuterium(i) - after.deuterium(i)
	}
	return hydrogenFormulas[protium][deuterium]
}

// hydrogenFormulas are those of H, H2, HD and D2, by protium and deuterium.
var hydrogenFormulas = func() (table [3][3]chem.Formula) {
	for protium := range table {
		for deuterium := range table {
			table[protium][deuterium] = of(chem.NaturalSpecies(chem.H), protium).Plus(of(chem.LabelledSpecies(chem.H, 2), deuterium))
		}
	}
	return table
}()

// MolecularIon returns the molecular ion.
func (p *Prediction) MolecularIon() Ion { return p.Ions[0] }

// At returns the ions of the given nominal m/z, the most abundant first.
func (p *Prediction) At(mz int) []Ion {
	var ions []Ion
	for _, ion := range p.Ions {
		if ion.MZ == mz && ion.Abundance > 0 {
			ions = append(ions, ion)
		}
	}
	slices.SortStableFunc(ions, func(a, b Ion) int {
		switch {
		case a.Abundance > b.Abundance:
			return -1
		case a.Abundance < b.Abundance:
			return 1
		}
		return 0
	})
	return ions
}

// Route returns the steps by which most ions of the kind reach it, from the
// molecular ion on: at each ion back, the source that gives most. It is empty
// for the molecular ion.
func (p *Prediction) Route(ion int) []Step {
	var back []Step
	for at := ion; at != 0; {
		best := -1
		for i, step := range p.Steps { // by falling flow
			if step.To == at {
				best = i
				break
			}
		}
		if best < 0 {
			return nil
		}
		back = append(back, p.Steps[best])
		at = p.Steps[best].From
	}
	slices.Reverse(back)
	return back
}

// The measured spectra that the corrections are fitted to say little below
// m/z 29, since most of them start between 27 and 45. So the computed spectrum
// of a compound of at least lightMass starts at firstMZ, as a scan would that
// keeps clear of air and water.
const (
	firstMZ   = 26
	lightMass = 45 // Da
)

// compositions sums the ions up by formula, in the order of the ions.
func (p *Prediction) compositions() (abundance map[chem.Formula]float64, order []chem.Formula) {
	abundance = map[chem.Formula]float64{}
	for _, ion := range p.Ions {
		if ion.Abundance < 1e-7 {
			continue
		}
		if _, known := abundance[ion.Formula]; !known {
			order = append(order, ion.Formula)
		}
		abundance[ion.Formula] += ion.Abundance
	}
	return abundance, order
}

// Spectrum returns the computed spectrum at unit m/z, isotopes included, in %
// of the base peak. Peaks under 0.01 % are left out, and those below m/z 26 for
// compounds of nominal mass 45 and more.
func (p *Prediction) Spectrum() spectrum.Spectrum {
	first := 1
	if p.MolecularIon().MZ >= lightMass {
		first = firstMZ
	}
	byFormula, order := p.compositions()
	current := map[int]float64{}
	base := 0.0
	for _, f := range order {
		pattern := isotope.Unit(f)
		for k, share := range pattern.Abundance {
			mz := pattern.First + k
			if mz < first {
				continue
			}
			current[mz] += byFormula[f] * share
			base = max(base, current[mz])
		}
	}
	var peaks []spectrum.Peak
	for mz, intensity := range current {
		if relative := 100 * intensity / base; relative >= 0.01 {
			peaks = append(peaks, spectrum.Peak{MZ: float64(mz), Intensity: math.Round(relative*1e4) / 1e4})
		}
	}
	slices.SortFunc(peaks, func(a, b spectrum.Peak) int { return int(a.MZ - b.MZ) })
	return spectrum.Spectrum{Peaks: peaks, Info: spectrum.Info{
		Formula: p.Mol.Formula(), EnergyEV: p.Settings.EnergyEV, Origin: spectrum.Computed,
	}}
}
