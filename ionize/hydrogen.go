package ionize

// proposeHydrogenLosses offers the loss of one hydrogen atom from each kind of
// place that has one, and of a hydrogen molecule from the most willing pair.
func proposeHydrogenLosses(x *expansion) {
	var seen [64]uint32
	places := seen[:0]
	bestPair, bestRank := [2]int{-1, -1}, -1<<10
	for rest := x.s.atoms; rest != 0; rest &= rest - 1 {
		i := rest.first()
		if x.s.hydrogen(i) == 0 {
			continue
		}
		place := x.place(i)
		known := false
		for _, p := range places {
			known = known || p == place
		}
		if !known {
			places = append(places, place)
			x.loseAtom(i)
		}
		for _, half := range x.b.at(i) {
			j := int(half.to)
			if j < i || x.s.hydrogen(j) == 0 {
				continue
			}
			if rank := x.willing(i) + x.willing(j); rank > bestRank {
				bestPair, bestRank = [2]int{i, j}, rank
			}
		}
		if x.s.hydrogen(i) >= 2 && x.willing(i)-3 > bestRank {
			bestPair, bestRank = [2]int{i, i}, x.willing(i)-3
		}
	}
	if bestPair[0] >= 0 {
		ion := *x.s
		dropHydrogen(&ion, bestPair[0])
		dropHydrogen(&ion, bestPair[1])
		x.emit(proposal{kind: HydrogenMoleculeLoss, ion: ion, cut: [2]int16{noBond, noBond}, formed: noBond, gone: 2})
	}
}

func (x *expansion) loseAtom(i int) {
	ion := *x.s
	dropHydrogen(&ion, i)
	x.emit(proposal{kind: HydrogenAtomLoss, ion: ion, cut: [2]int16{noBond, noBond}, formed: noBond, gone: 1})
}

func dropHydrogen(s *skeleton, i int) { s.hydrogens[i]-- }

// place is a small code of an atom's surroundings: atoms with the same code
// lose a hydrogen with the same ease.
func (x *expansion) place(i int) uint32 {
	code := uint32(x.m.atoms[i].element)<<8 | uint32(x.s.hydrogens[i])
	sum := uint32(0)
	for _, half := range x.b.at(i) {
		sum += 1 << (2 * uint32(x.m.atoms[half.to].element))
		sum += uint32(x.b.pi[half.bond]) << 22
		if pi, _ := x.b.piAt(int(half.to)); pi > 0 {
			sum += 1 << 24
		}
	}
	return code<<16 ^ sum*2654435761
}

// willing ranks how easily an atom gives up a hydrogen.
func (x *expansion) willing(i int) int {
	rank := 0
	if pi, _ := x.b.piAt(i); pi > 0 {
		rank -= 4
	}
	if x.b.left[i] > 0 {
		rank -= 2
	}
	for _, half := range x.b.at(i) {
		j := int(half.to)
		if pi, _ := x.b.piAt(j); pi > 0 {
			rank += 2
		}
		if x.b.left[j] > 0 {
			rank += 3 // next to the empty orbital
		}
		if x.m.atoms[j].element != iC {
			rank++
		}
	}
	return rank
}
