package names

import (
	"strings"
	"sync"
)

// suffixKind says what a suffix puts on the parent.
type suffixKind uint8

const (
	hydroxySuffix suffixKind = iota // ol
	thiolSuffix
	amineSuffix
	imineSuffix
	ketoneSuffix
	thioneSuffix
	chainAcid // the acid group is the end of the chain: oic acid, al, nitrile ...
	addedAcid // the acid group is bonded to the parent: carboxylic acid, carbaldehyde ...
	sulfonicSuffix
	sulfinicSuffix
	phosphonicSuffix
	boronicSuffix
	lactoneSuffix // butan-4-olide: C1 and the oxygen at the locant close a ring
	oxideSuffix   // on a ring nitrogen: pyridine 1-oxide
	chainSuffix   // a whole chain with its group: methanol in benzenemethanol
	bondSuffix    // yl, ylidene, ylidyne
	oxySuffix     // an oxygen that bonds: meth-oxy
)

type suffixDef struct {
	text string
	kind suffixKind
	form acidForm
	bond radicalKind
	tail *suffixDef // chainSuffix: the group at the chain's end
	size int        // chainSuffix: carbons of the chain, that of an acid counted
}

// suffixes lists the endings, IUPAC 2013 P-33.2, with the forms that older
// names use, and those of conjunctive names.
var suffixes = sync.OnceValue(func() []suffixDef {
	return append(conjunctive(), simpleSuffixes...)
})

var simpleSuffixes = []suffixDef{
	{text: "oic acid", kind: chainAcid, form: plainForm},
	{text: "oate", kind: chainAcid, form: anionForm},
	{text: "ohydrazide", kind: chainAcid, form: hydrazideForm},
	{text: "oyl", kind: chainAcid, form: acylForm},
	{text: "oamide", kind: chainAcid, form: amideForm},
	{text: "amide", kind: chainAcid, form: amideForm},
	{text: "anilide", kind: chainAcid, form: anilideForm},
	{text: "onitrile", kind: chainAcid, form: nitrileForm},
	{text: "nitrile", kind: chainAcid, form: nitrileForm},
	{text: "aldehyde", kind: chainAcid, form: aldehydeForm},
	{text: "al", kind: chainAcid, form: aldehydeForm},
	{text: "carboxylic acid", kind: addedAcid, form: plainForm},
	{text: "carboxylate", kind: addedAcid, form: anionForm},
	{text: "carboxamide", kind: addedAcid, form: amideForm},
	{text: "carboxanilide", kind: addedAcid, form: anilideForm},
	{text: "carboxaldehyde", kind: addedAcid, form: aldehydeForm},
	{text: "carbaldehyde", kind: addedAcid, form: aldehydeForm},
	{text: "carbonitrile", kind: addedAcid, form: nitrileForm},
	{text: "carbohydrazide", kind: addedAcid, form: hydrazideForm},
	{text: "carbonyl", kind: addedAcid, form: acylForm},
	{text: "sulfonic acid", kind: sulfonicSuffix, form: plainForm},
	{text: "sulfonate", kind: sulfonicSuffix, form: anionForm},
	{text: "sulfonamide", kind: sulfonicSuffix, form: amideForm},
	{text: "sulfonyl", kind: sulfonicSuffix, form: acylForm},
	{text: "sulfinic acid", kind: sulfinicSuffix, form: plainForm},
	{text: "sulfinate", kind: sulfinicSuffix, form: anionForm},
	{text: "phosphonic acid", kind: phosphonicSuffix, form: plainForm},
	{text: "phosphonate", kind: phosphonicSuffix, form: anionForm},
	{text: "boronic acid", kind: boronicSuffix, form: plainForm},
	{text: "oxide", kind: oxideSuffix},
	{text: "thiol", kind: thiolSuffix},
	{text: "thione", kind: thioneSuffix},
	{text: "amine", kind: amineSuffix},
	{text: "imine", kind: imineSuffix},
	{text: "one", kind: ketoneSuffix},
	{text: "ol", kind: hydroxySuffix},
	{text: "olide", kind: lactoneSuffix},
	{text: "ylidene", kind: bondSuffix, bond: ylidene},
	{text: "ylidyne", kind: bondSuffix, bond: ylidyne},
	{text: "yl", kind: bondSuffix, bond: yl},
	{text: "oxy", kind: oxySuffix},
}

// conjunctive lists the chains that conjunctive names put on a ring:
// benzenemethanol, naphthaleneacetic acid. CAS style; IUPAC 2013 P-51.1.2 names
// it and prefers substitutive names.
func conjunctive() []suffixDef {
	var list []suffixDef
	put := func(text string, size int, tail string) {
		for i := range simpleSuffixes {
			if def := &simpleSuffixes[i]; def.text == tail {
				list = append(list, suffixDef{text: text, kind: chainSuffix, tail: def, size: size})
				return
			}
		}
	}
	for i, stem := range []string{"meth", "eth", "prop", "but", "pent", "hex"} {
		for _, tail := range []string{"ol", "amine"} {
			put(stem+"an"+tail, i+1, tail)
		}
		put(stem+"anethiol", i+1, "thiol")
		if i < 2 {
			continue
		}
		for _, tail := range []string{"oic acid", "oate", "amide", "al"} {
			put(stem+"an"+tail, i+1, tail)
		}
		put(stem+"anenitrile", i+1, "nitrile")
	}
	for i, stem := range []string{"acet", "propion", "butyr", "valer"} {
		put(stem+"ic acid", i+2, "oic acid")
		put(stem+"ate", i+2, "oate")
		put(stem+"amide", i+2, "amide")
		put(stem+"onitrile", i+2, "nitrile")
		put(stem+"aldehyde", i+2, "al")
	}
	return list
}

// suffixAt returns the suffixes that text begins with.
func suffixAt(text string) []*suffixDef {
	var found []*suffixDef
	list := suffixes()
	for i := range list {
		if strings.HasPrefix(text, list[i].text) {
			found = append(found, &list[i])
		}
	}
	return found
}

// suffixUse is a suffix as a name has it.
type suffixUse struct {
	at       int
	def      *suffixDef
	locants  []locant
	hydrogen []locant // added hydrogen: 2(1H)
	count    int
}

func (s suffixUse) bonds() bool {
	switch s.def.kind {
	case bondSuffix, oxySuffix:
		return true
	case chainAcid, addedAcid, sulfonicSuffix:
		return s.def.form == acylForm
	}
	return false
}

// unsaturation is one en or yn with its multiplier.
type unsaturation struct {
	at      int
	locants []locant
	count   int
	order   int // 2 or 3
}
