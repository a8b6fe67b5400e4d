package ionize

import (
	"math/bits"

	"ionwright/chem"
)

// skeleton is the identity of an ion: which atoms it holds, which of them are
// joined, and how many hydrogens (and deuteriums) each carries. Where double
// bonds, charge and radical sit isn't part of it: those are resonance forms of
// one ion, worked out when they are asked for (see bonding). Two routes that
// lead to the same skeleton meet there.
type skeleton struct {
	atoms     atomSet
	bonds     bondSet
	hydrogens [MaxAtoms]uint8 // protium in the low four bits, deuterium in the high
}

// noBond marks an argument that takes a bond and is given none.
const noBond = -1

func (s *skeleton) protium(i int) int   { return int(s.hydrogens[i] & 15) }
func (s *skeleton) deuterium(i int) int { return int(s.hydrogens[i] >> 4) }
func (s *skeleton) hydrogen(i int) int  { return s.protium(i) + s.deuterium(i) }

// part returns what remains of s when only the atoms of set are kept.
func (s *skeleton) part(m *molecule, set atomSet) skeleton {
	p := skeleton{atoms: set, bonds: s.bonds}
	for rest := set; rest != 0; rest &= rest - 1 {
		i := rest.first()
		p.hydrogens[i] = s.hydrogens[i]
	}
	for rest := s.atoms.minus(set); rest != 0; rest &= rest - 1 {
		p.bonds = p.bonds.minus(m.touching[rest.first()])
	}
	return p
}

// reach returns the atoms of s joined to atom i when the bonds cut1 and cut2
// are broken (noBond for none).
func (m *molecule) reach(s *skeleton, i, cut1, cut2 int) atomSet {
	left := s.bonds // to go along
	for _, cut := range [2]int{cut1, cut2} {
		if cut != noBond {
			left = left.without(cut)
		}
	}
	seen := atomSet(0).with(i)
	for frontier := seen; frontier != 0; {
		at := frontier.first()
		frontier &= frontier - 1
		here := left.and(m.touching[at])
		left = left.minus(here)
		for ; here != (bondSet{}); here = here.without(here.first()) {
			to := m.across(here.first(), at)
			if !seen.has(to) {
				seen, frontier = seen.with(to), frontier.with(to)
			}
		}
	}
	return seen
}

// across is the other atom of a bond at an atom.
func (m *molecule) across(bond, at int) int {
	return int(m.ends[bond][0]) + int(m.ends[bond][1]) - at
}

// joins lists, for each atom of a skeleton, the bonds at it: the rules ask for
// them so often that going through the molecule's bonds each time, to see which
// are there, takes most of a search.
type joins struct {
	start, end [MaxAtoms]uint16
	halves     [2 * maxBonds]halfBond
	bonds      int
}

// at is the bonds at atom i, an atom of the skeleton.
func (j *joins) at(i int) []halfBond { return j.halves[j.start[i]:j.end[i]] }

// degree is the number of atoms joined to atom i.
func (j *joins) degree(i int) int { return int(j.end[i] - j.start[i]) }

// join lists the bonds of s.
func (m *molecule) join(s *skeleton, j *joins) {
	n := uint16(0)
	for rest := s.atoms; rest != 0; rest &= rest - 1 {
		i := rest.first()
		j.start[i], j.end[i] = n, n
		n += uint16(s.bonds.and(m.touching[i]).len())
	}
	j.bonds = int(n) / 2
	for word, rest := range s.bonds {
		for ; rest != 0; rest &= rest - 1 {
			b := 64*word + bits.TrailingZeros64(rest)
			i, k := m.ends[b][0], m.ends[b][1]
			j.halves[j.end[i]] = halfBond{k, uint8(b)}
			j.halves[j.end[k]] = halfBond{i, uint8(b)}
			j.end[i]++
			j.end[k]++
		}
	}
}

