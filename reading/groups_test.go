package reading

import (
	"testing"

	"ionwright/chem"
	"ionwright/mol/groups"
	"ionwright/reading/infer"
)

// The groups that accuracy is reported on are those of package groups: one
// name, one pattern, but for the ester, which is counted here without the
// formates.
func TestGroupsAreThoseOfStructures(t *testing.T) {
	for _, g := range infer.Groups[:infer.ScoredGroups] {
		named, ok := groups.ByName(g.Name())
		if !ok {
			t.Errorf("package groups has no %q", g.Name())
			continue
		}
		if named.SMARTS != g.SMARTS() && g.Name() != "ester" {
			t.Errorf("%s is %s here and %s in package groups", g.Name(), g.SMARTS(), named.SMARTS)
		}
	}
}

func TestGroupAtoms(t *testing.T) {
	for name, text := range groupAtoms {
		if !knownGroup(name) {
			t.Errorf("atoms are listed for %q, which isn't a group", name)
		}
		if _, err := chem.ParseFormula(text); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	for _, p := range ionGroups {
		if !knownGroup(p.group) {
			t.Errorf("an ion points to %q, which isn't a group", p.group)
		}
	}
	for _, p := range lossGroups {
		if !knownGroup(p.group) {
			t.Errorf("a loss points to %q, which isn't a group", p.group)
		}
	}
}
