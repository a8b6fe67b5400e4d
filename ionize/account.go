package ionize

import (
	"errors"
	"slices"

	"ionwright/chem"
	"ionwright/mol"
)

// event is a change of the skeleton within a step: pairs that part and pairs
// that join at once. A hydrogen shift is one event, the breaking of a bond
// another.
type event struct {
	cut, form []int // pairs
	name      string
}

// account is one step laid out for its electrons: the atoms that take part,
// what happens to the skeleton, and the uncharged form it starts from.
type account struct {
	*frame
	kind     Kind
	events   []event
	base     *lewis // before ionization, with the charges inside neutral molecules
	leaves   []bool // by atom: part of the neutral
	odd      bool   // the ion that reacts has an unpaired electron
	previous *lewis // form in which the step before left the ion; nil for none
}

// whereabouts relates the engine's atoms to those of the molecule they were
// made from.
type whereabouts struct {
	mol    *mol.Mol
	source []int // by engine atom: atom of mol
}

// whereabouts finds the atoms again in the order that prepare gave them.
func (p *Prediction) whereabouts() (whereabouts, error) {
	_, ranks := p.Mol.Canonical()
	place, heavy, err := countHeavy(p.Mol, ranks)
	if err != nil {
		return whereabouts{}, err
	}
	w := whereabouts{mol: p.Mol, source: make([]int, heavy)}
	for i, at := range place {
		if at >= 0 {
			w.source[at] = i
		}
	}
	return w, nil
}

// newAccount lays a step out.
func newAccount(m *molecule, w whereabouts, from *skeleton, p *proposal) (*account, error) {
	a := &account{frame: &frame{}, kind: p.kind, odd: m.oddElectron(from)}
	local := make([]int, len(m.atoms)) // by engine atom
	for i := range local {
		local[i] = -1
	}
	for rest := from.atoms; rest != 0; rest &= rest - 1 {
		i := rest.first()
		at := m.atoms[i]
		local[i] = a.add(frameAtom{
			element: elements[at.element], group: groupOf[at.element], valence: at.valence,
			hydrogens: int8(from.hydrogen(i)),
			isotope:   m.label[i], source: i, aromatic: at.aromatic,
		})
		if at.element == iN && at.valence == 5 {
			a.atoms[local[i]].valence = 3
		}
		a.leaves = append(a.leaves, p.neutral.atoms.has(i))
	}
	lost := a.label(from, p, local)
	for b, ends := range m.ends {
		if from.bonds.has(b) {
			a.pair(local[ends[0]], local[ends[1]])
		}
	}
	own := len(a.pairs)
	if err := a.addEvents(m, from, p, local, lost); err != nil {
		return nil, err
	}
	a.base = a.uncharged(m, w, own)
	return a, nil
}

// groupOf is the number of valence electrons of each element the rules know.
var groupOf = [numElements]int8{iC: 4, iN: 5, iO: 6, iF: 7, iSi: 4, iP: 5, iS: 6, iCl: 7, iBr: 7, iI: 7}

// errNoAccount says that a step names atoms that its ion doesn't have.
var errNoAccount = errors.New("the step names hydrogens that the ion doesn't have")

// addEvents reads the changes of the skeleton off the proposal.
func (a *account) addEvents(m *molecule, from *skeleton, p *proposal, local []int, lost int) error {
	pairOf := func(bond int16) int {
		ends := m.ends[bond]
		return a.pair(local[ends[0]], local[ends[1]])
	}
	if p.gone > 0 {
		return a.addLoss(from, p, local, lost)
	}
	for _, mv := range p.moves {
		if mv.count == 0 {
			continue
		}
		d, c := local[mv.from], local[mv.to]
		if a.atoms[d].hydrogens == 0 {
			return errNoAccount
		}
		h := a.hydrogenOf(d, mv.deuterium, p.neutral.atoms.has(int(mv.to)))
		a.events = append(a.events, event{cut: []int{a.pair(d, h)}, form: []int{a.pair(c, h)}, name: "hydrogen shift"})
	}
	var cuts []int
	for _, bond := range p.cut {
		if bond >= 0 {
			cuts = append(cuts, pairOf(bond))
		}
	}
	if p.formed < 0 {
		for _, c := range cuts {
			a.events = append(a.events, event{cut: []int{c}})
		}
		return nil
	}
	formed := pairOf(p.formed)
	switch p.kind {
	case GroupMigration: // the group lets go of its place for the new one
		a.events = append(a.events, event{cut: cuts[:1]}, event{cut: cuts[1:], form: []int{formed}, name: "migration"})
	case NitroRearrangement:
		a.events = append(a.events, event{cut: cuts[:1], form: []int{formed}, name: "shift from nitrogen to oxygen"}, event{cut: cuts[1:]})
	default:
		for _, c := range cuts {
			a.events = append(a.events, event{cut: []int{c}})
		}
		a.events = append(a.events, event{form: []int{formed}, name: "ring closure"})
	}
	return nil
}

