package infer

import (
	"cmp"
	"context"
	"math"
	"slices"
	"sync"

	"ionwright/chem"
	"ionwright/compose"
	"ionwright/reading/boost"
)

// FormulaModel ranks the formulas of a nominal mass.
type FormulaModel struct {
	Trees  *boost.Ensemble
	Honest Curve // makes the probabilities honest

	lists sync.Map // nominal mass → []composition
}

func (m *FormulaModel) parts() []part {
	return []part{treesPart(&m.Trees), numbersPart(&m.Honest)}
}

// Formula is a formula with its probability.
type Formula struct {
	Formula     chem.Formula
	Probability float64
	Reasons     []Contribution // what moved it from the mean of its rivals, strongest first
}

// Contribution is how much a named feature moved a score, in natural
// logarithms of the odds.
type Contribution struct {
	Feature string
	Value   float64 // of the feature
	Weight  float64
}

// compositionElements are counted in a composition, in the order of the
// questions, before carbon and hydrogen.
var compositionElements = [...]chem.Element{chem.N, chem.O, chem.S, chem.Cl, chem.Br, chem.F, chem.Si, chem.P, chem.I}

// limits of the formulas that are looked at. They hold 99 of 100 compounds of
// the spectra of the fit.
var mostOf = [...]int{6, 10, 3, 5, 3, 7, 5, 2, 2}

const (
	mostFormulaMass = 600
	formulaKept     = 80 // by the network's answers alone, before the full look
)

// composition is a candidate formula in counts.
type composition struct {
	formula chem.Formula
	counts  [len(compositionElements)]int8
	c, h    int16
	dbe     int16
}

// markerSets lists the counts of S, Cl, Br, F, Si, P and I that go together:
// at most two of the elements.
var markerSets = sync.OnceValue(func() [][len(compositionElements)]int8 {
	var out [][len(compositionElements)]int8
	var none [len(compositionElements)]int8
	out = append(out, none)
	for a := 2; a < len(mostOf); a++ {
		for n := 1; n <= mostOf[a]; n++ {
			one := none
			one[a] = int8(n)
			out = append(out, one)
			for b := a + 1; b < len(mostOf); b++ {
				for k := 1; k <= mostOf[b] && n+k <= 6; k++ {
					two := one
					two[b] = int8(k)
					out = append(out, two)
				}
			}
		}
	}
	return out
})

// compositions returns the candidates of a nominal mass: closed shells with
// carbon, C, H, N and O and at most two further elements.
func (m *FormulaModel) compositions(mass int) []composition {
	if list, ok := m.lists.Load(mass); ok {
		return list.([]composition)
	}
	list := enumerate(mass)
	m.lists.Store(mass, list)
	return list
}

func enumerate(mass int) []composition {
	if mass < 12 || mass > mostFormulaMass {
		return nil
	}
	var out []composition
	atoms := func(e chem.Element, least, most int) compose.Range {
		return compose.Range{Species: chem.NaturalSpecies(e), Min: least, Max: most}
	}
	for _, set := range markerSets() {
		rest := mass
		elements := []compose.Range{atoms(chem.C, 1, mass/12), atoms(chem.H, 0, mass), atoms(chem.N, 0, mostOf[0]), atoms(chem.O, 0, mostOf[1])}
		for k := 2; k < len(set); k++ {
			if set[k] > 0 {
				rest -= int(set[k]) * compositionElements[k].Principal().MassNumber
				elements = append(elements, atoms(compositionElements[k], int(set[k]), int(set[k])))
			}
		}
		if rest < 12 {
			continue
		}
		space := compose.Space{Elements: elements, DBE: &compose.Interval{Min: 0, Max: 30}, Electrons: compose.EvenElectrons}
		for f, err := range space.EachNominal(context.Background(), mass) {
			if err != nil {
				break // the space is fixed: it can't fail
			}
			c := composition{formula: f, c: int16(f.Count(chem.C)), h: int16(f.Count(chem.H)), dbe: int16(f.DBE()), counts: set}
			c.counts[0], c.counts[1] = int8(f.Count(chem.N)), int8(f.Count(chem.O))
			if hetero := f.Atoms() - int(c.c) - int(c.h); hetero > 2*int(c.c)+3 || int(c.dbe) > int(c.c)+2 {
				continue
			}
			out = append(out, c)
		}
	}
	return out
}

