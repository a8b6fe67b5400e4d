// Package groups names the functional groups that an organic chemistry course
// teaches, and finds them in a structure.
//
// For most uses call [Find]. A group is a pattern of package smarts with a
// plain name and a line of explanation; the tables, a file a family, are in
// the order in which a course meets them. The groups overlap, as they do in
// the course: acetone is a ketone, a methyl ketone, and has an acetyl group.
// The package doesn't name whole molecules (see mol/names).
package groups

import (
	"slices"
	"sync"

	"ionwright/mol"
	"ionwright/mol/smarts"
)

// A Group is a functional group or a family of compounds.
type Group struct {
	Name   string  // what a student would call it, lower case: "methyl ketone"
	SMARTS string  // the pattern; its first atom is in the group itself
	Means  string  // one line: what makes it
	Has    Example // a compound that has it
	Lacks  Example // one that looks similar and hasn't
}

// An Example is a compound by its name and SMILES.
type Example struct{ Name, SMILES string }

// A Found is a group with the places where a structure has it.
type Found struct {
	Group Group
	Atoms [][]int // of each place the 0-based atoms, in the order of the pattern's atoms
}

// all joins the families' tables. Nothing changes it or what it holds.
var all = slices.Concat(hydrocarbons, alcoholsAndEthers, carbonyls, acids, amines, nitrogens, sulfurs, halogens, heavier)

// All returns every group, in the order of a course.
func All() []Group { return slices.Clone(all) }

// calledNames are the groups that a reading of a spectrum states a
// probability for, in the order in which it lists equals.
var calledNames = [...]string{
	"alcohol", "phenol", "ether", "aldehyde", "ketone", "carboxylic acid", "ester", "amide",
	"primary amine", "aliphatic amine", "aromatic amine", "nitrile", "nitro",
	"phenyl", "benzyl", "benzoyl", "methyl ketone", "acetyl", "sulfide or thiol",
	"chlorine", "bromine", "alkylsilyl",
}

// Called returns the groups that a reading of a spectrum states a probability
// for.
func Called() []Group {
	called := make([]Group, len(calledNames))
	for i, name := range calledNames {
		called[i], _ = ByName(name)
	}
	return called
}

// ByName returns the group of that name, and false where there is none.
func ByName(name string) (Group, bool) {
	i := index(name)
	if i < 0 {
		return Group{}, false
	}
	return all[i], true
}

func index(name string) int {
	return slices.IndexFunc(all, func(g Group) bool { return g.Name == name })
}

// Find returns the groups that the structure has, in the order of All. It
// goes by the groups' patterns except for three called groups whose patterns
// fit more than their names say: to Find an acid anhydride isn't an ester, an
// aromatic nitro compound isn't an aromatic amine, and a nitrate ester isn't a
// nitro compound.
func Find(m *mol.Mol) []Found {
	var mt smarts.Matcher
	mt.Load(m)
	var found []Found
	for i, p := range compiled().narrow {
		if atoms := mt.Find(p); atoms != nil {
			found = append(found, Found{all[i], atoms})
		}
	}
	return found
}

// tables are the compiled patterns of all: as written, and as narrowed for
// Find. They are compiled together, so that a Matcher shares between them what
// it learns about a molecule.
type tables struct{ written, narrow []*smarts.Pattern }

var compiled = sync.OnceValue(func() tables {
	texts := make([]string, len(all), len(all)+len(narrowings))
	for i, g := range all {
		texts[i] = g.SMARTS
	}
	for _, n := range narrowings {
		texts = append(texts, n.smarts)
	}
	set, err := smarts.CompileSet(texts...)
	if err != nil {
		panic(err) // a slip in a table, which the tests find
	}
	var t tables
	for i := range all {
		t.written = append(t.written, set.Pattern(i))
	}
	t.narrow = slices.Clone(t.written)
	for i, n := range narrowings {
		t.narrow[index(n.name)] = set.Pattern(len(all) + i)
	}
	return t
})

// Pattern returns the compiled pattern of the group of that name, and false
// where there is none, as the table has it (not as Find narrows it). The
// patterns of all groups are one [smarts.Set]: for many structures load each
// into one [smarts.Matcher] and match from there.
func Pattern(name string) (*smarts.Pattern, bool) {
	i := index(name)
	if i < 0 {
		return nil, false
	}
	return compiled().written[i], true
}
