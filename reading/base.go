package reading

import "fmt"

// readBasePeak names the strongest peak and the commonest meanings of it.
func readBasePeak(d *desk) []Clue {
	base := d.view.Base
	c := Clue{Key: "base", Title: "Base peak", Peaks: []int{base}}
	meanings := d.within(Common(base))
	switch {
	case base == d.mol:
		c.Key = "base is molecular ion"
		c.Sentence = fmt.Sprintf("The base peak, m/z %d, is %s the molecular ion itself: the molecule holds together well, as aromatic and other cyclic compounds do.", base, sure(d.molP))
		c.Suggests = []string{"a ring or an aromatic system"}
		c.Alternatives = []string{"a small molecule with no easy way to break"}
		c.holds = func(t Truth) bool { return t.Formula.DBE() >= 1 }
	case len(meanings) > 0:
		c.Key = fmt.Sprintf("base %d", base)
		c.Sentence = fmt.Sprintf("The base peak is m/z %d, to which all heights are compared; it is not the molecular ion but what forms most readily from it, commonly %s.", base, describeIon(meanings[0]))
		c.Suggests = []string{describeIon(meanings[0])}
		for _, m := range meanings[1:] {
			c.Alternatives = append(c.Alternatives, describeIon(m))
		}
		c.OnlyAtoms = true
		f := meanings[0].Formula
		c.holds = func(t Truth) bool { return t.Formula.Contains(f.WithCharge(0)) }
	default:
		c.Sentence = fmt.Sprintf("The base peak is m/z %d, to which all heights are compared; no common ion has this m/z.", base)
		c.Suggests = nil
	}
	return []Clue{c}
}

// describeIon words an assignment: "C₆H₅⁺, phenyl cation".
func describeIon(a Assignment) string {
	if a.Name == "" || a.Name == a.Formula.Unicode() {
		return ionText(a.Formula)
	}
	return ionText(a.Formula) + ", " + a.Name
}