// answers are the network's answers about elements as log-probabilities by
// count.
type answers struct {
	byElement [len(compositionElements)][12]float64
	dbe       [18]float64
	carbon    [32]float64
}

// readAnswers turns the network's log-odds of "at least n" into
// log-probabilities of n.
func readAnswers(scores []float32) *answers {
	a := &answers{}
	at := len(Groups)
	for k, e := range compositionElements {
		at = chain(scores, at, e, a.byElement[k][:])
	}
	at = chain(scores, at, 0, a.dbe[:])
	carbonChain(scores, at, a.carbon[:])
	return a
}

// chain reads the run of questions about one element that starts at place at
// of the scores and returns the place after it.
func chain(scores []float32, at int, e chem.Element, out []float64) int {
	prev := 1.0
	n := 0
	for at-len(Groups) < len(questions) && questions[at-len(Groups)].element == e {
		p := min(prev, sigmoid(float64(scores[at])))
		out[n] = math.Log(prev - p + 1e-4)
		prev = p
		n++
		at++
	}
	for ; n < len(out); n++ {
		out[n] = math.Log(prev + 1e-4)
		prev *= 0.4
	}
	return at
}

// carbonChain is chain for carbon, whose questions skip some counts.
func carbonChain(scores []float32, at int, out []float64) {
	prev, from := 1.0, 0
	fill := func(to int, p float64) {
		for n := from; n < to && n < len(out); n++ {
			out[n] = math.Log((prev-p)/float64(to-from) + 1e-4)
		}
		prev, from = p, to
	}
	for k := at - len(Groups); k < len(questions); k++ {
		fill(questions[k].least, min(prev, sigmoid(float64(scores[at]))))
		at++
	}
	fill(len(out), 0)
}

func sigmoid(x float64) float64 { return 1 / (1 + math.Exp(-x)) }

// The features of a candidate formula.
var formulaFeatureNames = makeFormulaFeatureNames()

func makeFormulaFeatureNames() []string {
	names := []string{"what the fragments say about the elements", "the same against the best rival", "rank by the elements"}
	for _, e := range compositionElements {
		names = append(names, "fragments on the number of "+e.Symbol())
	}
	names = append(names, "fragments on rings and double bonds", "fragments on the number of C")
	for _, e := range compositionElements {
		names = append(names, "number of "+e.Symbol())
	}
	return append(names, "number of C", "number of H", "rings and double bonds", "H per C", "heteroatoms per C",
		"M+1 against the isotope pattern", "M+2 against the isotope pattern", "M+4 against the isotope pattern", "intensity of the molecular ion",
		"ion current that no part of the formula explains", "peaks that no part of the formula explains", "the same for the upper half", "rings and double bonds per C", "mass")
}

