package smiles

import (
	"ionwright/chem"
	"ionwright/mol"
)

// surroundings is what the arrangements of a text need to know of its graph:
// the bonds of each atom in their order.
type surroundings struct {
	*parser
	start  []int32
	by     []int32 // bonds
	folded []bool  // by atom: hydrogen that becomes a count
}

// surround lists the bonds of each atom.
func (p *parser) surround() *surroundings {
	s := &surroundings{parser: p, start: make([]int32, len(p.atoms)+2), by: make([]int32, 2*len(p.bonds))}
	for _, b := range p.bonds {
		s.start[b.Begin+2]++
		s.start[b.End+2]++
	}
	for i := range p.atoms {
		s.start[i+2] += s.start[i+1]
	}
	for i, b := range p.bonds {
		for _, at := range [2]int32{b.Begin, b.End} {
			s.by[s.start[at+1]] = int32(i)
			s.start[at+1]++
		}
	}
	s.start = s.start[:len(p.atoms)+1]
	s.folded = make([]bool, len(p.atoms))
	for i := range p.atoms {
		s.folded[i] = s.foldable(int32(i))
	}
	return s
}

// bondsOf returns the bonds of an atom.
func (s *surroundings) bondsOf(at int32) []int32 { return s.by[s.start[at]:s.start[at+1]] }

// foldable tells whether an atom is a hydrogen that says no more than a
// count, as the specification's standard form has it: no isotope, charge or
// class, and one single bond, to an atom that is no hydrogen.
func (s *surroundings) foldable(at int32) bool {
	if s.atoms[at] != (mol.Atom{Element: chem.H}) || len(s.bondsOf(at)) != 1 {
		return false
	}
	bond := s.bonds[s.bondsOf(at)[0]]
	heavy := s.atoms[bond.Other(at)]
	return bond.Order == mol.Single && heavy.Element != chem.H && heavy.Hydrogens < maxHydrogens
}

// maxHydrogens bounds the hydrogens that are counted at one atom.
const maxHydrogens = 200

// cisTrans turns the marks / and \ into arrangements of double bonds.
func (s *surroundings) cisTrans() error {
	used := make([]bool, len(s.bonds))
	for i := range s.bonds {
		if s.bonds[i].Order != mol.Double {
			continue
		}
		var sides [2]slant // of the reference at each end
		var marks [2][]int32
		conflict := int32(-1)
		for k := range 2 {
			var against int32
			if sides[k], marks[k], against = s.side(int32(i), k); against >= 0 {
				conflict = against
			}
		}
		if sides[0] == level || sides[1] == level {
			continue
		}
		if conflict >= 0 {
			at := int(s.where[conflict])
			return s.fail(at, at+1, "this direction puts both substituents on the same side of the double bond's end", "mark one of the two only")
		}
		for _, list := range marks {
			for _, bond := range list {
				used[bond] = true
			}
		}
		s.bonds[i].Stereo = mol.Trans
		if sides[0] == sides[1] {
			s.bonds[i].Stereo = mol.Cis
		}
		// A hydrogen that is the only substituent must stay an atom; two
		// hydrogens make no arrangement.
		var kept [2]int32
		for k := range 2 {
			before, at := s.chainEnd(int32(i), k)
			kept[k] = s.reference(before, at)
			if s.folded[kept[k]] && (s.atoms[at].Hydrogens > 0 || len(s.bondsOf(at)) > 2) {
				s.bonds[i].Stereo = mol.NoStereo
			}
		}
		if s.bonds[i].Stereo != mol.NoStereo {
			s.folded[kept[0]], s.folded[kept[1]] = false, false
		}
	}
	for i, direction := range s.slants {
		if direction != level && !used[i] {
			at := int(s.where[i])
			return s.fail(at, at+1, "this direction has no partner at the other end of a double bond", "marks / and \\ come in pairs, one at each end of a double bond; write a plain bond where the arrangement isn't known")
		}
	}
	return nil
}

// chainEnd returns the last atom of the chain of double bonds from a bond
// towards its end k (0 = Begin) and the atom before it. It is level with the
// other end only where the bond is in the middle; elsewhere both are -1.
func (s *surroundings) chainEnd(bond int32, k int) (before, at int32) {
	b := s.bonds[bond]
	ends := [2]int32{b.Begin, b.End}
	before, at = ends[1-k], ends[k]
	backBefore, back := ends[k], ends[1-k]
	for range maxCumulated {
		next, nextBack := s.nextDouble(before, at), s.nextDouble(backBefore, back)
		switch {
		case next < 0 && nextBack < 0:
			return before, at
		case next < 0 || nextBack < 0 || next == b.Begin || next == b.End:
			return -1, -1
		}
		before, at = at, next
		backBefore, back = back, nextBack
	}
	return -1, -1
}

// maxCumulated bounds the half length of a chain of double bonds that has an
// arrangement.
const maxCumulated = 50

// nextDouble returns the atom that a chain of double bonds goes on to, -1 at
// its end.
func (s *surroundings) nextDouble(before, at int32) int32 {
	bonds := s.bondsOf(at)
	if len(bonds) != 2 || s.atoms[at].Hydrogens != 0 {
		return -1
	}
	for _, bond := range bonds {
		if to := s.bonds[bond].Other(at); to != before && s.bonds[bond].Order == mol.Double {
			return to
		}
	}
	return -1
}

// reference returns the substituent at the end of a chain that the graph
// refers to: the first that stays an atom, or a hydrogen where there is no
// other.
func (s *surroundings) reference(before, at int32) int32 {
	hydrogen := int32(-1)
	for _, bond := range s.bondsOf(at) {
		to := s.bonds[bond].Other(at)
		switch {
		case to == before:
		case !s.folded[to]:
			return to
		case hydrogen < 0:
			hydrogen = to
		}
	}
	return hydrogen
}

// side returns on which side of end k of a chain the reference lies, level
// where no mark says it, the marked bonds, and one of them that contradicts
// another, or -1.
func (s *surroundings) side(bond int32, k int) (side slant, marks []int32, conflict int32) {
	conflict = -1
	before, at := s.chainEnd(bond, k)
	if at < 0 || len(s.bondsOf(at)) > 3 {
		return level, nil, conflict
	}
	reference := s.reference(before, at)
	for _, b := range s.bondsOf(at) {
		to := s.bonds[b].Other(at)
		direction := s.slants[b]
		if to == before || direction == level {
			continue
		}
		if s.bonds[b].Begin != at {
			direction = -direction
		}
		if to != reference {
			direction = -direction
		}
		if side != level && side != direction {
			conflict = b
		}
		side = direction
		marks = append(marks, b)
	}
	return side, marks, conflict
}
