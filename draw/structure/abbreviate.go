package structure

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"ionwright/draw"
	"ionwright/draw/layout"
	"ionwright/mol"
	"ionwright/mol/smarts"
)

// Abbreviation is a group of atoms that may be written as one label. The
// group hangs by a single bond at the pattern's first atom.
type Abbreviation struct {
	Name    string // as written with its bond on the left: OMe
	Turned  string // with its bond on the right: MeO
	Words   string // methoxy
	Pattern string // SMARTS
}

// Abbreviations is the visible list, larger groups before their parts.
func Abbreviations() []Abbreviation {
	return []Abbreviation{
		{"OTBS", "TBSO", "tert-butyldimethylsiloxy", `O[Si]([CH3])([CH3])C([CH3])([CH3])[CH3]`},
		{"TBS", "TBS", "tert-butyldimethylsilyl", `[Si]([CH3])([CH3])C([CH3])([CH3])[CH3]`},
		{"OTs", "TsO", "tosyloxy", `OS(=O)(=O)c1[cH][cH]c([CH3])[cH][cH]1`},
		{"Ts", "Ts", "tosyl", `S(=O)(=O)c1[cH][cH]c([CH3])[cH][cH]1`},
		{"OBz", "BzO", "benzoyloxy", `OC(=O)c1[cH][cH][cH][cH][cH]1`},
		{"Bz", "Bz", "benzoyl", `C(=O)c1[cH][cH][cH][cH][cH]1`},
		{"OBn", "BnO", "benzyloxy", `O[CH2]c1[cH][cH][cH][cH][cH]1`},
		{"Bn", "Bn", "benzyl", `[CH2]c1[cH][cH][cH][cH][cH]1`},
		{"OPh", "PhO", "phenoxy", `Oc1[cH][cH][cH][cH][cH]1`},
		{"Ph", "Ph", "phenyl", `c1[cH][cH][cH][cH][cH]1`},
		{"CO2tBu", "tBuO2C", "tert-butoxycarbonyl", `C(=O)OC([CH3])([CH3])[CH3]`},
		{"CO2Et", "EtO2C", "ethoxycarbonyl", `C(=O)O[CH2][CH3]`},
		{"CO2Me", "MeO2C", "methoxycarbonyl", `C(=O)O[CH3]`},
		{"CO2H", "HO2C", "carboxyl", `C(=O)[OH]`},
		{"OTMS", "TMSO", "trimethylsiloxy", `O[Si]([CH3])([CH3])[CH3]`},
		{"TMS", "TMS", "trimethylsilyl", `[Si]([CH3])([CH3])[CH3]`},
		{"OAc", "AcO", "acetoxy", `OC(=O)[CH3]`},
		{"Ac", "Ac", "acetyl", `C(=O)[CH3]`},
		{"CHO", "OHC", "formyl", `[CH]=O`},
		{"tBu", "tBu", "tert-butyl", `C([CH3])([CH3])[CH3]`},
		{"iPr", "iPr", "isopropyl", `[CH]([CH3])[CH3]`},
		{"OEt", "EtO", "ethoxy", `O[CH2][CH3]`},
		{"OMe", "MeO", "methoxy", `O[CH3]`},
		{"NMe2", "Me2N", "dimethylamino", `N([CH3])[CH3]`},
		{"NEt2", "Et2N", "diethylamino", `N([CH2][CH3])[CH2][CH3]`},
		{"SMe", "MeS", "methylsulfanyl", `S[CH3]`},
		{"NO2", "O2N", "nitro", `[N+](=O)[O-]`},
		{"CN", "NC", "cyano", `C#N`},
		{"CF3", "F3C", "trifluoromethyl", `C(F)(F)F`},
		{"CCl3", "Cl3C", "trichloromethyl", `C(Cl)(Cl)Cl`},
		{"Et", "Et", "ethyl", `[CH2][CH3]`},
		{"Me", "Me", "methyl", `[CH3]`},
	}
}

// AbbreviationNames lists the names of groups of at least so many atoms other
// than hydrogen: with 3, ethyl and methyl stay lines.
func AbbreviationNames(atoms int) []string {
	var names []string
	for _, k := range compiledAbbreviations() {
		if k.pattern.NumAtoms() >= atoms {
			names = append(names, k.Name)
		}
	}
	return names
}

type compiledAbbreviation struct {
	Abbreviation
	pattern *smarts.Pattern
}

