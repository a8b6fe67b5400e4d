package main

import (
	"math"
	"slices"

	"ionwright/mol"
	"ionwright/mol/groups"
)

// band is a range of nominal masses in Da, from included and to not.
type band struct {
	name     string
	from, to int
}

// bands are the ranges of nominal mass that accuracy is told for.
func bands() []band {
	return []band{{"all", 0, math.MaxInt}, {"under 150", 0, 150}, {"150-250", 150, 250}, {"over 250", 250, math.MaxInt}}
}

func (b band) holds(mass int) bool { return mass >= b.from && mass < b.to }

// leastOfClass is how many structures a class of compounds needs for its mean
// to be told.
const leastOfClass = 20

// classesOf are the names of the functional groups that a structure has; a
// structure is in all its classes.
func classesOf(m *mol.Mol) []string {
	var names []string
	for _, found := range groups.Find(m) {
		names = append(names, found.Group.Name)
	}
	return names
}

// classNames are the classes that at least leastOfClass structures are in, in
// the order of mol/groups.
func classNames(of [][]string) []string {
	count := map[string]int{}
	for _, names := range of {
		for _, name := range names {
			count[name]++
		}
	}
	var kept []string
	for _, g := range groups.All() {
		if count[g.Name] >= leastOfClass && !slices.Contains(kept, g.Name) {
			kept = append(kept, g.Name)
		}
	}
	return kept
}
