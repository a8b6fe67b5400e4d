package ionize

import (
	"ionwright/chem"
	"ionwright/mol"
)

// Deuterium takes part in every step as the hydrogen that it is. So the
// families of rules see a labelled ion as if it were unlabelled, and the labels
// are put back here: a hydrogen that moves or leaves is taken from all
// equivalent places in proportion to the hydrogens there, and an ion whose
// hydrogens change places before it breaks hands its deuterium on at random.

// isotopeShift is how much higher, in eV, the critical energy is for each
// deuterium that moves or leaves instead of a protium: the difference of the
// zero-point energies of the C-H and C-D stretching vibrations, half of
// (2900 - 2100) per cm (common practice, no source).
const isotopeShift = 0.05

// hasDeuterium reports whether any atom of s carries deuterium.
func (s *skeleton) hasDeuterium() bool {
	for rest := s.atoms; rest != 0; rest &= rest - 1 {
		if s.deuterium(rest.first()) > 0 {
			return true
		}
	}
	return false
}

// plain is s with protium for its deuterium.
func (s *skeleton) plain() skeleton {
	out := *s
	for rest := s.atoms; rest != 0; rest &= rest - 1 {
		i := rest.first()
		out.hydrogens[i] = uint8(s.hydrogen(i))
	}
	return out
}

// relabelling puts the labels of one ion back into its steps.
type relabelling struct {
	m      *molecule
	s      *skeleton // with labels
	plain  skeleton
	around *surroundings
	mixed  bool // hydrogens and deuteriums have changed places at random
	emit   func(p *proposal)
}

// labelledSteps calls emit for every step of the labelled ion s, the weights
// of the isotopic variants of one step adding up to 1.
func (m *molecule) labelledSteps(s *skeleton, rare bool, emit func(p *proposal)) {
	r := &relabelling{m: m, s: s, plain: s.plain(), emit: emit}
	r.around = &surroundings{}
	m.look(&r.plain, r.around)
	r.mixed = m.scrambles(s)
	m.plainSteps(&r.plain, rare, func(p *proposal) {
		switch {
		case p.ion.atoms == 0:
		case r.mixed:
			r.scatter(p)
		case p.gone > 0:
			r.loseFrom(p)
		default:
			r.restore(p)
			r.move(p, 0, 1)
		}
	})
}

// scrambles reports whether the hydrogens of an ion change places faster than
// it breaks: in even-electron hydrocarbon ions, by hydride shifts (and in
// benzyl by way of tropylium), and in the molecular ions of benzene, of toluene
// with its isomers, and of aromatic hydrocarbons without side chains. That the
// hydrogens of these become equivalent is textbook knowledge from deuterium
// labelling (common practice, no source).
func (m *molecule) scrambles(s *skeleton) bool {
	aromatic := true
	for rest := s.atoms; rest != 0; rest &= rest - 1 {
		at := m.atoms[rest.first()]
		if at.element != iC {
			return false
		}
		aromatic = aromatic && at.aromatic
	}
	if s.atoms.len() < 2 {
		return false
	}
	if !m.oddElectron(s) {
		return true
	}
	c := m.count(s)
	toluene := c[iC] == 7 && c[iH]+c[iD] == 8
	return aromatic || toluene
}

// restore gives the pieces of p, made from the plain ion, the labels of the
// atoms whose hydrogens the step leaves alone; the others start from the ion
// before the step.
func (r *relabelling) restore(p *proposal) {
	for rest := p.ion.atoms; rest != 0; rest &= rest - 1 {
		i := rest.first()
		p.ion.hydrogens[i] = r.s.hydrogens[i]
	}
	for rest := p.neutral.atoms; rest != 0; rest &= rest - 1 {
		i := rest.first()
		p.neutral.hydrogens[i] = r.s.hydrogens[i]
	}
}

// holding returns the piece of p that holds atom i.
func holding(p *proposal, i int) *skeleton {
	if p.ion.atoms.has(i) {
		return &p.ion
	}
	return &p.neutral
}

