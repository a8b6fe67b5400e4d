package ionize

import "ionwright/chem"

// hydrogenOf makes one hydrogen of a local atom an atom of its own.
func (a *account) hydrogenOf(at int, deuterium, leaves bool) int {
	bearer := &a.atoms[at]
	bearer.hydrogens--
	isotope := uint16(0)
	if deuterium {
		bearer.deuterium--
		isotope = 2
	}
	h := a.add(frameAtom{element: chem.H, group: 1, valence: 1, isotope: isotope, source: bearer.source})
	a.leaves = append(a.leaves, leaves)
	a.pair(at, h)
	return h
}

// label puts deuterium where it must be before the step for the pieces to carry
// what they carry after it: where it is in the ion, or, when hydrogens change
// places at random before the ion breaks, where that has brought it. It returns
// how many deuteriums leave as H, HD or D2.
func (a *account) label(from *skeleton, p *proposal, local []int) (lost int) {
	for rest := from.atoms; rest != 0; rest &= rest - 1 {
		i := rest.first()
		lost += from.deuterium(i)
		piece := &p.ion
		if !p.ion.atoms.has(i) {
			piece = &p.neutral
		}
		a.atoms[local[i]].deuterium = int8(piece.deuterium(i))
		lost -= piece.deuterium(i)
	}
	for _, mv := range p.moves {
		if mv.count > 0 && mv.deuterium {
			a.atoms[local[mv.from]].deuterium++
			a.atoms[local[mv.to]].deuterium--
		}
	}
	heavy := lost
	for rest := from.atoms; rest != 0 && p.gone > 0; rest &= rest - 1 {
		i := rest.first()
		for n := from.hydrogen(i) - p.ion.hydrogen(i); n > 0 && heavy > 0; n-- {
			a.atoms[local[i]].deuterium++
			heavy--
		}
	}
	return lost
}

// addLoss is the event of one hydrogen, or two as a molecule, leaving.
func (a *account) addLoss(from *skeleton, p *proposal, local []int, heavy int) error {
	var e event
	var gone []int
	for rest := from.atoms; rest != 0; rest &= rest - 1 {
		i := rest.first()
		for n := from.hydrogen(i) - p.ion.hydrogen(i); n > 0; n-- {
			if a.atoms[local[i]].hydrogens == 0 {
				return errNoAccount
			}
			h := a.hydrogenOf(local[i], heavy > 0, true)
			heavy--
			e.cut = append(e.cut, a.pair(local[i], h))
			gone = append(gone, h)
		}
	}
	if len(gone) != int(p.gone) {
		return errNoAccount
	}
	if len(gone) == 2 {
		e.form = append(e.form, a.pair(gone[0], gone[1]))
	}
	a.events = append(a.events, e)
	return nil
}
