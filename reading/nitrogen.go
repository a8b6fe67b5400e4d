package reading

import (
	"fmt"

	"ionwright/chem"
)

// readNitrogenRule applies the rule to the first candidate.
func readNitrogenRule(d *desk) []Clue {
	if d.mol == 0 {
		return nil
	}
	c := Clue{Title: "Nitrogen rule", Peaks: []int{d.mol}, conditional: true}
	if d.mol%2 == 1 {
		c.Key = "nitrogen odd"
		c.Sentence = fmt.Sprintf("If m/z %d is the molecular ion, its odd mass means an odd number of nitrogen atoms.", d.mol)
		c.Suggests = []string{"an odd number of nitrogen atoms"}
		c.Alternatives = []string{fmt.Sprintf("m/z %d is a fragment and not the molecular ion", d.mol)}
		c.holds = func(t Truth) bool { return t.Formula.Count(chem.N)%2 == 1 }
		return []Clue{c}
	}
	c.Key = "nitrogen even"
	c.Sentence = fmt.Sprintf("If m/z %d is the molecular ion, its even mass means no nitrogen or an even number of nitrogen atoms.", d.mol)
	c.Suggests = []string{"no nitrogen atom"}
	c.Alternatives = []string{"two or four nitrogen atoms"}
	c.holds = func(t Truth) bool { return t.Formula.Count(chem.N) == 0 }
	return []Clue{c}
}
