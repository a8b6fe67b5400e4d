package smiles

import "ionwright/mol"

// chirality writes the arrangement of an atom's neighbors as it is in the
// order of the text.
func (w *writer) chirality(at int32, mark mol.Chirality) {
	mark = mark.Reorder(w.ligandOrder(at, mark))
	switch {
	case mark == mol.TH1 || mark == mol.AL1:
		w.out = append(w.out, '@')
	case mark == mol.TH2 || mark == mol.AL2:
		w.out = append(w.out, '@', '@')
	}
}

func (w *writer) ligandOrder(at int32, mark mol.Chirality) []int8 { return nil }

// direct chooses the marks / and \.
func (w *writer) direct() {}