var compiledAbbreviations = sync.OnceValue(func() []compiledAbbreviation {
	var all []compiledAbbreviation
	for _, k := range Abbreviations() {
		all = append(all, compiledAbbreviation{k, smarts.MustCompile(k.Pattern)})
	}
	return all
})

// abbreviated is a structure in which groups have become one atom each.
type abbreviated struct {
	m     *mol.Mol
	to    []int                // by atom of the whole structure, the atom that stands for it
	first []int                // by atom of m, the atom of the whole structure
	group map[int]Abbreviation // by atom of m
}

// abbreviate finds the groups with the names asked for, larger ones first,
// that hold none of the atoms to keep.
func abbreviate(m *mol.Mol, names []string, keep func(atom int) bool) (*abbreviated, error) {
	for _, name := range names {
		if !slices.ContainsFunc(Abbreviations(), func(k Abbreviation) bool { return k.Name == name }) {
			return nil, fmt.Errorf("there is no abbreviation %q; there are %s", name, strings.Join(AbbreviationNames(1), ", "))
		}
	}
	leader := make([]int, m.NumAtoms()) // the first atom of the group that an atom is in, -1 outside
	for i := range leader {
		leader[i] = -1
	}
	starts := map[int]Abbreviation{} // by first atom
	for _, k := range compiledAbbreviations() {
		if !slices.Contains(names, k.Name) {
			continue
		}
		for _, match := range k.pattern.Find(m) {
			if !stands(m, match) || slices.ContainsFunc(match, func(i int) bool { return leader[i] >= 0 || keep(i) }) {
				continue
			}
			for _, i := range match {
				leader[i] = match[0]
			}
			starts[match[0]] = k.Abbreviation
		}
	}
	out := &abbreviated{to: make([]int, m.NumAtoms()), group: map[int]Abbreviation{}}
	b := m.Edit()
	next := 0
	for i := range m.NumAtoms() {
		if leader[i] >= 0 && leader[i] != i {
			b.RemoveAtom(i)
			continue
		}
		if k, ok := starts[i]; ok {
			out.group[next] = k
			b.SetAtom(i, mol.Atom{Element: m.Atom(i).Element, Hydrogens: m.Atom(i).Hydrogens})
		}
		out.to[i] = next
		out.first = append(out.first, i)
		next++
	}
	for i, l := range leader {
		if l >= 0 {
			out.to[i] = out.to[l]
		}
	}
	var err error
	out.m, err = b.Mol()
	return out, err
}

// shorten puts the abbreviated structure in the place of the whole one and
// renumbers the options.
func (a *Artist) shorten() error {
	whole, o := a.m, &a.o
	marked := map[int]bool{}
	for _, i := range o.Atoms {
		marked[i] = true
	}
	for _, i := range slices.Concat(o.Bonds, o.Dashed) {
		b := whole.Bond(i)
		marked[int(b.Begin)], marked[int(b.End)] = true, true
	}
	short, err := abbreviate(whole, o.Abbreviate, func(i int) bool { return marked[i] })
	if err != nil {
		return err
	}
	a.short, a.m = short, short.m
	a.bonds = make([]int, short.m.NumBonds())
	if o.Places != nil {
		places := make([]layout.Point, len(short.first))
		for k, i := range short.first {
			places[k] = o.Places[i]
		}
		o.Places = places
	}
	to := map[int]int{}
	for i := range whole.NumBonds() {
		b := whole.Bond(i)
		if k, ok := short.m.BondBetween(short.to[b.Begin], short.to[b.End]); ok {
			to[i], a.bonds[k] = k, i
		}
	}
	o.Atoms = slices.Clone(o.Atoms)
	for k, i := range o.Atoms {
		o.Atoms[k] = short.to[i]
	}
	renumbered := func(list []int) []int {
		var out []int
		for _, i := range list {
			out = append(out, to[i])
		}
		return out
	}
	o.Bonds, o.Dashed = renumbered(o.Bonds), renumbered(o.Dashed)
	return nil
}

// drawn is the atom of the drawing that stands for one of the structure.
func (a *Artist) drawn(atom int) int {
	if a.short != nil {
		return a.short.to[atom]
	}
	return atom
}

func (a *Artist) atomNumber(i int) int {
	if a.short != nil {
		return a.short.first[i]
	}
	return i
}

