package chem

import "fmt"

// Plus returns the sum of f and g, charges included. It panics where the sum
// would need more than MaxSpecies species or MaxCount of one, which no sum of
// parts of one parsed molecule does.
func (f Formula) Plus(g Formula) Formula {
	sum := Formula{charge: chargeOf(int(f.charge) + int(g.charge))}
	i, j, at := 0, 0, 0
	for {
		var s, t Species
		if i < MaxSpecies {
			s = f.species[i]
		}
		if j < MaxSpecies {
			t = g.species[j]
		}
		if s == 0 && t == 0 {
			return sum
		}
		if at == MaxSpecies {
			panic("chem: the sum of two formulas has too many different species")
		}
		n := 0
		if t == 0 || s != 0 && s <= t {
			sum.species[at] = s
			n += int(f.counts[i])
			i++
		}
		if s == 0 || t != 0 && t <= s {
			sum.species[at] = t
			n += int(g.counts[j])
			j++
		}
		if n > MaxCount {
			panic("chem: the sum of two formulas has too many atoms of one species")
		}
		sum.counts[at] = uint16(n)
		at++
	}
}

// Minus returns f without g, the charge being the difference of both, and
// false where f doesn't contain all atoms of g.
func (f Formula) Minus(g Formula) (Formula, bool) {
	charge := int(f.charge) - int(g.charge)
	if charge != int(int16(charge)) {
		return Formula{}, false
	}
	rest := Formula{charge: int16(charge)}
	j, at := 0, 0
	for i, s := range f.species {
		if s == 0 {
			break
		}
		n := f.counts[i]
		if j < MaxSpecies && g.species[j] == s {
			if g.counts[j] > n {
				return Formula{}, false
			}
			n -= g.counts[j]
			j++
		}
		if n > 0 {
			rest.species[at], rest.counts[at] = s, n
			at++
		}
	}
	if j < MaxSpecies && g.species[j] != 0 {
		return Formula{}, false
	}
	return rest, true
}

// Contains tells whether f has all atoms of g; charges don't matter.
func (f Formula) Contains(g Formula) bool {
	j := 0
	for i, s := range f.species {
		if s == 0 {
			break
		}
		if j < MaxSpecies && g.species[j] == s {
			if g.counts[j] > f.counts[i] {
				return false
			}
			j++
		}
	}
	return j == MaxSpecies || g.species[j] == 0
}

// Times returns k times f, the charge too; k = 0 gives the empty formula. It
// panics where k is negative or the product is out of a Formula's range.
func (f Formula) Times(k int) Formula {
	if k < 0 {
		panic(fmt.Sprintf("chem: a formula can't be taken %d times", k))
	}
	if k == 0 {
		return Formula{}
	}
	if k > MaxCount && !f.IsEmpty() {
		panic("chem: the multiple of a formula has too many atoms of one species")
	}
	for at, n := range f.counts {
		product := int(n) * k
		if product > MaxCount {
			panic("chem: the multiple of a formula has too many atoms of one species")
		}
		f.counts[at] = uint16(product)
	}
	f.charge = chargeOf(int(f.charge) * k)
	return f
}

// Natural returns f with every label replaced by the element's natural
// mixture.
func (f Formula) Natural() Formula {
	natural := Formula{charge: f.charge}
	at := -1
	for i, s := range f.species {
		if s == 0 {
			break
		}
		s = NaturalSpecies(s.Element())
		if at < 0 || natural.species[at] != s {
			at++
			natural.species[at] = s
		}
		n := int(natural.counts[at]) + int(f.counts[i])
		if n > MaxCount {
			panic("chem: too many atoms of one element to take its labels off")
		}
		natural.counts[at] = uint16(n)
	}
	return natural
}