// move makes the k-th hydrogen move of p and those after it, in each of the
// ways that isotopes and equivalent donors offer.
func (r *relabelling) move(p *proposal, k int, weight float64) {
	if k == len(p.moves) || p.moves[k].count == 0 {
		out := *p
		out.weight = weight
		r.emit(&out)
		return
	}
	mv := p.moves[k]
	donors := r.equivalent(p, int(mv.from))
	total := 0
	for rest := donors; rest != 0; rest &= rest - 1 {
		i := rest.first()
		total += holding(p, i).hydrogen(i)
	}
	for rest := donors; rest != 0; rest &= rest - 1 {
		i := rest.first()
		from := holding(p, i)
		r.each(from, i, total, weight, func(heavy bool, share float64) {
			next := *p
			add := uint8(1)
			if heavy {
				add = 1 << 4
				next.heavier += isotopeShift
			}
			holding(&next, i).hydrogens[i] -= add
			holding(&next, int(mv.to)).hydrogens[mv.to] += add
			next.moves[k].from, next.moves[k].deuterium = uint8(i), heavy
			r.move(&next, k+1, share)
		})
	}
}

// each calls do for the isotopes that atom i of the piece can give, with the
// share of the weight that falls to it when total hydrogens are to choose from.
func (r *relabelling) each(piece *skeleton, i, total int, weight float64, do func(heavy bool, share float64)) {
	if n := piece.protium(i); n > 0 {
		do(false, weight*float64(n)/float64(total))
	}
	if n := piece.deuterium(i); n > 0 {
		do(true, weight*float64(n)/float64(total))
	}
}

// equivalent returns the atoms that the hydrogen at atom from could as well
// come from: the same surroundings, in the same piece, as far from the bonds
// that break.
func (r *relabelling) equivalent(p *proposal, from int) atomSet {
	piece := holding(p, from)
	same := atomSet(0).with(from)
	away := r.fromCut(p, piece)
	for rest := piece.atoms.without(from); rest != 0; rest &= rest - 1 {
		i := rest.first()
		if r.around.deep[i] == r.around.deep[from] && away[i] == away[from] && piece.hydrogen(i) == piece.hydrogen(from) {
			same = same.with(i)
		}
	}
	return same
}

// fromCut is how many bonds each atom of the piece is from the bonds broken.
func (r *relabelling) fromCut(p *proposal, piece *skeleton) (away [MaxAtoms]uint8) {
	for i := range away {
		away[i] = 255
	}
	x := &expansion{m: r.m, s: &r.plain, b: &r.m.expanded} // as the steps of the plain ion are being offered
	for _, cut := range p.cut {
		if cut < 0 {
			continue
		}
		for _, end := range r.m.ends[cut] {
			if !piece.atoms.has(int(end)) {
				continue
			}
			d := x.distances(atomSet(0).with(int(end)), piece.atoms)
			for i := range away {
				away[i] = min(away[i], d[i])
			}
		}
	}
	return away
}

// loseFrom takes the hydrogens that leave as an atom or a molecule from the
// places like those that the rule named.
func (r *relabelling) loseFrom(p *proposal) {
	var lost []int
	for rest := p.ion.atoms; rest != 0; rest &= rest - 1 {
		i := rest.first()
		for n := r.plain.hydrogen(i) - p.ion.hydrogen(i); n > 0; n-- {
			lost = append(lost, i)
		}
	}
	r.restore(p)
	r.lose(p, lost, 1)
}

func (r *relabelling) lose(p *proposal, lost []int, weight float64) {
	if len(lost) == 0 {
		out := *p
		out.weight = weight
		r.emit(&out)
		return
	}
	places, total := r.alike(p, lost[0]), 0
	for rest := places; rest != 0; rest &= rest - 1 {
		total += p.ion.hydrogen(rest.first())
	}
	for rest := places; rest != 0; rest &= rest - 1 {
		i := rest.first()
		r.each(&p.ion, i, total, weight, func(heavy bool, share float64) {
			next := *p
			gone := uint8(1)
			if heavy {
				gone = 1 << 4
				next.heavier += isotopeShift
			}
			next.ion.hydrogens[i] -= gone
			r.lose(&next, lost[1:], share)
		})
	}
}

