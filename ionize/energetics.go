package ionize

// energies of a piece of the molecule, in eV.
type energies struct {
	binding    float64 // released when the neutral is put together from atoms
	ionization float64 // to take one electron from the neutral
	radical    bool    // the neutral has an unpaired electron
	site       int     // atom that the electron is taken from; -1 for a bond or ring
}

// energies estimates the neutral's binding and ionization energy by adding
// bond energies, resonance terms and group values (handbook.go). The error of
// such schemes is some tenths of an eV for ordinary pieces and larger for
// strained or highly unsaturated ones.
func (m *molecule) energies(s *skeleton) energies {
	m.join(s, &m.paired.joins)
	return m.energiesJoined(s)
}

// energiesJoined is energies where the bonds of s are listed in m.paired
// already.
func (m *molecule) energiesJoined(s *skeleton) energies {
	b := &m.paired
	if !b.bonded(s) {
		m.bondJoined(s, b)
	}
	var e energies
	e.binding = m.binding(s, b)
	unpaired := 0
	e.site = -1
	for rest := s.atoms; rest != 0; rest &= rest - 1 {
		i := rest.first()
		if b.left[i] <= 0 {
			continue
		}
		unpaired += int(b.left[i])
		stable := m.radicalStability(s, b, i)
		e.binding += stable
		if ie := m.radicalIonization(s, b, i); e.site < 0 || ie < e.ionization {
			e.site, e.ionization = i, ie
		}
	}
	e.radical = unpaired&1 == 1
	if e.site < 0 {
		e.ionization, e.site = m.moleculeIonization(s, b)
	}
	if s.atoms.len() <= 3 {
		if known, ok := smallMolecule[m.count(s).plain()]; ok {
			e.binding, e.ionization = known.binding, known.ionization
		}
	}
	return e
}

func (m *molecule) binding(s *skeleton, b *bonding) float64 {
	total := 0.0
	for rest := s.atoms; rest != 0; rest &= rest - 1 {
		i := rest.first()
		element := m.atoms[i].element
		total += float64(s.hydrogen(i)) * sigma[element][iH]
		for _, half := range b.at(i) {
			if int(half.to) < i {
				continue
			}
			other := m.atoms[half.to].element
			total += orElse(sigma[element][other], otherSigma)
			if n := b.pi[half.bond]; n > 0 {
				total += float64(n) * orElse(piBond[element][other], otherPi)
				total += conjugatedPair * float64(m.conjugations(s, b, i, int(half.to)))
				if n > 1 && m.atoms[i].inRing && m.atoms[half.to].inRing {
					total -= ringTriple
				}
			}
		}
	}
	return total + aromaticRing*float64(m.aromaticRings(s, b)) - m.strain(s)
}

// strain is what the small rings of s cost: those the molecule had, and those
// that formed bonds close.
func (m *molecule) strain(s *skeleton) float64 {
	total := 0.0
	for _, r := range m.strained {
		if s.bonds[0]&r.bonds[0] == r.bonds[0] && s.bonds[1]&r.bonds[1] == r.bonds[1] {
			total += strain[r.atoms.len()]
		}
	}
	for b := m.ownBonds; b < len(m.ends); b++ {
		if !s.bonds.has(b) {
			continue
		}
		if r, ok := m.smallestRing(s, b, func(int) bool { return true }); ok && r.atoms.len() < len(strain) {
			total += strain[r.atoms.len()]
		}
	}
	return total
}

func orElse(value, other float64) float64 {
	if value == 0 {
		return other
	}
	return value
}

// conjugations counts the other pi bonds joined by a single bond to the pi
// bond i=j, each pair once from each side.
func (m *molecule) conjugations(s *skeleton, b *bonding, i, j int) int {
	n := 0
	for _, at := range [2]int{i, j} {
		for _, half := range b.at(at) {
			to := int(half.to)
			if to == i || to == j {
				continue
			}
			if pi, _ := b.piAt(to); pi > 0 {
				n++
			}
		}
	}
	return n
}

// aromaticRings counts the molecule's aromatic rings that s still holds whole,
// no ring atom having gained a neighbour or hydrogen.
func (m *molecule) aromaticRings(s *skeleton, b *bonding) int {
	n := 0
	for _, ring := range m.aromatic {
		if ring.atoms.minus(s.atoms) != 0 || s.bonds[0]&ring.bonds[0] != ring.bonds[0] || s.bonds[1]&ring.bonds[1] != ring.bonds[1] {
			continue
		}
		whole := true
		for rest := ring.atoms; rest != 0; rest &= rest - 1 {
			i := rest.first()
			if m.atoms[i].element == iC && b.free[i] < 1 {
				whole = false
				break
			}
		}
		if whole {
			n++
		}
	}
	return n
}

// radicalStability is how much the neighbours of an unpaired electron on atom
// i hold it, relative to methyl, vinyl and the like (positive: more stable).
func (m *molecule) radicalStability(s *skeleton, b *bonding, i int) float64 {
	if m.atoms[i].element != iC {
		return 0.1
	}
	own, hetero := b.piAt(i)
	stable := 0.0
	switch {
	case own > 0 && hetero:
		stable += 0.25 // acyl
	case own > 0:
		stable -= 0.8 // vinyl, aryl
	}
	for _, half := range b.at(i) {
		to := int(half.to)
		pi, _ := b.piAt(to)
		switch {
		case pi > 0 && b.pi[half.bond] == 0 && own == 0:
			stable += 0.5 // allyl, benzyl
		case m.atoms[to].element == iC:
			stable += 0.12
		case m.atoms[to].element == iN:
			stable += 0.4
		case m.atoms[to].element == iO || m.atoms[to].element == iS:
			stable += 0.25
		}
	}
	return stable
}

