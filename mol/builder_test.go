package mol_test

import (
	"strings"
	"sync"
	"testing"

	"ionwright/chem"
	"ionwright/mol"
	"ionwright/mol/smiles"
)

// Edits say what they do as the SMILES of the result.
func TestEdit(t *testing.T) {
	for _, c := range []struct {
		name, before string
		edit         func(b *mol.Builder)
		after        string
	}{
		{"nothing", "CCO", func(b *mol.Builder) {}, "OCC"},
		{"add an atom", "C[CH2]", func(b *mol.Builder) {
			b.SetAtom(1, mol.Atom{Element: chem.C, Hydrogens: 2})
			b.AddBond(1, b.AddAtom(mol.Atom{Element: chem.F}), mol.Single)
		}, "FCC"},
		{"cut a bond", "CCC", func(b *mol.Builder) {
			at, _ := b.BondBetween(0, 1)
			b.RemoveBond(at)
			for i := range 2 {
				a := b.Atom(i)
				a.Radical = 1
				b.SetAtom(i, a)
			}
		}, "[CH2]C.[CH3]"},
		{"remove an atom", "FC(Cl)Br", func(b *mol.Builder) {
			b.RemoveAtom(2)
			b.SetAtom(1, mol.Atom{Element: chem.C, Hydrogens: 2})
		}, "FCBr"},
		{"double a bond", "CC", func(b *mol.Builder) {
			b.SetBond(0, mol.Double)
			for i := range 2 {
				b.SetAtom(i, mol.Atom{Element: chem.C, Hydrogens: 2})
			}
		}, "C=C"},
		{"keep a center when atoms move", "I.N[C@](F)(Cl)Br", func(b *mol.Builder) { b.RemoveAtom(0) }, canonical("N[C@](F)(Cl)Br")},
		{"drop a center that loses a neighbor", "N[C@](F)(Cl)Br", func(b *mol.Builder) {
			b.RemoveAtom(2)
			a := b.Atom(1)
			a.Hydrogens = 1
			b.SetAtom(1, a)
		}, canonical("NC(Cl)Br")},
		{"keep a double bond's arrangement", "I.F/C=C/Cl", func(b *mol.Builder) { b.RemoveAtom(0) }, canonical("F/C=C/Cl")},
		{"drop it when the bond becomes single", "F/C=C/Cl", func(b *mol.Builder) {
			at, _ := b.BondBetween(1, 2)
			b.SetBond(at, mol.Single)
		}, "F[CH][CH]Cl"},
		{"set it", "FC=CCl", func(b *mol.Builder) {
			at, _ := b.BondBetween(1, 2)
			b.SetStereo(at, mol.Cis)
		}, canonical("F/C=C\\Cl")},
	} {
		before := parse(t, c.before)
		written := smiles.Write(before)
		b := before.Edit()
		c.edit(b)
		after, err := b.Mol()
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if got := smiles.Canonical(after); got != c.after {
			t.Errorf("%s: %s became %s, want %s", c.name, c.before, got, c.after)
		}
		if smiles.Write(before) != written {
			t.Errorf("%s: the original changed", c.name)
		}
	}
}

func canonical(text string) string {
	m, err := smiles.Parse(text)
	if err != nil {
		panic(err)
	}
	return smiles.Canonical(m)
}

