package arrow_test

import (
	"context"
	"errors"
	"slices"
	"strings"
	"testing"

	"ionwright/ionize"
	"ionwright/mol"
	"ionwright/mol/smiles"
	"ionwright/practice/answer"
	"ionwright/practice/arrow"
)

func parse(t testing.TB, text string) *mol.Mol {
	t.Helper()
	m, err := smiles.Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func arrows(t testing.TB, text string) []answer.Arrow {
	t.Helper()
	out, err := answer.ReadArrows(answer.Of(text))
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// ketone is the molecular ion of butan-2-one with its charge on oxygen: CH3 1,
// carbonyl carbon 2, oxygen 3, CH2 4, CH3 5.
const ketone = "CC(=[O+])CC"

func drawn(t testing.TB, text string) *mol.Mol {
	t.Helper()
	m := parse(t, text)
	b := m.Edit()
	for v := range m.NumAtoms() { // SMILES has no mark for an unpaired electron
		if a := b.Atom(v); a.Charge == 1 {
			a.Radical = 1
			b.SetAtom(v, a)
		}
	}
	out, err := b.Mol()
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// TestLead follows electrons as textbooks do; common practice, no source.
func TestLead(t *testing.T) {
	for _, row := range []struct{ from, arrows, to string }{
		{ketone, "3 > 2-3, 2-4 > 2-3, 2-4 > 4", "CC#[O+].[CH2]C"},               // alpha-cleavage
		{ketone, "2-3 => 3", "C[C+]([O])CC"},                                    // another form of the ion
		{"CC#[O+]", "1-2 => 1", "[CH3-].[C+]#[O+]"},                             // written, if wrong: the electrons are followed
		{"C[C+](C)C", "1-2 => 2", "[CH3+].C[C]C"},                               // a carbene
		{"CC[OH+]CC", "2-3 => 3", "C[CH2+].OCC"},                                // inductive
		{"C=C", "1-2 > 1, 1-2 > 2", "[CH2][CH2]"},                               // homolysis of the second bond
		{"[CH2]CC", "1 > 1-2, 2-3 > 1-2, 2-3 > 3", "C=C.[CH3]"},                 // beta-cleavage of a radical
		{"[CH2+]C=C", "2-3 => 1-2", "C=C[CH2+]"},                                // allyl cation
		{"N.[CH3+]", "1 => 1-2", "C[NH3+]"},                                     // a bond forms
		{"N.[CH3+]", "1 => 2", "C[NH3+]"},                                       // the same, drawn to the atom
		{"CC(C)=O", "2-4 => 4", "C[C+](C)[O-]"},                                 // polarised carbonyl
		{"c1ccccc1", "1-2 => 2-3, 3-4 => 4-5, 5-6 => 6-1", "C1=CC=CC=C1"},       // the other Kekule form
		{"CCl", "1-2 > 1, 1-2 > 2", "[CH3].[Cl]"},                               // halogen atom
		{"C[Si](C)(C)C", "1-2 => 1", "[CH3-].C[Si+](C)C"},                       // silyl cation
		{"[CH3].[CH3]", "1 > 1-2, 2 > 1-2", "CC"},                               // radicals combine
		{"OC=C", "2-3 => 3, 1 => 1-2", "[OH+]=C[CH2-]"},                         // enol
		{"CC(O)=[O+]", "4 > 2-4, 1-2 > 2-4, 1-2 > 1", "[CH3].OC#[O+]"},          // an acid
		{"CN(C)C", "2 > 1", ""},                                                 // half a bond
		{"C=O", "2 => 1-2, 2 => 1-2", ""},                                       // four electrons into one bond: too many at carbon
		{"CC", "1 => 1-2", ""},                                                  // no lone pair
		{"CC", "1-2 => 1, 1-2 => 2", ""},                                        // four electrons from a single bond
		{"CCCC", "1-2 => 3-4", ""},                                              // away from where it begins
		{"CC", "9 => 1", ""}, {"CC", "1-9 => 1", ""}, {"[Na]C", "1-2 => 2", ""}, // atoms that aren't there, or not known
	} {
		m := parse(t, row.from)
		if row.from == ketone || strings.Contains(row.from, "=[O+]") {
			m = drawn(t, row.from)
		}
		got, err := arrow.Lead(m, arrows(t, row.arrows))
		switch {
		case row.to == "" && err == nil:
			t.Errorf("%s, %s leads to %s without an error", row.from, row.arrows, smiles.Canonical(got))
		case row.to == "":
		case err != nil:
			t.Errorf("%s, %s: %v", row.from, row.arrows, err)
		case smiles.Canonical(got) != smiles.Canonical(parse(t, row.to)):
			t.Errorf("%s, %s leads to %s, want %s", row.from, row.arrows, smiles.Canonical(got), row.to)
		}
	}
}

// TestSame tells arrows that say the same from others.
func TestSame(t *testing.T) {
	const alpha = "3 > 2-3, 2-4 > 2-3, 2-4 > 4"
	for _, row := range []struct {
		from, key, given string
		same             bool
	}{
		{ketone, alpha, alpha, true},
		{ketone, alpha, "2-4 > 4; 3 > 2; 2-4 > 2-3", true},                                 // drawn to the atom, in another order
		{ketone, alpha, "2-4 > 3; 3 > 2-3; 2-4 > 4", true},                                 // from the bond to the atom
		{ketone, alpha, "3 > 2-3, 1-2 > 2-3, 1-2 > 1", false},                              // loses methyl instead of ethyl
		{ketone, alpha, "2-4 > 2, 2-4 > 4", false},                                         // leaves two unpaired electrons
		{ketone, alpha, "2-4 => 4", false},                                                 // an ethyl anion
		{ketone, alpha, "2-4 => 2", false},                                                 // the charge on the other piece
		{ketone, alpha, "3 => 2-3, 2-4 => 2-3, 2-4 => 4", false},                           // full arrows
		{"CC(=[O+])C", "3 > 2-3, 2-4 > 2-3, 2-4 > 4", "3 > 2-3, 1-2 > 2-3, 1-2 > 1", true}, // equal sides
		{"C[CH+]C=CC", "4-3 => 3-2", "3-4 => 2-3", true},                                   // the same arrow
		{"[CH2+]C=CC=C", "2-3 => 1-2, 4-5 => 3-4", "2-3 => 1-2", true},                     // another form of the ion
	} {
		m := parse(t, row.from)
		if strings.Contains(row.from, "=[O+]") {
			m = drawn(t, row.from)
		}
		err := arrow.Same(m, arrows(t, row.key), arrows(t, row.given))
		if (err == nil) != row.same {
			t.Errorf("%s: %q and %q: %v, want the same: %v", row.from, row.key, row.given, err, row.same)
		}
		if row.given == "2-4 => 2" && !errors.Is(err, arrow.ErrSame) {
			t.Errorf("%s: %q: %v, want ErrSame", row.from, row.given, err)
		}
	}
}

// TestEqual counts the sets of arrows that symmetry makes equal.
func TestEqual(t *testing.T) {
	for _, row := range []struct {
		from, arrows string
		want         int
	}{
		{"CC(=[O+])C", "3 > 2-3, 2-4 > 2-3, 2-4 > 4", 2}, {ketone, "3 > 2-3, 2-4 > 2-3, 2-4 > 4", 1},
		{"CC(C)(C)C", "1-2 > 1, 1-2 > 2", 4}, {"C[N+](C)C", "1-2 > 1, 1-2 > 2", 3}, {"C1CC1", "1-2 > 1, 1-2 > 2", 3},
		{"CC.CC", "1-2 > 1, 1-2 > 2", 2}, {"[13CH3]C", "1-2 => 1", 1}, {"[CH2]CC", "1-2 => 1", 1},
	} {
		if got := arrow.Equal(parse(t, row.from), arrows(t, row.arrows)); len(got) != row.want {
			t.Errorf("%s, %s: %d sets, want %d: %v", row.from, row.arrows, len(got), row.want, got)
		}
	}
}

// TestKey takes keys from the engine's steps: the arrows lead to the charges and
// unpaired electrons that the engine has after the step, and all but forms with
// half a bond can be asked about.
func TestKey(t *testing.T) {
	made, all := 0, 0
	for _, text := range []string{"CCC(C)=O", "CCCC(C)=O", "CCCCO", "CCOCC", "CCN(CC)CC", "CCCC(=O)OC", "Oc1ccccc1C", "CC(=O)c1ccccc1", "CCCCCl", "C1CCC=CC1", "CCCCC=C"} {
		p, err := ionize.Predict(context.Background(), parse(t, text), ionize.Settings{})
		if err != nil {
			t.Fatal(err)
		}
		for _, step := range p.Steps {
			if step.From != 0 || step.Flow < 0.01 {
				continue
			}
			m, err := p.Movement(step)
			if err != nil {
				t.Fatal(err)
			}
			if m.Whole {
				continue
			}
			for i, panel := range m.Panels {
				all++
				key, err := arrow.Key(panel)
				if err != nil {
					if !half(panel.Before) && !half(panel.After) {
						t.Errorf("%s, %s to m/z %d: %v", text, step.Kind, p.Ions[step.To].MZ, err)
					}
					continue
				}
				made++
				end, err := arrow.Lead(key.Drawn, key.Ways[0])
				if err != nil {
					t.Fatal(err)
				}
				for v, atom := range panel.After.Atoms {
					if a := end.Atom(v); int(a.Charge) != atom.Charge || int(a.Radical) != atom.Radical() {
						t.Errorf("%s, %s, panel %d, atom %d: charge %d, %d unpaired; the engine has %d and %d",
							text, step.Kind, i, v, a.Charge, a.Radical, atom.Charge, atom.Radical())
					}
				}
				for _, way := range key.Ways {
					if err := arrow.Same(key.Drawn, key.Ways[0], way); err != nil {
						t.Errorf("%s, %s, panel %d: the equal way %v: %v", text, step.Kind, i, way, err)
					}
				}
			}
		}
	}
	if made == 0 || all == 0 {
		t.Errorf("%d of %d movements can be asked about", made, all)
	}
	t.Logf("%d of %d movements can be asked about", made, all)
}

// half tells whether a bond of the form has an odd number of electrons.
func half(f ionize.Form) bool {
	return slices.ContainsFunc(f.Bonds, func(b ionize.FormBond) bool { return b.Electrons%2 != 0 })
}

// FuzzLead moves electrons by any text; it must not panic, and what it leads to
// has the same charge.
func FuzzLead(f *testing.F) {
	f.Add(ketone, "3 > 2-3, 2-4 > 2-3, 2-4 > 4")
	f.Add("c1ccccc1", "1-2 => 2-3, 3-4 => 4-5, 5-6 => 6-1")
	f.Fuzz(func(t *testing.T, structure, text string) {
		m, err := answer.ReadStructure(structure)
		if err != nil || m.NumAtoms() > 30 {
			return
		}
		given, err := answer.ReadArrows(answer.Of(text))
		if err != nil {
			return
		}
		end, err := arrow.Lead(m, given)
		if err != nil {
			return
		}
		if end.Formula() != m.Formula() {
			t.Fatalf("%q, %q: %s becomes %s", structure, text, m.Formula(), end.Formula())
		}
		_ = arrow.Equal(m, given)
	})
}
