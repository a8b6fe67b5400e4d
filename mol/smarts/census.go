package smarts

// A census counts the atoms and bonds of certain classes, 7 standing for 7
// and more: 16 counts of four bits a word, the top bit of each kept clear. A
// pattern whose census exceeds a molecule's in any class can't match it.
//
// The first word counts atoms by symbol, each in one class; the second by
// atomClasses and the third, the bonds, by bondClasses, each in any number
// of classes.
type census [3]uint64

const (
	countTops  = 0x8888_8888_8888_8888
	countWidth = 4
)

// within says whether no count of c exceeds that of d.
func (c *census) within(d *census) bool {
	// With its top bit set no count of d borrows from the next; the top bit
	// survives the subtraction where the count of c isn't larger.
	return ((d[0]|countTops)-c[0])&((d[1]|countTops)-c[1])&((d[2]|countTops)-c[2])&countTops == countTops
}

// plus returns the counts with more, of which each count is 0 or 1, added.
func plus(counts, more uint64) uint64 {
	sum := counts + more
	return sum - (sum&countTops)>>3 // 8 becomes 7
}

// newCensus counts what every match of a query has.
func newCensus(q *query, envs *environments) (c census) {
	symbols := make([]valueSet, len(q.atoms))
	for i, a := range q.atoms {
		symbols[i] = a.expr.possible(fieldSymbol, envs)
		hs := a.expr.possible(fieldHs, envs)
		charge := a.expr.possible(fieldCharge, envs)
		inRing := a.expr.possible(fieldInRing, envs).within(values(1))
		for class, members := range symbolMembers {
			if symbols[i].within(members) {
				c[0] = plus(c[0], 1<<(class*countWidth))
			}
		}
		for k, class := range atomClasses {
			if symbols[i].within(class.symbols) && hs.within(class.hs) && charge.within(class.charge) && (inRing || !class.inRing) {
				c[1] = plus(c[1], 1<<(k*countWidth))
			}
		}
	}
	for _, b := range q.bonds {
		for k, class := range bondClasses {
			straight := symbols[b.a].within(class.begin) && symbols[b.b].within(class.end)
			swapped := symbols[b.b].within(class.begin) && symbols[b.a].within(class.end)
			if b.mask.within(class.mask) && (straight || swapped) {
				c[2] = plus(c[2], 1<<(k*countWidth))
			}
		}
	}
	return c
}

// soleClass returns the one class by symbol in which all atoms are that can
// pass an expression, or -1.
func soleClass(e *expr, envs *environments) int8 {
	symbols := e.possible(fieldSymbol, envs)
	for class, members := range symbolMembers {
		if symbols.within(members) {
			return int8(class)
		}
	}
	return -1
}
