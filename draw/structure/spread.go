package structure

import (
	"cmp"
	"slices"
	"strconv"

	"ionwright/draw"
	"ionwright/mol"
)

// Spread says how an ion is drawn whose charge or unpaired electron can't be
// put on one atom: in square brackets, with what can't be placed outside, at
// the upper right.
type Spread struct {
	Mol     *mol.Mol // what stands in the brackets; atoms and bonds as in the ion
	Partial []int    // bonds of Mol with a dashed line beside those of their order
	Charge  int      // outside the brackets
	Radical int      // unpaired electrons outside the brackets
	Charged []int    // atoms that the best forms put the charge on, ascending; nil where that isn't known
	Odd     []int    // those that they put the unpaired electron on, likewise
}

// Delocalize says how an ion or radical is drawn whose best resonance forms put
// its charge or its unpaired electron on different atoms, or on others than the
// form given does. False for all other structures: those are drawn as they
// are.
//
// Forms are reached by moving pairs and unpaired electrons along conjugated
// double bonds, lone pairs and empty orbitals. The best have few charges,
// complete octets, and what is missing at the less electronegative atoms; so
// the charge of an acylium, an iminium or a protonated carbonyl stays at its
// heteroatom, and that of a phenyl cation, whose empty orbital lies across the
// ring's, at its carbon. Halogens take no part.
//
// An odd-electron ion that is a neutral molecule less one electron is drawn as
// that molecule, in the form with most aromatic rings: buta-1,3-diene with a
// positive charge and a dot outside. In other ions a bond that is double in
// some of the best forms only gets a dashed second line (IUPAC's Graphical
// Representation Standards of 2008 know both the brackets and such bonds; cited
// from memory). What all best forms agree on stays at its atom.
func Delocalize(m *mol.Mol) (*Spread, bool) {
	m, err := m.Kekulize()
	if err != nil {
		return nil, false
	}
	r := &resonance{m: m}
	best, all := r.best()
	if len(best) == 0 {
		return nil, false
	}
	charged := varying(best, func(l *lewis) []int8 { return l.charge })
	odd := varying(best, func(l *lewis) []int8 { return l.odd })
	if charged == nil && odd == nil {
		return nil, false
	}
	s := &Spread{Charged: charged, Odd: odd}
	if s.neutral(r, all) {
		if odd == nil {
			s.Odd = []int{slices.Index(best[0].odd, 1)}
		}
		if charged == nil {
			s.Charged = []int{slices.IndexFunc(best[0].charge, func(q int8) bool { return q > 0 })}
		}
		return s, true
	}
	edit := m.Edit()
	for a := range m.NumAtoms() {
		at := edit.Atom(a)
		if slices.Contains(charged, a) {
			s.Charge += int(at.Charge)
			at.Charge = 0
		}
		if slices.Contains(odd, a) {
			s.Radical += int(at.Radical)
			at.Radical = 0
		}
		edit.SetAtom(a, at)
	}
	for i := range m.NumBonds() {
		least, most := best[0].order[i], best[0].order[i]
		for _, l := range best {
			least, most = min(least, l.order[i]), max(most, l.order[i])
		}
		edit.SetBond(i, mol.Order(least))
		if least < most {
			s.Partial = append(s.Partial, i)
		}
	}
	if s.Mol, err = edit.Mol(); err != nil {
		return nil, false
	}
	return s, true
}

// Unplaced is the ion with its charge and unpaired electrons outside the
// brackets, for one that reorganizes so that nothing is known of their places.
// Half is how many of its bonds hold one electron less than drawn: each is a
// charge and an unpaired electron that no atom has.
func Unplaced(m *mol.Mol, half int) (*Spread, error) {
	s := &Spread{Charge: half, Radical: half}
	edit := m.Edit()
	for a := range m.NumAtoms() {
		at := edit.Atom(a)
		s.Charge += int(at.Charge)
		s.Radical += int(at.Radical)
		at.Charge, at.Radical = 0, 0
		edit.SetAtom(a, at)
	}
	var err error
	s.Mol, err = edit.Mol()
	return s, err
}

// best are the forms of the lowest rank, with those of the given form's rank
// where that is another; and all that there are.
func (r *resonance) best() (best, all []*lewis) {
	all = r.forms()
	if len(all) == 0 {
		return nil, nil
	}
	given := r.rank(all[0])
	least := given
	ranks := make([][4]int, len(all))
	for i, l := range all {
		ranks[i] = r.rank(l)
		if slices.Compare(ranks[i][:], least[:]) < 0 {
			least = ranks[i]
		}
	}
	for i, l := range all {
		if ranks[i] == least || ranks[i] == given {
			best = append(best, l)
		}
	}
	return best, all
}

// varying lists the atoms at which the forms differ.
func varying(forms []*lewis, of func(*lewis) []int8) []int {
	var atoms []int
	for a, v := range of(forms[0]) {
		if slices.ContainsFunc(forms, func(l *lewis) bool { return of(l)[a] != v }) {
			atoms = append(atoms, a)
		}
	}
	return atoms
}

