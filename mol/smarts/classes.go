package smarts

import "ionwright/chem"

// The classes of atoms by symbol. Every atom is in one.
const (
	classC = iota
	classAromaticC
	classN
	classAromaticN
	classO
	classAromaticO
	classS
	classAromaticS
	classF
	classCl
	classBr
	classI
	classSi
	classP
	classH
	classOther
	numSymbolClasses
)

// symbolClass gives the class of each value of fieldSymbol.
var symbolClass = func() (table [256]uint8) {
	for v := range table {
		table[v] = classOther
	}
	for v, class := range map[int]uint8{
		symbolOf(chem.C, false): classC, symbolOf(chem.C, true): classAromaticC,
		symbolOf(chem.N, false): classN, symbolOf(chem.N, true): classAromaticN,
		symbolOf(chem.O, false): classO, symbolOf(chem.O, true): classAromaticO,
		symbolOf(chem.S, false): classS, symbolOf(chem.S, true): classAromaticS,
		symbolOf(chem.F, false): classF, symbolOf(chem.Cl, false): classCl,
		symbolOf(chem.Br, false): classBr, symbolOf(chem.I, false): classI,
		symbolOf(chem.Si, false): classSi, symbolOf(chem.P, false): classP,
		symbolOf(chem.H, false): classH,
	} {
		table[v] = class
	}
	return table
}()

// symbolOf is the value of fieldSymbol of an element.
func symbolOf(e chem.Element, aromatic bool) int {
	if aromatic {
		return int(e) | 1<<fieldAromatic.shift
	}
	return int(e)
}

// symbolMembers gives the values of fieldSymbol in each class.
var symbolMembers = func() (members [numSymbolClasses]valueSet) {
	for v, class := range symbolClass {
		members[class].add(v)
	}
	return members
}()

// of is the set of the symbols in the given classes.
func of(classes ...int) (s valueSet) {
	for _, class := range classes {
		for w := range s {
			s[w] |= symbolMembers[class][w]
		}
	}
	return s
}

// An atomClass is a class of atoms that a census counts. A condition that
// isn't given is everyValue or false.
type atomClass struct {
	symbols, hs, charge valueSet
	inRing              bool
}

var (
	carbon   = of(classC, classAromaticC)
	nitrogen = of(classN, classAromaticN)
	oxygen   = of(classO, classAromaticO)
	sulfur   = of(classS, classAromaticS)
	anyAtom  = everyValue
	halogen  = of(classF, classCl, classBr, classI)
	charged  = outside(0)
)

// atomClasses are chosen for what tells molecules apart in the tables of
// functional groups; at most 16.
var atomClasses = [...]atomClass{
	{nitrogen, everyValue, everyValue, false},
	{oxygen, everyValue, everyValue, false},
	{sulfur, everyValue, everyValue, false},
	{halogen, everyValue, everyValue, false},
	{anyAtom, everyValue, everyValue, true},
	{anyAtom, everyValue, charged, false},
	{oxygen, outside(0), everyValue, false},
	{nitrogen, outside(0), everyValue, false},
	{nitrogen, values(2), everyValue, false},
	{sulfur, outside(0), everyValue, false},
	{of(classC), values(3), everyValue, false},
	{of(classC), values(2), everyValue, false},
	{of(classC), values(1), everyValue, false},
	{of(classC), values(0), everyValue, false},
	{of(classC), everyValue, everyValue, true},
	{of(classN, classO, classS), everyValue, everyValue, true},
}

// A bondClass is a class of bonds that a census counts, by the symbols of
// the two atoms in either direction.
type bondClass struct {
	begin, end valueSet
	mask       bondMask
}

// bondClasses are chosen like atomClasses; at most 16.
var bondClasses = [...]bondClass{
	{of(classC), of(classO), doubleBond},
	{of(classC), of(classC), doubleBond},
	{carbon, nitrogen, doubleBond},
	{anyAtom, anyAtom, doubleBond},
	{of(classC), nitrogen, tripleBond},
	{anyAtom, anyAtom, tripleBond},
	{anyAtom, anyAtom, aromaticBond},
	{anyAtom, anyAtom, ringBond},
	{of(classC), oxygen, singleBond},
	{of(classAromaticC), oxygen, singleBond},
	{of(classC), nitrogen, singleBond},
	{of(classAromaticC), nitrogen, singleBond},
	{of(classC), of(classAromaticC), singleBond},
	{nitrogen, oxygen, anyBond},
	{sulfur, oxygen, anyBond},
	{carbon, sulfur, singleBond},
}
