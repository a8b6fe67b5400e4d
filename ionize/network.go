package ionize

import (
	"context"
	"iter"
	"slices"

	"ionwright/chem"
	"ionwright/mol"
)

// Network is the search's record of one compound for fitting: the ions met,
// heaviest first, and every step offered, taken or not.
type Network struct {
	Ions       []NetworkIon
	Steps      []NetworkStep // grouped by the ion they start from
	Ionization float64       // ionization energy of the molecule, eV

	Pieces []NetworkPiece // the first is the molecular ion
}

// NetworkIon is an ion of a network. Its steps are Steps[First:Last]; an ion
// that wasn't followed has none.
type NetworkIon struct {
	Formula     chem.Formula
	MZ          int     // nominal
	Oscillators float64 // effective number for the RRK rate
	First, Last int

	Source, Product int // its Pieces as the ion that breaks, and that comes out
}

// NetworkPiece is what a piece is, in one part that it plays.
type NetworkPiece struct {
	Dense      int // where its properties begin among the dense quantities
	Properties Properties
	Codes      []uint32 // of what it is made of
}

// NetworkStep is a step of a network.
type NetworkStep struct {
	To           int     // index into Ions
	Neutral      int     // index into Pieces
	Critical     float64 // handbook critical energy, eV
	LogFrequency float64 // handbook frequency factor, decadic logarithm of 1/s
	Share        float64 // of the energy above Critical that the ion keeps
	Dense        [NumStepDense]float32
	Codes        []uint32
}

// Record follows the compound like Predict and returns what it met. The rates
// are those that guide leads to, the handbook's when it is nil; what is recorded
// are handbook values.
func Record(ctx context.Context, m *mol.Mol, settings Settings, guide *Corrections) (*Network, error) {
	prepared, err := prepare(m)
	if err != nil {
		return nil, err
	}
	s := newSearch(prepared, settings, guide)
	s.record = true
	if err := s.run(ctx); err != nil {
		return nil, err
	}
	return s.network(), nil
}

// network lays the record out with the ions by falling mass; ions no kept
// step leads to are left out.
func (s *search) network() *Network {
	reached := make([]bool, len(s.nodes))
	reached[0] = true
	for _, o := range s.offered {
		reached[o.step.To] = true
	}
	var order []int32
	for id := range s.nodes {
		if reached[id] {
			order = append(order, int32(id))
		}
	}
	slices.SortStableFunc(order, func(a, b int32) int { return s.nodes[b].mass - s.nodes[a].mass })
	place := make([]int, len(s.nodes))
	for i, id := range order {
		place[id] = i
	}
	n := &Network{Ionization: s.nodes[0].energies.ionization}
	made := func(piece int32, as part) int {
		n.Pieces = append(n.Pieces, NetworkPiece{DenseOf(int(as)), s.m.properties(&s.list[piece]), slices.Clone(s.codesOf(piece, as))})
		return len(n.Pieces) - 1
	}
	made(s.nodes[0].id, asMolecule)
	lost := map[int32]int{} // places of the neutrals
	for _, o := range s.offered {
		if _, ok := lost[o.lost]; !ok {
			lost[o.lost] = made(o.lost, asNeutral)
		}
	}
	steps := make([][]NetworkStep, len(order))
	for _, o := range s.offered {
		step := o.step
		step.To, step.Neutral = place[step.To], lost[o.lost]
		steps[place[o.from]] = append(steps[place[o.from]], step)
	}
	for i, id := range order {
		from := &s.nodes[id]
		first := len(n.Steps)
		n.Steps = append(n.Steps, steps[i]...)
		n.Ions = append(n.Ions, NetworkIon{
			Formula: s.m.formulaOf(&from.skeleton, 1), MZ: from.mass,
			Oscillators: oscillators(from.facts.atoms), First: first, Last: len(n.Steps),
			Source: made(from.id, asSource), Product: made(from.id, asProduct),
		})
	}
	return n
}

// Codes is all lists of codes in the network.
func (n *Network) Codes() iter.Seq[[]uint32] {
	return func(yield func([]uint32) bool) {
		for i := range n.Pieces {
			if !yield(n.Pieces[i].Codes) {
				return
			}
		}
		for k := range n.Steps {
			if !yield(n.Steps[k].Codes) {
				return
			}
		}
	}
}
