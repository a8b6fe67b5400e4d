package isomer

import (
	"ionwright/chem"
)

// Form is a group whose usual drawing needs charges or more than the lowest
// valence of an element. The generator treats it as one atom.
type Form struct {
	Name    string
	Means   string // where it occurs
	Example string // SMILES
	kind    kind
}

// kind is one kind of vertex: an atom at its lowest valence, or a form.
type kind struct {
	name    string
	valence int
	// bare: no hydrogen may be on it, since moving that to another atom of the
	// form gives the structure at lowest valences that is meant.
	bare bool
	// double: its one bond is a double bond.
	double bool
	atoms  []part // the first is the one that is bound
}

// part is an atom of a kind, with its bond to the kind's first.
type part struct {
	element chem.Element
	charge  int8
	order   uint8
}

func atom(e chem.Element, valence int) kind {
	return kind{name: e.Symbol(), valence: valence, atoms: []part{{element: e}}}
}

// elements are the elements that have structures here, at their lowest
// valences, in the order of Hill's system.
func elements() []kind {
	return []kind{
		atom(chem.C, 4), atom(chem.N, 3), atom(chem.O, 2), atom(chem.S, 2), atom(chem.P, 3), atom(chem.Si, 4),
		atom(chem.F, 1), atom(chem.Cl, 1), atom(chem.Br, 1), atom(chem.I, 1),
	}
}

// Forms lists the groups beyond the lowest valences. What is built of one of
// them needs no form of its own: a nitro group is an N-oxide with a double
// bond to oxygen, an azide the two nitrogens of a diazo group on a third.
func Forms() []Form {
	oxide := part{element: chem.O, charge: -1, order: 1}
	oxo := part{element: chem.O, order: 2}
	return []Form{
		{"N-oxide", "nitro compounds, nitrates, amine oxides, nitrones, nitrile oxides", "C[N+](=O)[O-]",
			kind{name: "N-oxide", valence: 3, bare: true, atoms: []part{{element: chem.N, charge: 1}, oxide}}},
		{"isocyanide", "isocyanides", "C[N+]#[C-]",
			kind{name: "isocyanide", valence: 1, bare: true, atoms: []part{{element: chem.N, charge: 1}, {element: chem.C, charge: -1, order: 3}}}},
		{"diazo", "diazo compounds and azides", "C=[N+]=[N-]",
			kind{name: "diazo", valence: 2, bare: true, double: true, atoms: []part{{element: chem.N, charge: 1}, {element: chem.N, charge: -1, order: 2}}}},
		{"S-oxide", "sulfoxides, sulfinic acids and esters", "CS(C)=O",
			kind{name: "S-oxide", valence: 2, bare: true, atoms: []part{{element: chem.S}, oxo}}},
		{"S-dioxide", "sulfones, sulfonic acids, sulfonamides, sulfates", "CS(C)(=O)=O",
			kind{name: "S-dioxide", valence: 2, bare: true, atoms: []part{{element: chem.S}, oxo, oxo}}},
		{"P-oxide", "phosphine oxides, phosphonates, phosphates", "CP(C)(C)=O",
			kind{name: "P-oxide", valence: 3, atoms: []part{{element: chem.P}, oxo}}},
		{"P-sulfide", "phosphine sulfides, thiophosphates", "CP(C)(C)=S",
			kind{name: "P-sulfide", valence: 3, atoms: []part{{element: chem.P}, {element: chem.S, order: 2}}}},
	}
}

// of counts the atoms of an element in the kind.
func (k kind) of(e chem.Element) int {
	n := 0
	for _, a := range k.atoms {
		if a.element == e {
			n++
		}
	}
	return n
}
