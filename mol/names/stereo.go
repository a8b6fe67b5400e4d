package names

import (
	"fmt"
	"strings"

	"ionwright/chem"
	"ionwright/mol"
)

// descriptors are the kinds of stereodescriptors that a name contains.
type descriptors uint8

const (
	bondMark   descriptors = 1 << iota // E, Z
	centerMark                         // R, S
	faceMark                           // cis, trans, endo, exo, alpha, beta
	otherMark                          // (+), D, meso
)

// marksIn returns the kinds of descriptors in the text of a stereodescriptor.
func marksIn(text string) descriptors {
	var marks descriptors
	for _, word := range strings.FieldsFunc(text, func(c rune) bool { return c < 'a' || c > 'z' }) {
		switch word {
		case "e", "z":
			marks |= bondMark
		case "r", "s", "ar", "as", "br", "bs", "cr", "cs", "dr", "ds":
			marks |= centerMark
		case "cis", "trans", "endo", "exo", "alpha", "beta":
			marks |= faceMark
		default:
			marks |= otherMark
		}
	}
	return marks | otherMark
}

// contradicts returns what a structure lacks that the descriptors of its name
// need, or "".
func (g *graph) contradicts(marks descriptors) string {
	double, center, ring := false, false, len(g.bonds) >= len(g.atoms)
	for _, b := range g.bonds {
		if b.order == 2 && !g.benzenoid(b) && g.atoms[b.a].element != chem.O && g.atoms[b.b].element != chem.O {
			double = true
		}
	}
	for i, a := range g.atoms {
		if !g.multiple(i) && g.hydrogens(i) <= 1 && a.element != chem.H && len(valences(a.element)) > 0 && valences(a.element)[0] > 2 {
			center = true
		}
	}
	switch {
	case marks&bondMark != 0 && !double:
		return "a double bond for the descriptor E or Z"
	case marks&centerMark != 0 && !center:
		return "a stereocenter for the descriptor R or S"
	case marks&faceMark != 0 && !double && !ring:
		return "a ring or double bond for a descriptor such as cis or trans"
	}
	return ""
}

// openStereo reports whether a structure has a carbon with four different
// neighbors, or a double bond outside of small rings with two different ones at
// each end.
func openStereo(m *mol.Mol) bool {
	classes := m.Classes()
	different := func(i, except int) bool { // the neighbors of atom i but one
		seen := map[int32]bool{}
		count := 0
		for _, nb := range m.Neighbors(i) {
			if int(nb.Atom) != except {
				seen[classes[nb.Atom]] = true
				count++
			}
		}
		if h := int(m.Atom(i).Hydrogens); h > 0 {
			seen[-1] = true
			count += h
		}
		return len(seen) == count
	}
	for i := range m.NumAtoms() {
		a := m.Atom(i)
		if a.Element == chem.C && !a.Aromatic && len(m.Neighbors(i))+int(a.Hydrogens) == 4 && different(i, -1) {
			return true
		}
	}
	for b := range m.NumBonds() {
		bond := m.Bond(b)
		begin, end := m.Atom(int(bond.Begin)), m.Atom(int(bond.End))
		if bond.Order != mol.Double || begin.Element != chem.C || end.Element != chem.C || m.RingBond(b) {
			continue
		}
		if different(int(bond.Begin), int(bond.End)) && different(int(bond.End), int(bond.Begin)) {
			return true
		}
	}
	return false
}

// stereoWords lists the descriptors that stand before a name with a hyphen.
var stereoWords = []string{
	"cis,cis", "trans,trans", "cis,trans", "trans,cis", "all-trans", "all-cis", "cis", "trans", "rac", "meso", "threo", "erythro", "endo", "exo",
	"syn", "anti", "alpha-d", "beta-d", "alpha-l", "beta-l", "dl", "d(+)", "d(-)", "l(+)", "l(-)", "l", "d", "ent", "e", "z",
}

// stereoAt reads a stereodescriptor with its hyphen: "(2R,3E)-", "cis-", "(+)-".
func (r *reader) stereoAt(p, limit int) (int, bool) {
	for _, word := range stereoWords {
		if r.has(p, limit, word) && r.has(p+len(word), limit, "-") {
			return p + len(word) + 1, true
		}
	}
	if !r.has(p, limit, "(") {
		return 0, false
	}
	end, ok := r.closing(p, limit)
	if !ok || !stereoText(r.s[p+1:end]) {
		return 0, false
	}
	end++
	if r.has(end, limit, "-") {
		end++
	}
	return end, true
}

// stereoText reports whether the text in parentheses is a list of descriptors.
// D and L are none here: (1-D) and (D6) are deuterium.
func stereoText(s string) bool {
	descriptor := false
	fields := strings.FieldsFunc(s, func(c rune) bool { return strings.ContainsRune("0123456789,'() ", c) })
	for _, f := range fields {
		for f != "" {
			n := 0
			for _, word := range []string{"alpha", "beta", "cis", "trans", "endo", "exo", "syn", "anti", "rac", "xi", "ar", "as", "br", "bs", "cr", "cs", "dr", "ds", "r", "s", "e", "z", "+", "-"} {
				if strings.HasPrefix(f, word) {
					n = len(word)
					break
				}
			}
			if n == 0 {
				return false
			}
			descriptor = true
			f = f[n:]
		}
	}
	return descriptor
}

// stereoLocants lists the locants of the descriptors E, Z, R and S between p
// and end, with the descriptor in the field to.
func (r *reader) stereoLocants(p, end int) []locant {
	var list []locant
	begin := -1
	for i := p; i < end; i++ {
		c := r.s[i]
		switch {
		case digit(c):
			if begin < 0 {
				begin = i
			}
		case begin >= 0 && (c == 'r' || c == 's' || c == 'e' || c == 'z') && !letter(r.s[i+1]):
			list = append(list, locant{at: begin, label: r.s[begin:i], to: string(c)})
			begin = -1
		case begin >= 0 && c >= 'a' && c <= 'd', c == '\'':
		default:
			begin = -1
		}
	}
	return list
}

// checkStereo compares the positions of stereodescriptors with the structure:
// E and Z need a double bond there, R and S a saturated atom. What the
// descriptors say isn't drawn.
func (a *assembly) checkStereo(s state) []state {
	for _, g := range a.groups {
		if g.kind != stereoMark {
			continue
		}
		for _, l := range g.locants {
			found := a.find(&s, l)
			if len(found) == 0 {
				if digit(l.label[0]) && l.label[len(l.label)-1] != '\'' && !a.candidate.bonds {
					a.wrong(l.at, fmt.Sprintf("%s has no position %s for the descriptor %s", a.what(), shown(l.label), shown(l.to)))
					return nil
				}
				continue
			}
			i := found[0]
			double := s.multiple(i) || s.atoms[i].pool
			if l.to == "e" || l.to == "z" {
				if !double {
					a.wrong(l.at, fmt.Sprintf("position %s of %s has no double bond for the descriptor %s", shown(l.label), a.what(), shown(l.to)))
					return nil
				}
			} else if double || s.hydrogens(i) > 1 {
				a.wrong(l.at, fmt.Sprintf("position %s of %s is no stereocenter for the descriptor %s", shown(l.label), a.what(), shown(l.to)))
				return nil
			}
		}
	}
	return []state{s}
}
