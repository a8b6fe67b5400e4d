package ionize

import (
	"math"
	"math/bits"
)

// Properties are what the fitted layers are told of a piece in numbers: its
// size, ionization energy, composition, rings and kinds of atoms, each brought
// to the order of one. Unlike the codes they say something of pieces that are
// like none the fit has seen. Deuterium counts as hydrogen.
type Properties [NumProperties]float32

// NumProperties is the number of properties of a piece.
const NumProperties = 23

// properties of the piece; an atom is aromatic or in a ring when it is in the
// molecule.
func (m *molecule) properties(p *piece) (t Properties) {
	s := &p.skeleton
	if s.atoms == 0 { // hydrogen
		return t
	}
	// Branches are saturated carbons with three neighbours or more; rotors are
	// bonds with further atoms on both sides and at most one end in a ring.
	var aromatic, aromaticHetero, inRing, methyls, protic, saturated, saturatedInRing, branches, rotors, bonds int
	var degrees [MaxAtoms]uint8
	for word, rest := range s.bonds {
		for ; rest != 0; rest &= rest - 1 {
			ends := m.ends[64*word+bits.TrailingZeros64(rest)]
			degrees[ends[0]]++
			degrees[ends[1]]++
			bonds++
		}
	}
	for word, rest := range s.bonds {
		for ; rest != 0; rest &= rest - 1 {
			ends := m.ends[64*word+bits.TrailingZeros64(rest)]
			i, j := ends[0], ends[1]
			if degrees[i] > 1 && degrees[j] > 1 && !(m.atoms[i].inRing && m.atoms[j].inRing) {
				rotors++
			}
		}
	}
	for rest := s.atoms; rest != 0; rest &= rest - 1 {
		i := rest.first()
		a := &m.atoms[i]
		hydrogens, degree := s.hydrogen(i), int(degrees[i])
		if a.aromatic {
			aromatic++
			if a.element != iC {
				aromaticHetero++
			}
		}
		if a.inRing {
			inRing++
		}
		if a.element != iC {
			protic += hydrogens
			continue
		}
		if degree+hydrogens < int(a.valence) {
			continue
		}
		switch {
		case hydrogens == 3:
			methyls++
		case degree > 2:
			branches++
		}
		if a.inRing {
			saturatedInRing++
		} else {
			saturated++
		}
	}
	c := m.count(s)
	mass := p.mass - int(c[iD])
	c = c.plain()
	atoms := float32(s.atoms.len())
	rings := float32(bonds) - atoms + 1
	halogens := int(c[iF]) + int(c[iCl]) + int(c[iBr]) + int(c[iI])
	unsaturation := float32(2*int(c[iC])+2*int(c[iSi])+2+int(c[iN])+int(c[iP])-int(c[iH])-halogens) / 2
	return Properties{
		float32(math.Log(float64(mass))) - 5, float32(p.energies.ionization)/5 - 2, atoms / 20, rings / 3, unsaturation / atoms,
		float32(aromatic) / atoms, float32(inRing) / atoms, float32(aromaticHetero), float32(methyls) / 3, float32(protic) / 2,
		float32(saturated) / 5, float32(saturatedInRing) / 5, float32(branches) / 2, float32(rotors) / 5,
		float32(c[iC]) / 10, float32(c[iN]), float32(c[iO]) / 2, float32(c[iS]),
		float32(c[iCl]) + float32(c[iBr]), float32(c[iI]), float32(c[iF]) / 2, float32(c[iSi]), float32(c[iP]),
	}
}
