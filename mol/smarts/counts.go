package smarts

// The tables by which a target is counted: what one atom or bond of each
// kind adds to a census. They follow from atomClasses and bondClasses.

// atomKind numbers what atomClasses look at: the class by symbol, the
// hydrogens up to 4, ring membership, and the sign of the charge.
func atomKind(class uint8, hs, ring int, charge int8) int {
	sign := 0
	if charge > 0 {
		sign = 1
	} else if charge < 0 {
		sign = 2
	}
	return ((int(class)*5+min(hs, 4))*2+ring)*3 + sign
}

var atomCounts = func() (table [numSymbolClasses * 5 * 2 * 3]uint64) {
	for class, members := range symbolMembers {
		for hs := range 5 {
			for ring := range 2 {
				for _, charge := range []int8{0, 1, -1} {
					ones := uint64(0)
					for k, c := range atomClasses {
						if members.within(c.symbols) && c.hs.has(hs) && c.charge.has(int(uint8(charge))) && (ring == 1 || !c.inRing) {
							ones |= 1 << (k * countWidth)
						}
					}
					table[atomKind(uint8(class), hs, ring, charge)] = ones
				}
			}
		}
	}
	return table
}()

// pairKind numbers what bondClasses look at: the classes by symbol of the
// two atoms and the kind of bond.
func pairKind(a, b uint8, kind bondKind) int {
	return (int(a)*numSymbolClasses+int(b))*int(numKinds) + int(kind)
}

var bondCounts = func() (table [numSymbolClasses * numSymbolClasses * int(numKinds)]uint64) {
	for a, as := range symbolMembers {
		for b, bs := range symbolMembers {
			for kind := range numKinds {
				ones := uint64(0)
				for k, c := range bondClasses {
					straight := as.within(c.begin) && bs.within(c.end)
					swapped := bs.within(c.begin) && as.within(c.end)
					if c.mask.has(kind) && (straight || swapped) {
						ones |= 1 << (k * countWidth)
					}
				}
				table[pairKind(uint8(a), uint8(b), kind)] = ones
			}
		}
	}
	return table
}()
