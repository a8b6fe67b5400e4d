package infer

import "ionwright/chem"

// question is one yes-or-no output of the network beside the groups: whether
// the formula has at least so many atoms of an element, or so many rings plus
// double bonds.
type question struct {
	element chem.Element // 0: rings plus double bonds
	least   int
}

// questions are asked in this order, after the groups. Those of one element
// stand together, ascending from 1.
var questions = makeQuestions()

func makeQuestions() []question {
	var out []question
	for _, e := range [...]struct {
		element chem.Element
		most    int
	}{{chem.N, 5}, {chem.O, 9}, {chem.S, 2}, {chem.Cl, 4}, {chem.Br, 3}, {chem.F, 4}, {chem.Si, 4}, {chem.P, 1}, {chem.I, 1}, {0, 16}} {
		for n := 1; n <= e.most; n++ {
			out = append(out, question{e.element, n})
		}
	}
	for _, n := range [...]int{2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 18, 20, 24} {
		out = append(out, question{chem.C, n})
	}
	return out
}

// holds answers the question for a formula.
func (q question) holds(f chem.Formula) bool {
	if q.element == 0 {
		return f.DBE() >= float64(q.least)
	}
	return f.Count(q.element) >= q.least
}

// Outputs is the number of outputs of the network: the groups, then the
// questions.
func Outputs() int { return len(Groups) + len(questions) }

// Labels returns the right outputs for a compound: 1 or 0.
func Labels(f chem.Formula, groups map[string]bool) []float32 {
	out := make([]float32, 0, Outputs())
	bit := func(b bool) {
		if b {
			out = append(out, 1)
		} else {
			out = append(out, 0)
		}
	}
	for _, g := range Groups {
		bit(groups[g.Name()])
	}
	for _, q := range questions {
		bit(q.holds(f))
	}
	return out
}

// NetInputs returns how many inputs the network has.
func NetInputs() int { return netInputs }