func (a *Artist) bondNumber(i int) int {
	if a.short != nil {
		return a.bonds[i]
	}
	return i
}

// stands reports whether a match is a group as its abbreviation means it: the
// first atom has one single bond to the rest of the structure, the others
// none, and no atom is labelled, a radical or charged beyond the pattern.
func stands(m *mol.Mol, match []int) bool {
	charge := 0
	for k, i := range match {
		a := m.Atom(i)
		charge += int(a.Charge)
		if a.Isotope != 0 || a.Radical != 0 {
			return false
		}
		outside := 0
		for _, n := range m.Neighbors(i) {
			if slices.Contains(match, int(n.Atom)) {
				continue
			}
			outside++
			if m.KekuleOrder(int(n.Bond)) != mol.Single || m.RingBond(int(n.Bond)) || m.Bond(int(n.Bond)).Stereo != mol.NoStereo {
				return false
			}
		}
		if k == 0 && outside != 1 || k > 0 && outside != 0 {
			return false
		}
	}
	return charge == 0
}

// runs sets an abbreviation, its digits below the line and the letters before
// Bu and Pr in italics, as they are printed.
func (k Abbreviation) runs(turned bool) []draw.Run {
	text := k.Name
	if turned {
		text = k.Turned
	}
	var runs []draw.Run
	for len(text) > 0 {
		n := strings.IndexAny(text, "0123456789")
		switch {
		case strings.HasPrefix(text, "tBu"), strings.HasPrefix(text, "iPr"):
			runs = append(runs, draw.Run{Text: text[:1], Italic: true})
			text = text[1:]
			continue
		case n == 0:
			runs = append(runs, draw.Run{Text: text[:1], Script: draw.Sub})
			text = text[1:]
			continue
		case n < 0:
			n = len(text)
		}
		for _, prefix := range []string{"tBu", "iPr"} {
			if i := strings.Index(text, prefix); i > 0 && i < n {
				n = i
			}
		}
		runs = append(runs, draw.Run{Text: text[:n]})
		text = text[n:]
	}
	return runs
}

// groupLabel is the label of an abbreviated group: to the right of its bond or
// turned to the left of it, where fewer atoms are in the way.
func (a *Artist) groupLabel(i int, k Abbreviation) *label {
	p := a.at[i]
	written := func(turned bool) *label {
		runs := k.runs(turned)
		t := draw.Text{At: draw.Point{X: p.X, Y: p.Y + 0.36*a.size}, Size: a.size, Role: draw.Ink, Runs: runs}
		if turned {
			t.Anchor = draw.End
			t.At.X += edgeWidth(runs[len(runs)-1], a.size, true) / 2
		} else {
			t.At.X -= edgeWidth(runs[0], a.size, false) / 2
		}
		return &label{texts: []draw.Text{t}, core: t.Bounds()}
	}
	right, left := written(false), written(true)
	crowd := func(l *label) float64 {
		box := l.bounds()
		sum := 0.0
		for j, q := range a.at {
			if j != i && q.X > box.Left-0.3*a.o.Bond && q.X < box.Right+0.3*a.o.Bond && q.Y > box.Top-0.3*a.o.Bond && q.Y < box.Bottom+0.3*a.o.Bond {
				sum++
			}
		}
		return sum
	}
	toward := 0.0 // where the bond goes
	for _, n := range a.m.Neighbors(i) {
		toward += a.at[n.Atom].X - p.X
	}
	preferred, other := right, left
	if toward > 0.3*a.o.Bond {
		preferred, other = left, right
	}
	if crowd(other) < crowd(preferred) {
		return other
	}
	return preferred
}

// edgeWidth is the width of the first letter of a run, or of its last.
func edgeWidth(r draw.Run, size float64, last bool) float64 {
	letters := []rune(r.Text)
	r.Text = string(letters[:1])
	if last {
		r.Text = string(letters[len(letters)-1:])
	}
	return r.Width(size)
}

// abbreviationWords says which abbreviations a drawing uses.
func abbreviationWords(k *abbreviated) string {
	if k == nil || len(k.group) == 0 {
		return ""
	}
	var words []string
	for i := range k.m.NumAtoms() {
		if g, ok := k.group[i]; ok {
			if w := g.Name + " for " + g.Words; !slices.Contains(words, w) {
				words = append(words, w)
			}
		}
	}
	return "Abbreviated: " + list(words) + "."
}