// formulaRows returns the candidates that pass the network's answers, best
// first, and their features.
func (m *FormulaModel) formulaRows(v *View, mass int, scores []float32) ([]composition, [][]float32) {
	list := m.compositions(mass)
	if len(list) == 0 {
		return nil, nil
	}
	a := readAnswers(scores)
	type scored struct {
		at    int
		score float64
	}
	all := make([]scored, len(list))
	for i := range list {
		all[i] = scored{i, a.score(&list[i])}
	}
	slices.SortFunc(all, func(x, y scored) int { return cmp.Or(cmp.Compare(y.score, x.score), cmp.Compare(x.at, y.at)) })
	all = all[:min(len(all), formulaKept)]
	kept := make([]composition, len(all))
	rows := make([][]float32, len(all))
	var peaks []int
	var current, upper float32
	for mz := max(v.Low, 24); mz < mass && mz <= v.Top; mz++ {
		if r := v.at(mz); r >= 1 && r > 0.12*v.at(mz-1) {
			peaks = append(peaks, mz)
			current += r
			if 2*mz > mass {
				upper += r
			}
		}
	}
	reach := make([]bool, mass+1)
	for i, s := range all {
		c := &list[s.at]
		kept[i] = *c
		f := make([]float32, 0, len(formulaFeatureNames))
		f = append(f, float32(s.score), float32(s.score-all[0].score), float32(i))
		for k := range compositionElements {
			f = append(f, float32(a.byElement[k][c.counts[k]]))
		}
		f = append(f, float32(a.dbe[min(int(c.dbe), len(a.dbe)-1)]), float32(a.carbon[min(int(c.c), len(a.carbon)-1)]))
		hetero := 0
		for _, n := range c.counts {
			f = append(f, float32(n))
			hetero += int(n)
		}
		f = append(f, float32(c.c), float32(c.h), float32(c.dbe), float32(c.h)/float32(c.c), float32(hetero)/float32(c.c))
		f = append(f, isotopeMisfit(v, mass, c)...)
		c.reach(reach)
		var lost, lostUpper, count float32
		for _, mz := range peaks {
			if !reach[mz] {
				r := v.at(mz)
				lost += r
				count++
				if 2*mz > mass {
					lostUpper += r
				}
			}
		}
		f = append(f, lost/max(current, 1), count, lostUpper/max(upper, 1), float32(c.dbe)/float32(c.c), float32(mass))
		rows[i] = f
	}
	return kept, rows
}

func (a *answers) score(c *composition) float64 {
	s := a.dbe[min(int(c.dbe), len(a.dbe)-1)] + 0.5*a.carbon[min(int(c.c), len(a.carbon)-1)]
	for k := range compositionElements {
		s += a.byElement[k][c.counts[k]]
	}
	return s
}

// isotope ratios to the lightest isotope: one and two above.
var ratioOne = [len(compositionElements)]float64{0.00365, 0.00038, 0.0079, 0, 0, 0, 0.0508, 0, 0}
var ratioTwo = [len(compositionElements)]float64{0, 0.00205, 0.0447, 0.3200, 0.9728, 0, 0.0335, 0, 0}

// isotopeMisfit is the difference of measured and expected ratios one, two and
// four above the molecular ion, and its intensity; -9 where it can't be seen.
func isotopeMisfit(v *View, mass int, c *composition) []float32 {
	r := v.At(mass)
	if r < 2 {
		return []float32{-9, -9, -9, float32(r)}
	}
	one := 0.0108157*float64(c.c) + 0.000115*float64(c.h)
	two, four := 0.0, 0.0
	for k, n := range c.counts {
		one += float64(n) * ratioOne[k]
		two += float64(n) * ratioTwo[k]
	}
	cl, br := float64(c.counts[3])*ratioTwo[3], float64(c.counts[4])*ratioTwo[4]
	four = cl * br
	if c.counts[3] > 1 {
		four += cl * ratioTwo[3] * float64(c.counts[3]-1) / 2
	}
	if c.counts[4] > 1 {
		four += br * ratioTwo[4] * float64(c.counts[4]-1) / 2
	}
	two += one * one / 2
	return []float32{float32(v.At(mass+1)/r - one), float32(v.At(mass+2)/r - two), float32(v.At(mass+4)/r - four), float32(r)}
}