// alike returns the atoms that lose a hydrogen as easily as atom at: the
// surroundings to the next atoms are the same.
func (r *relabelling) alike(p *proposal, at int) atomSet {
	var same atomSet
	for rest := p.ion.atoms; rest != 0; rest &= rest - 1 {
		i := rest.first()
		if i == at || r.around.near[i] == r.around.near[at] && p.ion.hydrogen(i) > 0 {
			same = same.with(i)
		}
	}
	return same
}

// scatter shares the deuterium of an ion whose hydrogens have changed places
// between the pieces of the step, each way as often as chance makes it: the
// hypergeometric distribution.
func (r *relabelling) scatter(p *proposal) {
	all, heavy := hydrogensOf(r.s)
	kept, _ := hydrogensOf(&p.ion)
	for d := max(0, heavy-(all-kept)); d <= min(heavy, kept); d++ {
		out := *p
		out.weight = choose(heavy, d) * choose(all-heavy, kept-d) / choose(all, kept)
		place(&out.ion, d)
		place(&out.neutral, heavy-d)
		if p.gone > 0 {
			out.heavier = isotopeShift * float64(heavy-d)
		}
		r.emit(&out)
	}
}

// hydrogensOf counts the hydrogens of s, and the deuterium among them.
func hydrogensOf(s *skeleton) (all, heavy int) {
	for rest := s.atoms; rest != 0; rest &= rest - 1 {
		i := rest.first()
		all += s.hydrogen(i)
		heavy += s.deuterium(i)
	}
	return all, heavy
}

// place makes d of the hydrogens of s deuterium, from the first atom on: where
// it sits doesn't matter where hydrogens change places.
func place(s *skeleton, d int) {
	for rest := s.atoms; rest != 0; rest &= rest - 1 {
		i := rest.first()
		n := min(s.hydrogen(i), d)
		s.hydrogens[i] = uint8(s.hydrogen(i)-n) | uint8(n)<<4
		d -= n
	}
}

// choose is the binomial coefficient of n over k.
func choose(n, k int) float64 {
	c := 1.0
	for i := range min(k, n-k) {
		c *= float64(n-i) / float64(i+1)
	}
	return c
}

// plainRanks ranks the atoms of a canonical, labelled structure as if it had
// no labels: equals are then told apart by the labels alone, and what the rules
// choose among equals is the same with labels and without. Labelled hydrogens
// come last.
func plainRanks(source *mol.Mol, ranks []int32) ([]int32, error) {
	order := make([]int, len(ranks))
	for i, r := range ranks {
		order[r] = i
	}
	place := make([]int32, len(ranks))
	var atoms []mol.Atom
	for _, i := range order {
		at := source.Atom(i)
		place[i] = -1
		if at.Element != chem.H {
			place[i] = int32(len(atoms))
			at.Isotope, at.Chirality = 0, mol.NotChiral
			atoms = append(atoms, at)
		}
	}
	var bonds []mol.Bond
	for b := range source.NumBonds() {
		bond := source.Bond(b)
		i, j := place[bond.Begin], place[bond.End]
		switch {
		case i >= 0 && j >= 0:
			bonds = append(bonds, mol.Bond{Begin: i, End: j, Order: bond.Order})
		case i >= 0:
			atoms[i].Hydrogens++
		case j >= 0:
			atoms[j].Hydrogens++
		}
	}
	plain, err := mol.New(atoms, bonds)
	if err != nil {
		return nil, err
	}
	plainRanks := plain.CanonicalRanks()
	out, last := make([]int32, len(ranks)), int32(len(atoms))
	for _, i := range order {
		if place[i] >= 0 {
			out[i] = plainRanks[place[i]]
		} else {
			out[i] = last
			last++
		}
	}
	return out, nil
}

// hasLabels reports whether an atom of the structure has a mass number.
func hasLabels(source *mol.Mol) bool {
	for i := range source.NumAtoms() {
		if source.Atom(i).Isotope != 0 {
			return true
		}
	}
	return false
}