// radicalIonization is the ionization energy of a radical with its electron
// on atom i.
func (m *molecule) radicalIonization(s *skeleton, b *bonding, i int) float64 {
	element := m.atoms[i].element
	ie := radicalIE[element]
	own, hetero := b.piAt(i)
	carbons, donors, conjugated, acceptors := 0, 0.0, 0, 0
	for _, half := range b.at(i) {
		to := int(half.to)
		if b.pi[half.bond] > 0 {
			continue
		}
		other := m.atoms[to].element
		pi, heteroPi := b.piAt(to)
		switch {
		case other == iC && pi > 0 && heteroPi:
			acceptors++
		case other == iC && pi > 0:
			conjugated++
		case other == iC:
			carbons++
		default:
			donors = max(donors, donorOnRadical[other])
		}
	}
	switch element {
	case iC:
		switch {
		case own >= 2: // ethynyl, cyano, ketenyl
			ie = 10.5
		case own == 1 && hetero: // acyl, iminoyl
			ie = 8.1 - 1.1*float64(min(carbons+conjugated, 1)) - 0.5*donors
		case own == 1: // vinyl, aryl
			ie = 8.8 - 0.3*float64(carbons) - 0.4*donors
		default:
			ie -= alkylOnRadical[min(carbons, 3)]
			if conjugated > 0 {
				ie = min(ie, 8.13) - 0.7*float64(min(conjugated, 2)-1) - 0.4*float64(carbons)
				if m.nextToAromatic(s, b, i) {
					ie -= 0.8
				}
			}
			ie -= donors / (1 + 0.25*float64(carbons+conjugated))
			ie += 0.4 * float64(acceptors)
		}
	case iSi:
		ie -= 0.53 * float64(carbons)
	default:
		ie -= 1.6 * float64(min(carbons+conjugated, 1))
		ie -= 0.5 * float64(max(carbons+conjugated-1, 0))
	}
	return max(ie-0.03*float64(min(s.atoms.len(), 20)), 5.5)
}

func (m *molecule) nextToAromatic(s *skeleton, b *bonding, i int) bool {
	for _, half := range b.at(i) {
		if m.atoms[half.to].aromatic && b.free[half.to] > 0 {
			return true
		}
	}
	return false
}

// moleculeIonization is the ionization energy of a closed-shell piece: the
// lowest over its lone pairs, pi bonds and aromatic rings, or that of an
// alkane. The site is the atom whose lone pair it is, -1 otherwise.
func (m *molecule) moleculeIonization(s *skeleton, b *bonding) (ie float64, site int) {
	size := s.atoms.len()
	ie, site = max(11.5-0.25*float64(size-2), 9.6), -1
	piBonds := 0
	for rest := s.atoms; rest != 0; rest &= rest - 1 {
		i := rest.first()
		element := m.atoms[i].element
		pi, _ := b.piAt(i)
		piBonds += pi
		if element == iC {
			if !m.atoms[i].aromatic || b.free[i] < 1 {
				ie = min(ie, m.alkeneIonization(s, b, i))
			}
			continue
		}
		carbons, withdrawn := 0, 0.0
		for _, half := range b.at(i) {
			if m.atoms[half.to].element == iC {
				carbons++
			}
			if other, hetero := b.piAt(int(half.to)); other > 0 && hetero && b.pi[half.bond] == 0 {
				withdrawn = 0.6
			}
		}
		own := moleculeIE[element].one - moleculeIE[element].perCarbon*float64(max(carbons-1, 0)) + withdrawn
		if pi > 0 {
			switch element {
			case iO:
				own = 10.1 // carbonyl
			case iN:
				own = 10.0 + 1.6*float64(pi-1) // imine, nitrile
			case iS:
				own = 9.0
			}
		}
		if own -= 0.03 * float64(min(size, 15)); own < ie {
			ie, site = own, i
		}
	}
	if rings := m.aromaticRings(s, b); rings > 0 {
		if arene := m.areneIonization(s, b, rings); arene < ie {
			ie, site = arene, -1
		}
	}
	return max(ie-0.04*float64(min(piBonds/2, 8)), 7.0), site
}

func (m *molecule) alkeneIonization(s *skeleton, b *bonding, i int) float64 {
	best := 99.0
	for _, half := range b.at(i) {
		to := int(half.to)
		if to < i || b.pi[half.bond] == 0 || m.atoms[to].element != iC {
			continue
		}
		substituents := b.degree(i) + b.degree(to) - 2
		ie := 10.5 - 0.7*float64(min(substituents, 3)) - 0.4*float64(min(m.conjugations(s, b, i, to), 2))
		if b.pi[half.bond] > 1 {
			ie += 0.7
		}
		best = min(best, ie)
	}
	return best
}

func (m *molecule) areneIonization(s *skeleton, b *bonding, rings int) float64 {
	ie := 9.25 - 0.45*float64(rings-1)
	for rest := s.atoms; rest != 0; rest &= rest - 1 {
		i := rest.first()
		if !m.atoms[i].aromatic {
			continue
		}
		for _, half := range b.at(i) {
			to := int(half.to)
			if m.atoms[to].aromatic {
				continue
			}
			pi, _ := b.piAt(to)
			switch {
			case m.atoms[to].element == iN && pi == 0:
				ie -= 1.2
			case m.atoms[to].element == iO && pi == 0:
				ie -= 0.7
			case pi > 0:
				ie += 0.15
			default:
				ie -= 0.2
			}
		}
	}
	return ie
}