func TestEditErrors(t *testing.T) {
	for _, c := range []struct {
		name string
		edit func(b *mol.Builder)
		says string
	}{
		{"no such atom", func(b *mol.Builder) { b.RemoveAtom(7) }, "remove atom 8: there is none"},
		{"removed twice", func(b *mol.Builder) { b.RemoveAtom(0); b.RemoveAtom(0) }, "remove atom 1: there is none"},
		{"joined twice", func(b *mol.Builder) { b.AddBond(0, 1, mol.Single) }, "joined already"},
		{"no such bond", func(b *mol.Builder) { b.SetBond(5, mol.Double) }, "setting bond 6: there is none"},
		{"joined to itself", func(b *mol.Builder) { b.AddBond(0, 0, mol.Single) }, "joins atom 1 to itself"},
		{"no order", func(b *mol.Builder) { b.SetBond(0, 0) }, "has no order"},
		{"no element", func(b *mol.Builder) { b.AddAtom(mol.Atom{}) }, "has no element"},
		{"no such nuclide", func(b *mol.Builder) { b.SetAtom(0, mol.Atom{Element: chem.C, Isotope: 99}) }, "no nuclide 99C"},
		{"too many hydrogens", func(b *mol.Builder) {
			for range 300 {
				b.AddAtom(mol.Atom{Element: chem.U, Hydrogens: 250})
			}
		}, "65535"},
		{"too many elements", func(b *mol.Builder) {
			for e := chem.Element(1); e < 30; e++ {
				b.AddAtom(mol.Atom{Element: e})
			}
		}, "different elements"},
		{"too much charge", func(b *mol.Builder) {
			for range 100 {
				b.AddAtom(mol.Atom{Element: chem.U, Charge: 127})
			}
		}, "out of range"},
	} {
		b := parse(t, "CCC").Edit()
		c.edit(b)
		_, err := b.Mol()
		if err == nil || !strings.Contains(err.Error(), c.says) || !strings.HasPrefix(err.Error(), "editing a molecule: ") {
			t.Errorf("%s: %v, want ...%s...", c.name, err, c.says)
		}
	}
}

func TestInduced(t *testing.T) {
	m := parse(t, "CCC(=O)OC[13CH3].[Na+]")
	for _, part := range m.Components() {
		if _, err := m.Induced(part); err != nil {
			t.Error(err)
		}
	}
	part, err := m.Induced([]int{3, 2, 4})
	if err != nil {
		t.Fatal(err)
	}
	if got := smiles.Write(part); got != "O=[C]O" && got != "O=[C][O]" {
		t.Errorf("the carboxyl group is %s", got)
	}
	if _, err := m.Induced([]int{1, 1}); err == nil {
		t.Error("an atom named twice is accepted")
	}
	if _, err := m.Renumbered([]int{0}); err == nil {
		t.Error("a short order is accepted")
	}
}

func TestFoldHydrogens(t *testing.T) {
	for _, c := range []struct{ before, after string }{
		{"[U]", "[U]"}, {"CC", "CC"}, {"F[C@](N)(Cl)Br", "F[C@](N)(Cl)Br"},
		{"F[C@](N)(Cl)[U]", "F[C@H](N)Cl"}, {"[U][C@](N)(Cl)F", "[C@H](N)(Cl)F"}, {"F[C@]([U])(N)Cl", "F[C@H](N)Cl"},
		{"F/C([U])=C([U])/Cl", "F/C=C/Cl"}, {"[U]/C(F)=C/Cl", "F\\C=C/Cl"}, {"[U]/N=C/C", "[H]/N=C/C"}, {"[U]C([U])([U])[U]", "C"},
		{"[U]O[U]", "O"},
	} {
		// Uranium becomes hydrogen after reading, which would fold it.
		b := parse(t, c.before).Edit()
		for i := range b.NumAtoms() {
			if a := b.Atom(i); a.Element == chem.U && c.before != "[U]" {
				a.Element = chem.H
				b.SetAtom(i, a)
			}
			if a := b.Atom(i); a.Element != chem.H {
				a.Radical = 0
				b.SetAtom(i, a)
			}
		}
		m, err := b.Mol()
		if err != nil {
			t.Fatal(err)
		}
		folded, kept := m.FoldHydrogens()
		if len(kept) != folded.NumAtoms() {
			t.Errorf("%s: %d atoms, %d kept", c.before, folded.NumAtoms(), len(kept))
		}
		if got, want := smiles.Canonical(folded), canonical(c.after); got != want {
			t.Errorf("%s: %s, want %s", c.before, got, want)
		}
		if folded.Formula() != m.Formula() {
			t.Errorf("%s: %s became %s", c.before, m.Formula(), folded.Formula())
		}
	}
}

// One molecule, many readers: for the race detector.
func TestConcurrentReaders(t *testing.T) {
	m := parse(t, "C[C@H]1CC2CC1CC2C(=O)c1ccc2ccccc2c1")
	want := smiles.Canonical(m)
	var wait sync.WaitGroup
	for range 8 {
		wait.Go(func() {
			for range 20 {
				m.Rings()
				m.Formula()
				m.Classes()
				if got := smiles.Canonical(m); got != want {
					t.Errorf("%s, want %s", got, want)
				}
			}
		})
	}
	wait.Wait()
}