// reach marks the nominal masses of the parts of a composition that can be
// ions: heavy atoms of it with as many hydrogens as valences and a proton allow, no more
// rings plus double bonds than it has and two, and a rest that is one, two or
// three molecules.
func (c *composition) reach(mark []bool) {
	clear(mark)
	heavy := func(k int) (n, mass int) {
		return int(c.counts[k]), compositionElements[k].Principal().MassNumber
	}
	var marks [2]int // the further elements that are there
	found := 0
	for k := 2; k < len(c.counts); k++ {
		if c.counts[k] > 0 && found < 2 {
			marks[found] = k
			found++
		}
	}
	n0, m0 := 0, 0
	n1, m1 := 0, 0
	v0, v1 := 0, 0 // valence - 2 of the further elements
	if found > 0 {
		n0, m0 = heavy(marks[0])
		v0 = compositionElements[marks[0]].Valence() - 2
	}
	if found > 1 {
		n1, m1 = heavy(marks[1])
		v1 = compositionElements[marks[1]].Valence() - 2
	}
	twiceFull := 2 * int(c.dbe)
	for x := range n0 + 1 {
		for y := range n1 + 1 {
			for n := range int(c.counts[0]) + 1 {
				for o := range int(c.counts[1]) + 1 {
					for k := range int(c.c) + 1 {
						free := 2 + 2*k + n + x*v0 + y*v1 // twice the rings plus double bonds without hydrogen
						most := min(int(c.h), free+1)
						least := max(0, free-twiceFull-4)
						restFree := 2 + 2*(int(c.c)-k) + int(c.counts[0]) - n + (n0-x)*v0 + (n1-y)*v1
						least = max(least, int(c.h)-restFree-5)
						mass := 12*k + 14*n + 16*o + m0*x + m1*y
						for h := least; h <= most; h++ {
							mark[mass+h] = true
						}
					}
				}
			}
		}
	}
}

// Rank returns the formulas of a nominal mass, most probable first, for a view
// and the network's scores with that mass as the molecular ion. Probabilities
// sum to 1 at most; the rest is that of a formula that isn't looked at. There
// are none for masses under 12 or over 600 Da. Reasons are filled for the first explain formulas.
func (m *FormulaModel) Rank(v *View, mass int, scores []float32, explain int) []Formula {
	kept, rows := m.formulaRows(v, mass, scores)
	if len(kept) == 0 {
		return nil
	}
	points := m.Probabilities(rows)
	order := make([]int, len(kept))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(points[b], points[a]) })
	out := make([]Formula, len(kept))
	for place, i := range order {
		out[place] = Formula{Formula: kept[i].formula, Probability: points[i]}
		if place < explain {
			out[place].Reasons = m.explain(rows[i])
		}
	}
	return out
}

// Probabilities returns how probable each of the candidates of one spectrum is,
// from their features. There must be one.
func (m *FormulaModel) Probabilities(rows [][]float32) []float64 {
	points := m.Trees.Scores(rows)
	softmax(points)
	sum := 0.0
	for i := range points {
		points[i] = m.Honest.At(points[i]) + 1e-9*points[i] // no ties where the curve is flat
		sum += points[i]
	}
	for i := range points {
		points[i] /= max(sum, 1)
	}
	return points
}

func (m *FormulaModel) explain(row []float32) []Contribution {
	contributions := make([]float64, m.Trees.Width())
	m.Trees.Explain(row, contributions)
	var out []Contribution
	for k, w := range contributions {
		if math.Abs(w) >= 0.05 {
			out = append(out, Contribution{formulaFeatureNames[k], float64(row[k]), w})
		}
	}
	slices.SortStableFunc(out, func(a, b Contribution) int { return cmp.Compare(math.Abs(b.Weight), math.Abs(a.Weight)) })
	return out
}

// FormulaRows exposes the kept candidates and their features to the fit.
func (m *FormulaModel) FormulaRows(v *View, mass int, scores []float32) ([]chem.Formula, [][]float32) {
	kept, rows := m.formulaRows(v, mass, scores)
	out := make([]chem.Formula, len(kept))
	for i := range kept {
		out[i] = kept[i].formula
	}
	return out, rows
}