// uncharged is the form of the ion with the electron that ionization took put
// back, its pi bonds where the structure was drawn with them.
func (a *account) uncharged(m *molecule, w whereabouts, own int) *lewis {
	l := &lewis{
		joined: make([]bool, len(a.pairs)), pi: make([]int8, len(a.pairs)),
		charge: make([]int8, len(a.atoms)), valence: make([]int8, len(a.atoms)), half: -1,
	}
	for i := range a.atoms {
		l.valence[i] = a.atoms[i].valence
	}
	for p, ends := range a.pairs {
		x, y := ends[0], ends[1]
		hydrogen := a.atoms[x].element == chem.H || a.atoms[y].element == chem.H
		l.joined[p] = p < own || hydrogen && p == a.at[max(x, y)][0].pair // a hydrogen's first pair is that with its bearer
		if p >= own || hydrogen {
			continue
		}
		i, j := w.source[a.atoms[x].source], w.source[a.atoms[y].source]
		if bond, ok := w.mol.BondBetween(i, j); ok {
			l.pi[p] = int8(w.mol.KekuleOrder(bond)) - 1
			if w.mol.Atom(i).Charge*w.mol.Atom(j).Charge < 0 {
				l.pi[p]++
			}
		}
	}
	a.separateCharges(m, l)
	return l
}

// separateCharges writes nitrogen with five bonds as it is drawn: positive,
// beside a negative atom.
func (a *account) separateCharges(m *molecule, l *lewis) {
	for i := range a.atoms {
		at := m.atoms[a.atoms[i].source]
		if a.atoms[i].element != chem.N || at.valence != 5 {
			continue
		}
		best, bestRank := -1, 0
		for _, h := range a.at[i] {
			if l.pi[h.pair] == 0 || !l.joined[h.pair] {
				continue
			}
			rank := 1
			if a.degree(l, h.to) == 1 && a.atoms[h.to].hydrogens == 0 {
				rank += 2
			}
			if a.atoms[h.to].element == chem.O {
				rank++
			}
			if rank > bestRank {
				best, bestRank = h.pair, rank
			}
		}
		if best < 0 {
			continue
		}
		other := a.pairs[best][0]
		if other == i {
			other = a.pairs[best][1]
		}
		l.pi[best]--
		l.charge[i], l.valence[i] = 1, 4
		l.charge[other], l.valence[other] = -1, a.atoms[other].hole(-1)
	}
}

// does applies events to a form.
func (a *account) does(l *lewis, events []int) (*lewis, bool) {
	out := l.clone()
	opened := false // the one-electron bond broke
	for _, e := range events {
		for _, p := range a.events[e].cut {
			out.joined[p], out.pi[p] = false, 0
			if out.half == p {
				out.half, opened = -1, true
			}
		}
		for _, p := range a.events[e].form {
			out.joined[p] = true
		}
	}
	return out, opened
}

// neutralLeaves reports whether what leaves has come off without charge.
func (a *account) neutralLeaves(l *lewis) bool {
	total := int8(0)
	for i, leaves := range a.leaves {
		if leaves {
			total += l.charge[i]
		}
	}
	return total == 0 && (l.half < 0 || !a.leaves[a.pairs[l.half][0]])
}

// same reports whether two forms are equal.
func (l *lewis) same(o *lewis) bool {
	return l.half == o.half && slices.Equal(l.joined, o.joined) && slices.Equal(l.pi, o.pi) && slices.Equal(l.charge, o.charge)
}