// bridges collects the bonds of s, listed in j, whose breaking alone parts it,
// when the bond cut is broken already (noBond for none). Method: Tarjan 1974,
// lowest discovery number reachable by a back edge.
func (s *skeleton) bridges(j *joins, cut int, out *bondSet) {
	if cut == noBond && j.bonds < s.atoms.len() { // no ring
		*out = s.bonds
		return
	}
	var found, low [MaxAtoms]uint8
	type frame struct {
		at, via uint8
		next    uint16
	}
	var stack [MaxAtoms]frame
	const none = 255
	clock := uint8(0)
	for roots := s.atoms; roots != 0; roots &= roots - 1 {
		root := roots.first()
		if found[root] != 0 {
			continue
		}
		clock++
		found[root], low[root] = clock, clock
		depth := 0
		stack[0] = frame{uint8(root), none, j.start[root]}
		for depth >= 0 {
			f := &stack[depth]
			at := int(f.at)
			if f.next < j.end[at] {
				half := j.halves[f.next]
				f.next++
				to := int(half.to)
				if int(half.bond) == cut || half.bond == f.via {
					continue
				}
				if found[to] != 0 {
					low[at] = min(low[at], found[to])
					continue
				}
				clock++
				found[to], low[to] = clock, clock
				depth++
				stack[depth] = frame{uint8(to), half.bond, j.start[to]}
				continue
			}
			depth--
			if depth >= 0 {
				parent := int(stack[depth].at)
				low[parent] = min(low[parent], low[at])
				if low[at] > found[parent] {
					*out = out.with(int(f.via))
				}
			}
		}
	}
}

// counts is a formula as numbers of each element the rules know, hydrogen and
// deuterium last.
type counts [iD + 1]uint8

func (m *molecule) count(s *skeleton) counts {
	var c counts
	for rest := s.atoms; rest != 0; rest &= rest - 1 {
		i := rest.first()
		c[m.atoms[i].element]++
		c[iH] += s.hydrogens[i] & 15
		c[iD] += s.hydrogens[i] >> 4
	}
	return c
}

// plain counts deuterium as hydrogen.
func (c counts) plain() counts {
	c[iH] += c[iD]
	c[iD] = 0
	return c
}

// massOf is the nominal mass of s in Da, labels counted.
func (m *molecule) massOf(s *skeleton) int {
	total := 0
	for rest := s.atoms; rest != 0; rest &= rest - 1 {
		i := rest.first()
		total += m.mass[i] + s.protium(i) + 2*s.deuterium(i)
	}
	return total
}

// formulaOf is the composition of s with the given charge, labels kept.
func (m *molecule) formulaOf(s *skeleton, charge int) chem.Formula {
	c := m.count(s)
	if m.labelled || c[iD] > 0 {
		return m.labelledFormula(s).WithCharge(charge)
	}
	f, known := m.formulas[c]
	if !known {
		var all [numElements + 1]chem.Count
		for k, element := range elements {
			all[k] = chem.Count{Species: chem.NaturalSpecies(element), N: int(c[k])}
		}
		all[iH] = chem.Count{Species: chem.NaturalSpecies(chem.H), N: int(c[iH])}
		f = formula(all[:]...)
		m.formulas[c] = f
	}
	return f.WithCharge(charge)
}

func (m *molecule) labelledFormula(s *skeleton) chem.Formula {
	var f chem.Formula
	for rest := s.atoms; rest != 0; rest &= rest - 1 {
		i := rest.first()
		species := chem.NaturalSpecies(elements[m.atoms[i].element])
		if m.label[i] != 0 {
			species = chem.LabelledSpecies(elements[m.atoms[i].element], int(m.label[i]))
		}
		f = f.Plus(of(species, 1)).Plus(of(chem.NaturalSpecies(chem.H), s.protium(i)))
		f = f.Plus(of(chem.LabelledSpecies(chem.H, 2), s.deuterium(i)))
	}
	return f
}

// of is n atoms of one species.
func of(species chem.Species, n int) chem.Formula { return formula(chem.Count{Species: species, N: n}) }

// formula has those counts; the species and numbers here are ones that a
// formula holds, so that it can't fail.
func formula(counts ...chem.Count) chem.Formula {
	f, err := chem.FormulaOf(counts...)
	if err != nil {
		panic(err)
	}
	return f
}

// degree is the number of atoms of s joined to atom i.
func (m *molecule) degree(s *skeleton, i int) int {
	return s.bonds.and(m.touching[i]).len()
}

// free is the number of valences of atom i that single bonds and hydrogens
// leave over: electrons for pi bonds, a radical or an empty orbital. A
// negative number marks an onium centre.
func (m *molecule) free(s *skeleton, i int) int {
	return int(m.atoms[i].valence) - m.degree(s, i) - s.hydrogen(i)
}

// oddElectron reports whether the singly charged ion with this skeleton has an
// unpaired electron: its neutral form then has all electrons paired.
func (m *molecule) oddElectron(s *skeleton) bool {
	total := 0 // each bond takes two valences, so that they don't count
	for rest := s.atoms; rest != 0; rest &= rest - 1 {
		i := rest.first()
		total += int(m.atoms[i].valence) + s.hydrogen(i)
	}
	return total&1 == 0
}
