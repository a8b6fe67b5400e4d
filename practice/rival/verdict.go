package rival

import (
	"fmt"
	"slices"
	"strings"

	"ionwright/chem"
	"ionwright/mol"
	"ionwright/mol/smiles"
	"ionwright/spectrum"
)

// verdict tells how well the rival, whose computed spectrum is given, can be
// told from the answer.
func (s *search) verdict(r *Rival, computed spectrum.Spectrum) Verdict {
	likeness := r.Likeness
	v := Apart
	switch {
	case likeness >= SameFrom:
		v = Same
	case likeness >= CloseFrom:
		v = Close
	}
	if others, same := places(s.answer.Mol, r.Mol); others {
		// Measured spectra say more here than computed ones: see doc.go.
		if same {
			return Same
		}
		return max(v, Close)
	}
	if s.telling(computed) > 0 {
		return Apart
	}
	return v
}

// What a telling ion needs, in % of the base peak.
const (
	tellingGiven  = 5.0 // in the spectrum given
	tellingAnswer = 1.0 // computed for the answer, at least
	tellingTimes  = 5.0 // as much as for the rival, at least
	tellingFrom   = 40  // m/z; what is below is common to many compounds
)

// telling finds an odd-electron fragment in the spectrum given, which only a
// rearrangement or the loss of a molecule makes, that the answer gives and the
// rival doesn't; its m/z, or 0. A reader goes by such an ion even where it is
// weak.
func (s *search) telling(computed spectrum.Spectrum) int {
	mass := s.answer.Mol.Formula().NominalMass()
	for _, ion := range s.answer.Prediction.Ions {
		if !ion.OddElectron || ion.MZ < tellingFrom || ion.MZ >= mass {
			continue
		}
		answer, rival := s.computed.Relative(ion.MZ), computed.Relative(ion.MZ)
		if s.spectrum.Relative(ion.MZ) >= tellingGiven && answer >= tellingAnswer && answer >= tellingTimes*rival {
			return ion.MZ
		}
	}
	return 0
}

// places tells whether two molecules differ only in the places of the
// substituents of their one benzene ring, and whether spectra of such a pair
// are the same: where both or neither have neighboring substituents, or all of
// these are alkyl groups.
func places(a, b *mol.Mol) (others, same bool) {
	x, okX := substituents(a)
	y, okY := substituents(b)
	if !okX || !okY || !slices.Equal(x.groups, y.groups) || x.places == y.places {
		return false, false
	}
	return true, x.neighbors == y.neighbors || x.alkyl
}

// ring describes a substituted benzene ring.
type ring struct {
	groups    []string // as SMILES, sorted
	places    string   // SMILES of the molecule
	neighbors bool     // two of them are on neighboring atoms
	alkyl     bool     // all are alkyl groups
	at        []int    // places of the groups round the ring, from any atom
}

// substituents takes the one benzene ring of a molecule apart; false where
// there is none, several, or fewer than two groups on it.
func substituents(m *mol.Mol) (ring, bool) {
	var atoms []int32
	for _, r := range m.Rings() {
		if len(r) == 6 && !slices.ContainsFunc(r, func(v int32) bool { a := m.Atom(int(v)); return a.Element != chem.C || !a.Aromatic }) {
			if atoms != nil {
				return ring{}, false
			}
			atoms = r
		}
	}
	out := ring{places: smiles.Canonical(m), alkyl: true}
	last := -1
	for i := range 2 * len(atoms) {
		v := int(atoms[i%len(atoms)])
		for _, nb := range m.Neighbors(v) {
			if slices.Contains(atoms, nb.Atom) {
				continue
			}
			if last == i-1 && last >= 0 {
				out.neighbors = true
			}
			last = i
			if i >= len(atoms) {
				continue
			}
			out.at = append(out.at, i)
			group, ok := beyond(m, int32(v), nb.Atom)
			if !ok {
				return ring{}, false // a ring fused to it
			}
			part, err := m.Induced(group)
			if err != nil {
				return ring{}, false
			}
			out.groups = append(out.groups, smiles.Canonical(part))
			for _, w := range group {
				if a := m.Atom(w); a.Element != chem.C || m.Degree(w)+int(a.Hydrogens) != 4 {
					out.alkyl = false
				}
			}
		}
	}
	slices.Sort(out.groups)
	return out, len(out.groups) >= 2
}

// pattern says where the groups stand on the ring: "1,3".
func (r ring) pattern() string {
	best := ""
	for _, first := range r.at {
		for _, way := range []int{1, -1} {
			var at []string
			for step := range 6 {
				if slices.Contains(r.at, (first+way*step+6)%6) {
					at = append(at, fmt.Sprint(step+1))
				}
			}
			if text := strings.Join(at, ","); best == "" || text < best {
				best = text
			}
		}
	}
	return best
}

// beyond lists the atoms on the far side of a bond; false where they lead back.
func beyond(m *mol.Mol, from, first int32) ([]int, bool) {
	group := []int{int(first)}
	for i := 0; i < len(group); i++ {
		for _, nb := range m.Neighbors(group[i]) {
			switch {
			case nb.Atom == from && i > 0:
				return nil, false
			case nb.Atom != from && !slices.Contains(group, int(nb.Atom)):
				group = append(group, int(nb.Atom))
			}
		}
	}
	slices.Sort(group)
	return group, true
}
