package ionize

// proposeExtrusions offers the loss of a carbonyl, carbon dioxide-like or
// sulfonyl middle from between two groups, which then join.
func proposeExtrusions(x *expansion) {
	for rest := x.s.atoms; rest != 0; rest &= rest - 1 {
		i := rest.first()
		element := x.m.atoms[i].element
		if element != iC && element != iS {
			continue
		}
		if element == iC && !x.carbonyl(i) || element == iS && x.m.atoms[i].valence < 4 {
			continue
		}
		x.proposeMiddle(i)
	}
}

func (x *expansion) carbonyl(i int) bool {
	for _, half := range x.b.at(i) {
		if x.m.atoms[half.to].element == iO && x.b.pi[half.bond] > 0 {
			return true
		}
	}
	return false
}

// terminalOxygen reports whether atom i is an oxygen with one neighbour and no
// hydrogen.
func (x *expansion) terminalOxygen(i int) bool {
	return x.m.atoms[i].element == iO && x.b.degree(i) == 1 && x.s.hydrogen(i) == 0
}

// proposeMiddle removes atom i with its terminal oxygens and joins its two
// other neighbours.
func (x *expansion) proposeMiddle(i int) {
	gone := atomSet(0).with(i)
	var arms [4]int
	var armBonds [4]int
	n := 0
	for _, half := range x.b.at(i) {
		j := int(half.to)
		switch {
		case x.terminalOxygen(j):
			gone = gone.with(j)
		case n < 4:
			arms[n], armBonds[n] = j, int(half.bond)
			n++
		}
	}
	if n != 2 || gone.len() < 2 || x.s.hydrogen(i) > 0 {
		return
	}
	bond, ok := x.m.form(arms[0], arms[1])
	if !ok || x.s.bonds.has(bond) {
		return
	}
	ion := x.s.part(x.m, x.s.atoms.minus(gone))
	ion.bonds = ion.bonds.with(bond)
	if x.m.reach(&ion, arms[0], noBond, noBond) != ion.atoms {
		return
	}
	kind := Extrusion
	neutral := x.s.part(x.m, gone)
	if x.m.atoms[i].inRing && x.m.count(&neutral) == (counts{iC: 1, iO: 1}) {
		kind = CarbonMonoxideLoss
	}
	x.emit(proposal{
		kind: kind, ion: ion, neutral: neutral,
		cut: [2]int16{int16(armBonds[0]), int16(armBonds[1])}, formed: int16(bond),
	})
}

// proposeNitro offers the loss of nitrogen monoxide from a nitro group, one
// oxygen staying on the carbon.
func proposeNitro(x *expansion) {
	for rest := x.s.atoms; rest != 0; rest &= rest - 1 {
		i := rest.first()
		if x.m.atoms[i].element != iN || x.b.degree(i) != 3 || x.m.atoms[i].valence != 5 {
			continue
		}
		carrier, kept, lost := -1, -1, -1
		var cut [2]int16
		for _, half := range x.b.at(i) {
			j := int(half.to)
			switch {
			case x.terminalOxygen(j) && kept < 0:
				kept = j
				cut[1] = int16(half.bond)
			case x.terminalOxygen(j):
				lost = j
			default:
				carrier = j
				cut[0] = int16(half.bond)
			}
		}
		if carrier < 0 || kept < 0 || lost < 0 {
			continue
		}
		bond, ok := x.m.form(carrier, kept)
		if !ok || x.s.bonds.has(bond) {
			continue
		}
		gone := atomSet(0).with(i).with(lost)
		ion := x.s.part(x.m, x.s.atoms.minus(gone))
		ion.bonds = ion.bonds.with(bond)
		if x.m.reach(&ion, carrier, noBond, noBond) != ion.atoms {
			continue
		}
		x.emit(proposal{kind: NitroRearrangement, ion: ion, neutral: x.s.part(x.m, gone), cut: cut, formed: int16(bond)})
	}
}
