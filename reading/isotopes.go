package reading

import (
	"fmt"
	"math"
	"strings"

	"ionwright/chem"
)

// formulaOf is the marker as text: "ClBr₂", or "" for none.
func (m marker) String() string {
	var parts []string
	for _, e := range []struct {
		symbol string
		n      int
	}{{"Br", m.br}, {"Cl", m.cl}, {"S", m.s}, {"Si", m.si}} {
		if e.n == 1 {
			parts = append(parts, "one "+e.symbol)
		} else if e.n > 1 {
			parts = append(parts, fmt.Sprintf("%s %s", [...]string{2: "two", 3: "three", 4: "four", 5: "five", 6: "six"}[e.n], e.symbol))
		}
	}
	return list(parts, "and")
}

// holdsIn tells whether a compound has just these marker elements.
func (m marker) holdsIn(f chem.Formula) bool {
	return f.Count(chem.Cl) == m.cl && f.Count(chem.Br) == m.br && f.Count(chem.S) == m.s && f.Count(chem.Si) == m.si
}

// readIsotopes reads the cluster at the molecular ion and, where that is too
// weak, the pairs of fragments two apart.
func readIsotopePattern(d *desk) []Clue {
	var out []Clue
	if d.isSaturated(d.mol) {
		return nil // its height says nothing
	}
	if d.mol > 0 && d.rel(d.mol) >= 2 {
		out = append(out, clusterClue(d, d.mol)...)
	}
	if len(out) == 0 || d.rel(d.mol) < 2 {
		out = append(out, pairClues(d)...)
	}
	return out
}

func clusterClue(d *desk, mz int) []Clue {
	matches := d.readCluster(mz, true)
	if len(matches) == 0 {
		return nil
	}
	best := matches[0]
	c := Clue{Title: "Isotope pattern of the molecular ion", Probability: best.probability * d.molP, Peaks: []int{mz}}
	var seen []string
	for k := 1; k <= 8; k++ {
		if d.rel(mz+k) > 0 {
			c.Peaks = append(c.Peaks, mz+k)
			seen = append(seen, fmt.Sprintf("M+%d %s", k, percent(d.rel(mz+k)/d.rel(mz)*100)))
		}
	}
	measured := "no peak above it"
	if len(seen) > 0 {
		measured = strings.Join(seen, ", ") + " of the molecular ion"
	}
	m := best.marker
	c.holds = func(t Truth) bool { return m.holdsIn(t.Formula) }
	name := m.String()
	if name == "" {
		c.Key = "isotopes none"
		c.Sentence = fmt.Sprintf("The isotope peaks of m/z %d (%s) leave no room for chlorine, bromine, or more than a little sulfur or silicon.", mz, measured)
		if d.rel(mz+2) == 0 && d.rel(mz) < 30 {
			c.Sentence = fmt.Sprintf("Above m/z %d (%s) nothing asks for chlorine or bromine; one sulfur (M+2 about 4.5 %% of M) would be too weak to see.", mz, measured)
		}
		c.Suggests = []string{"no chlorine, bromine, sulfur or silicon"}
	} else {
		c.Key = "isotopes " + name
		var expected [patternReach + 1]float64
		m.withCarbons(float64(mz-m.mass)/15, &expected)
		c.Sentence = fmt.Sprintf("The isotope peaks of m/z %d (%s) fit %s: expected M+1 about %.0f %%, M+2 %.0f %%, M+4 %.0f %% of M.", mz, measured, name, expected[1]*100, expected[2]*100, expected[4]*100)
		c.Suggests = []string{name}
	}
	for _, other := range matches[1:] {
		if other.probability < 0.03 || len(c.Alternatives) == 3 {
			break
		}
		if text := other.String(); text != "" {
			c.Alternatives = append(c.Alternatives, text)
		} else {
			c.Alternatives = append(c.Alternatives, "none of chlorine, bromine, sulfur and silicon: an impurity or another ion two above")
		}
	}
	if len(c.Alternatives) == 0 && name != "" {
		c.Alternatives = []string{"another ion or an impurity at the same m/z"}
	}
	return []Clue{c}
}

// pairClues finds the strongest fragment pair two apart with the ratio of one
// chlorine or one bromine.
func pairClues(d *desk) []Clue {
	type pair struct {
		element string
		of      chem.Element
		ratio   float64
		words   string
	}
	var out []Clue
	for _, p := range []pair{{"Cl", chem.Cl, 0.32, "3:1"}, {"Br", chem.Br, 0.973, "1:1"}} {
		best := 0
		for mz := max(35, d.view.Low); mz+2 <= d.view.Top; mz++ {
			r := d.rel(mz)
			if r < 5 || d.mol > 0 && mz > d.mol {
				continue
			}
			if math.Abs(d.rel(mz+2)/r-p.ratio) > 0.08*p.ratio+0.02 || d.rel(mz+1) > 0.25*r || d.rel(mz-2) > 0.5*r {
				continue
			}
			if best == 0 || r > d.rel(best) {
				best = mz
			}
		}
		if best == 0 {
			continue
		}
		of := p.of
		out = append(out, Clue{
			Key:          "pair " + p.element,
			Title:        "A pair two apart",
			Sentence:     fmt.Sprintf("m/z %d (%s) and %d (%s) stand about %s, as fragments with one %s do.", best, percent(d.rel(best)), best+2, percent(d.rel(best+2)), p.words, strings.ToLower(of.Name())),
			Peaks:        []int{best, best + 2},
			Suggests:     []string{strings.ToLower(of.Name())},
			Alternatives: []string{"two fragments that happen to be two apart, such as CₙH₂ₙ₊₁⁺ and CₙH₂ₙ₋₁⁺"},
			holds:        func(t Truth) bool { return t.Formula.Count(of) > 0 },
		})
	}
	return out
}
