package mol

// Aromatize returns the molecule with aromaticity perceived: the marks of
// atoms and bonds are set anew from a Kekule form, so that Kekule and aromatic
// input come to the same. It returns m itself where nothing changes.
//
// The model is OpenSMILES': a ring of sp2 atoms whose pi electrons number
// 4n+2 is aromatic, each atom giving what the specification's table says (see
// piElectrons in this file's source for the rows). Rings are the relevant
// rings among the sp2 atoms (every ring that is no sum of shorter ones), and
// rings fused from up to six of them. A bond inside of such a fused ring is
// aromatic where some Kekule form makes it double, single otherwise (azulene's
// cross bond).
//
// Principled differences to RDKit's default model: the table's rows for
// three-bonded boron (no electron), for sulfoxides and sulfonium ions (two),
// for a cationic carbon with two neighbors as in the phenyl cation (one);
// silicon and tellurium stay localized because OpenSMILES has no aromatic
// symbol for them; atoms of a triple bond (arynes) are not sp2; a bridge of
// other atoms over a ring of sp2 atoms (1,6-methano[10]annulene) doesn't hide
// it.
func (m *Mol) Aromatize() *Mol {
	if m.perceived {
		return m
	}
	s := acquire()
	defer s.release()
	marks := m.perceive(s)
	if m.agrees(marks) {
		// The marks are right already; only the note of it is missing, and a
		// copy that shares everything can carry it.
		result := m.shallow()
		result.perceived = true
		return result
	}
	result := m.copied()
	result.apply(marks)
	return result
}

// Kekulize returns the molecule in one Kekule form: no atom or bond is marked
// aromatic. It returns m itself where none was.
func (m *Mol) Kekulize() (*Mol, error) {
	aromatic := false
	for i := range m.bonds {
		aromatic = aromatic || m.bonds[i].Order == Aromatic
	}
	for i := range m.atoms {
		aromatic = aromatic || m.atoms[i].Aromatic
	}
	if !aromatic {
		return m, nil
	}
	result := m.copied()
	result.perceived = false
	for i := range result.atoms {
		result.atoms[i].Aromatic = false
	}
	for i := range result.bonds {
		result.bonds[i].Order = result.bonds[i].kekule
	}
	return result, nil
}

// aromaticMarks says for each atom and bond, with 1, that it is aromatic;
// both are empty where none is.
type aromaticMarks struct {
	atoms, bonds []int32
}

// agrees tells whether the marks of m are those.
func (m *Mol) agrees(marks aromaticMarks) bool {
	for i := range m.atoms {
		if m.atoms[i].Aromatic != (len(marks.atoms) > 0 && marks.atoms[i] != 0) {
			return false
		}
	}
	for i := range m.bonds {
		if (m.bonds[i].Order == Aromatic) != (len(marks.bonds) > 0 && marks.bonds[i] != 0) {
			return false
		}
	}
	return true
}

// apply sets the marks in m, which isn't shared yet.
func (m *Mol) apply(marks aromaticMarks) {
	for i := range m.atoms {
		m.atoms[i].Aromatic = len(marks.atoms) > 0 && marks.atoms[i] != 0
	}
	for i := range m.bonds {
		b := &m.bonds[i]
		b.Order = b.kekule
		if len(marks.bonds) > 0 && marks.bonds[i] != 0 {
			b.Order, b.Stereo = Aromatic, NoStereo
		}
	}
	m.perceived = true
}

// perceive finds the aromatic atoms and bonds.
func (m *Mol) perceive(s *scratch) aromaticMarks {
	n := len(m.atoms)
	var pi, degree []int32
	for i := range m.atoms {
		if !m.RingAtom(i) {
			continue
		}
		electrons := m.piElectrons(i)
		if electrons < 0 {
			continue
		}
		if pi == nil {
			pi, degree = s.filled(n, -1), s.zeros(n)
		}
		pi[i] = electrons
	}
	if pi == nil {
		return aromaticMarks{}
	}
	members := m.sp2Core(s, pi, degree)
	if len(members) == 0 {
		return aromaticMarks{}
	}
	marks := aromaticMarks{s.zeros(n), s.zeros(len(m.bonds))}
	queue := s.ints(len(members))
	for _, root := range members {
		if degree[root] <= 0 {
			continue
		}
		// Take the atoms joined with root; degree -1 marks them taken.
		system := append(queue[:0], root)
		simple, electrons := true, int32(0)
		simple = degree[root] == 2
		degree[root] = -1
		for head := 0; head < len(system); head++ {
			at := system[head]
			electrons += pi[at]
			for _, nb := range m.Neighbors(int(at)) {
				if degree[nb.Atom] > 0 && m.bonds[nb.Bond].ring {
					simple = simple && degree[nb.Atom] == 2
					degree[nb.Atom] = -1
					system = append(system, nb.Atom)
				}
			}
		}
		if !simple {
			m.perceiveFused(s, system, pi, marks)
		} else if huckel(electrons) {
			for _, at := range system {
				marks.atoms[at] = 1
				for _, nb := range m.Neighbors(int(at)) {
					// Ring bonds to other sp2 atoms of the core lead on round
					// the ring: each atom has two.
					if m.bonds[nb.Bond].ring && degree[nb.Atom] < 0 && pi[nb.Atom] >= 0 {
						marks.bonds[nb.Bond] = 1
					}
				}
			}
		}
	}
	return marks
}

// sp2Core prunes from the atoms with pi electrons what is in no ring of such
// atoms, sets degree to the number of neighbors left (0 = pruned), and returns
// what is left.
func (m *Mol) sp2Core(s *scratch, pi, degree []int32) []int32 {
	queue := s.ints(len(m.atoms))[:0]
	members := s.ints(len(m.atoms))[:0]
	for i := range m.atoms {
		if pi[i] < 0 {
			continue
		}
		for _, nb := range m.Neighbors(i) {
			if m.bonds[nb.Bond].ring && pi[nb.Atom] >= 0 {
				degree[i]++
			}
		}
		if degree[i] < 2 {
			queue = append(queue, int32(i))
		}
		members = append(members, int32(i))
	}
	for len(queue) > 0 {
		at := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		degree[at] = 0
		pi[at] = -1
		for _, nb := range m.Neighbors(int(at)) {
			if m.bonds[nb.Bond].ring && pi[nb.Atom] >= 0 {
				degree[nb.Atom]--
				if degree[nb.Atom] == 1 {
					queue = append(queue, nb.Atom)
				}
			}
		}
	}
	kept := members[:0]
	for _, at := range members {
		if pi[at] >= 0 {
			kept = append(kept, at)
		}
	}
	return kept
}

// huckel tells whether the number is 4n+2.
func huckel(electrons int32) bool { return electrons >= 2 && electrons&3 == 2 }
