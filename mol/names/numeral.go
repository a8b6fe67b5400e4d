package names

import "sync"

// maxChain is the longest chain a stem can name.
const maxChain = 100

// numeral is one numerical term: as the stem of a chain (hex in hexane) or as
// a multiplying prefix (hexa in hexachloro).
type numeral struct {
	text  string
	value int
}

// stems lists the stems of unbranched chains, meth (1) to hect (100), with the
// older spellings eicos and heneicos. IUPAC 2013 P-21.2.1.
var stems = sync.OnceValue(func() []numeral {
	list := []numeral{
		{"meth", 1}, {"eth", 2}, {"prop", 3}, {"but", 4}, {"pent", 5}, {"hex", 6},
		{"hept", 7}, {"oct", 8}, {"non", 9}, {"dec", 10}, {"undec", 11}, {"hendec", 11},
		{"icos", 20}, {"eicos", 20}, {"henicos", 21}, {"heneicos", 21}, {"uneicos", 21},
	}
	units := []string{"", "hen", "do", "tri", "tetra", "penta", "hexa", "hepta", "octa", "nona"}
	for unit := 2; unit <= 9; unit++ {
		list = append(list, numeral{units[unit] + "dec", 10 + unit})
		list = append(list, numeral{units[unit] + "cos", 20 + unit})
	}
	tens := []string{"triacont", "tetracont", "pentacont", "hexacont", "heptacont", "octacont", "nonacont"}
	for i, ten := range tens {
		for unit, prefix := range units {
			list = append(list, numeral{prefix + ten, 10*(i+3) + unit})
		}
	}
	return append(list, numeral{"hect", maxChain})
})

// multipliers lists the multiplying prefixes of simple substituents and
// suffixes. IUPAC 2013 P-14.2.
var multipliers = sync.OnceValue(func() []numeral {
	list := []numeral{
		{"mono", 1}, {"di", 2}, {"tri", 3}, {"tetra", 4}, {"tetr", 4}, {"pent", 5}, {"hex", 6},
	}
	for _, stem := range stems() {
		if stem.value >= 5 && stem.value <= 44 {
			list = append(list, numeral{stem.text + "a", stem.value})
		}
	}
	return list
})

// groupMultipliers lists the multiplying prefixes of compound substituents.
// IUPAC 2013 P-14.2.2.
var groupMultipliers = sync.OnceValue(func() []numeral {
	list := []numeral{{"bis", 2}, {"tris", 3}}
	for _, stem := range stems() {
		if stem.value >= 4 && stem.value <= 12 && stem.value != 11 {
			list = append(list, numeral{stem.text + "akis", stem.value})
		}
	}
	return append(list, numeral{"tetrakis", 4})
})