// neutral makes the spread that of a molecule less one electron, where a form
// is that: one with charge and dot at one atom, or at the two ends of a bond
// that they make double.
func (s *Spread) neutral(r *resonance, all []*lewis) bool {
	charge := 0
	for _, q := range all[0].charge {
		charge += int(q)
	}
	if charge != 1 {
		return false
	}
	bestRings, bestSame := -1, -1
	tried := map[string]bool{}
	for _, l := range all {
		to := r.filled(l)
		if to == nil || tried[to.key()] {
			continue
		}
		tried[to.key()] = true
		m, err := r.graph(to)
		if err != nil {
			continue
		}
		rings, same := 0, 0
		for a, marked := 0, m.Aromatize(); a < m.NumAtoms(); a++ {
			if marked.Atom(a).Aromatic {
				rings++
			}
		}
		for i, order := range to.order {
			if order == all[0].order[i] {
				same++
			}
		}
		if rings > bestRings || rings == bestRings && same > bestSame {
			s.Mol, bestRings, bestSame = m, rings, same
		}
	}
	if s.Mol == nil {
		return false
	}
	s.Charge, s.Radical = 1, 1
	return true
}

// filled is a form with the electron back that the ion lacks, nil where it has
// no one place for it.
func (r *resonance) filled(l *lewis) *lewis {
	dot := slices.Index(l.odd, 1)
	if dot < 0 || slices.Index(l.odd[dot+1:], 1) >= 0 {
		return nil
	}
	if l.charge[dot] == 1 {
		to := l.copied()
		to.odd[dot], to.charge[dot] = 0, 0
		to.pairs[dot]++
		return to
	}
	for _, nb := range r.m.Neighbors(dot) {
		b := int(nb.Atom)
		if r.known[b] && l.charge[dot] == 0 && r.vacant(l, b) && r.pi(l, dot) == r.pi(l, b) {
			to := l.copied()
			to.odd[dot], to.charge[b] = 0, 0
			to.order[nb.Bond]++
			return to
		}
	}
	return nil
}

// graph is the structure with its electrons as in the form.
func (r *resonance) graph(l *lewis) (*mol.Mol, error) {
	edit := r.m.Edit()
	for a := range r.m.NumAtoms() {
		at := edit.Atom(a)
		at.Charge, at.Radical = l.charge[a], uint8(l.odd[a])
		edit.SetAtom(a, at)
	}
	for i := range r.m.NumBonds() {
		edit.SetBond(i, mol.Order(l.order[i]))
	}
	return edit.Mol()
}

// Words say what stands outside the brackets and at which atoms it is, by their
// symbols and the numbers that the caller gives them; they begin in lower case.
func (s *Spread) Words(number func(atom int) int) string {
	spread := func(what string, atoms []int) string {
		atoms = slices.Clone(atoms)
		slices.SortFunc(atoms, func(a, b int) int { return cmp.Compare(number(a), number(b)) })
		names := make([]string, len(atoms))
		for k, a := range atoms {
			names[k] = s.Mol.Atom(a).Element.Symbol() + strconv.Itoa(number(a))
		}
		switch len(atoms) {
		case 0:
			return what + " somewhere"
		case 1:
			return what + " on " + names[0]
		}
		return what + " spread over " + list(names)
	}
	var words []string
	if s.Charge != 0 {
		sign := "positive"
		if s.Charge < 0 {
			sign = "negative"
		}
		words = append(words, spread(sign+" charge", s.Charged))
	}
	if s.Radical != 0 {
		words = append(words, spread("unpaired electron", s.Odd))
	}
	return list(words)
}

// brackets are drawn around items, with the sign at their upper right.
func (a *Artist) brackets(items []draw.Item) draw.Item {
	box := draw.NoBox()
	for _, item := range items {
		box = box.Union(draw.Bounds(item))
	}
	bond := a.o.Bond
	air := 0.25 * bond
	for i := range a.m.NumAtoms() {
		if a.o.NoDots && a.m.Atom(i).Radical > 0 { // room for dots that the caller draws
			air = 0.42 * bond
		}
	}
	box = box.Grow(air)
	tick := 0.22 * bond
	stroke := draw.Stroke{Role: draw.Ink, Width: a.line}
	side := func(x, way float64) draw.Item {
		return draw.Polyline(stroke, draw.Point{X: x + way*tick, Y: box.Top}, draw.Point{X: x, Y: box.Top}, draw.Point{X: x, Y: box.Bottom}, draw.Point{X: x + way*tick, Y: box.Bottom})
	}
	g := &draw.Group{Class: "brackets", Items: []draw.Item{side(box.Left, 1), side(box.Right, -1)}}
	if sign := signRuns(a.o.Brackets.Charge, a.o.Brackets.Radical); sign != nil {
		sign[0].Script = draw.Normal
		g.Add(draw.Text{At: draw.Point{X: box.Right + 0.12*bond, Y: box.Top + 0.3*bond}, Size: a.size, Role: draw.Ink, Runs: sign})
	}
	return g
}
