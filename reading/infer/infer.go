package infer

import (
	"cmp"
	"slices"

	"ionwright/reading/net"
)

// Result is what is inferred from a view.
type Result struct {
	Ions     []Ion       // candidates for the molecular ion, most probable first
	Groups   []GroupCall // in the order of Groups, the first ScoredGroups or all
	Formulas []Formula   // of the first candidate's nominal mass, most probable first
	Mixed    bool        // the peaks look like those of two compounds at once; see PureAlarms
}

// Options say what is asked for.
type Options struct {
	Mass     int  // nominal mass in Da, 0 if not known
	Formulas bool // rank formulas
	Families bool // all of Groups, not only the first ScoredGroups
	Explain  int  // how many formulas and groups get reasons
}

// Infer returns the molecular ion, the groups and, if asked, the formulas of a
// view. An empty view gives an empty result. The probability of each formula
// includes that of the molecular ion it presumes.
func (m *Model) Infer(v *View, opt Options) Result {
	if v.Count == 0 {
		return Result{}
	}
	var r Result
	raw := []Ion{{MZ: opt.Mass, Probability: 1}}
	if opt.Mass > 0 {
		r.Ions = raw
	} else {
		raw = m.Ion.Raw(v)
		r.Ions = m.Ion.honest(v, slices.Clone(raw))
	}
	// The groups were fitted beside the raw candidates.
	row := Evidence(v, raw)
	inputs := netRow(v, raw, row, nil)
	scores := m.scores(inputs)
	count := ScoredGroups
	if opt.Families {
		count = len(Groups)
	}
	r.Groups = m.Groups.call(row, scores, count)
	r.Mixed = m.Mixture.Trees.Score(mixtureRow(v, raw, row)) >= m.Mixture.Alarm
	m.explainGroups(&r, v, raw, row, inputs, opt.Explain)
	if opt.Formulas {
		r.Formulas = m.formulas(v, r.Ions, opt)
	}
	return r
}

// explainGroups fills the reasons of the most probable groups.
func (m *Model) explainGroups(r *Result, v *View, raw []Ion, row []float32, inputs []net.Input, count int) {
	if count == 0 {
		return
	}
	order := make([]int, len(r.Groups))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(r.Groups[b].Probability, r.Groups[a].Probability) })
	for _, k := range order[:min(count, len(order))] {
		r.Groups[k].Reasons = m.Groups.reasons(k, v, raw, row, inputs, m.Networks)
	}
}

// formulas ranks the formulas of the likeliest masses together.
func (m *Model) formulas(v *View, ions []Ion, opt Options) []Formula {
	const masses, least = 3, 0.05
	var out []Formula
	for k, ion := range ions[:min(masses, len(ions))] {
		if k > 0 && ion.Probability < least {
			break
		}
		sure := []Ion{{MZ: ion.MZ, Probability: 1}}
		scores := m.scores(netRow(v, sure, Evidence(v, sure), nil))
		for _, f := range m.Formula.Rank(v, ion.MZ, scores, opt.Explain) {
			f.Probability *= ion.Probability
			out = append(out, f)
		}
	}
	slices.SortStableFunc(out, func(a, b Formula) int { return cmp.Compare(b.Probability, a.Probability) })
	return out
}
