package names

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"ionwright/chem"
	"ionwright/mol/smiles"
)

// state is a structure on its way from the skeleton to the whole, one of
// several that the name allows.
type state struct {
	graph
	bonds   []int // free bonds of a substituent
	alpha   int   // chain position that alpha names; 0 where Greek letters name none
	penalty int
	choice  string // which meanings of the substituents were taken
	cut     bool   // not every possibility was followed
	stereo  descriptors
	stated  bool // the name says where the indicated hydrogen is
}

func (s state) clone() state {
	s.graph = s.graph.clone()
	return s
}

// built is a finished reading of a parent with its substituents.
type built struct {
	state
	kind radicalKind
	key  string // canonical SMILES, with marks for the free bonds
}

// maxStates bounds the structures followed at once for one reading.
const maxStates = 150

// assemble returns the structures that a candidate with its groups means.
// Where there are several with the same substituents, the name leaves
// something open, and each carries a penalty one higher than a reading that
// says everything.
func (r *reader) assemble(c candidate, groups []group) []built {
	if !r.spend(len(c.core.graph.atoms)) {
		return nil
	}
	a := assembly{reader: r, candidate: c, groups: groups}
	states := a.run()
	var found []built
	for _, s := range states {
		if !r.spend(5 * len(s.atoms)) { // a canonical form costs more than a step
			return nil
		}
		x := built{state: s, kind: a.bondKind()}
		key, ok := x.canonical()
		if !ok {
			continue
		}
		x.key = key
		if !hasKey(found, key, s.choice) {
			found = append(found, x)
		}
	}
	alike := map[string]int{}
	for i := range found {
		alike[found[i].choice]++
	}
	for i := range found {
		if alike[found[i].choice] > 1 || found[i].cut {
			found[i].penalty++
		}
	}
	return found
}

func hasKey(list []built, key, choice string) bool {
	for i := range list {
		if list[i].key == key && list[i].choice == choice {
			return true
		}
	}
	return false
}

// marks are the elements that stand for free bonds in the canonical form of a
// substituent; no name here contains them.
var marks = []chem.Element{chem.Lv, chem.Ts}

// canonical returns the canonical SMILES, free bonds marked by kind.
func (b *built) canonical() (string, bool) {
	g := &b.graph
	if len(b.bonds) > 0 {
		marked := b.graph.clone()
		for i, at := range b.bonds {
			order := 1
			switch b.kind {
			case ylidene:
				order = 2
			case ylidyne:
				order = 3
			}
			marked.addBond(at, marked.addAtom(atom{element: marks[min(i, 1)], valence: order}), order)
		}
		g = &marked
	}
	m, err := g.mol()
	if err != nil {
		return "", false
	}
	return smiles.Canonical(m), true
}

// assembleRadicals is assemble for a substituent.
func (r *reader) assembleRadicals(c candidate, groups []group) []radical {
	var list []radical
	for _, b := range r.assemble(c, groups) {
		list = append(list, radical{
			end: c.end, graph: &b.graph, bonds: b.bonds, kind: b.kind, penalty: b.penalty, cut: b.cut, stereo: b.stereo,
			alkyl: c.core.kind == chainCore && len(groups) == 0 && len(c.unsat) == 0 && (len(c.suffixes) == 1 && c.suffixes[0].def.kind == bondSuffix) ||
				c.core.kind == radicalCore && c.core.entry.alkyl && len(groups) == 0,
			key: b.key, compound: len(groups) > 0,
		})
	}
	return list
}

// assembly is one candidate with one sequence of groups.
type assembly struct {
	*reader
	candidate
	groups  []group
	surplus int // penalty of a locant that says nothing
}

func (a *assembly) bondKind() radicalKind {
	if !a.candidate.bonds {
		return yl
	}
	if a.core.kind == radicalCore {
		return a.core.entry.kind
	}
	if n := len(a.suffixes); n > 0 && a.suffixes[n-1].def.kind == bondSuffix {
		if a.suffixes[n-1].count == 2 {
			return bridge // ethane-1,2-diyl
		}
		return a.suffixes[n-1].def.bond
	}
	return yl
}

// run follows the steps of building; each turns states into states.
func (a *assembly) run() []state {
	if !a.frontFits() {
		return nil
	}
	if !a.groupsFit() {
		return nil
	}
	states := []state{{graph: a.core.graph.clone(), penalty: a.nestedInstead() + a.surplus}}
	steps := []func(state) []state{a.hydrogenate, a.unsaturate, a.attachSuffixes, a.finishAcid, a.freeBond, a.substitute, a.checkStereo, a.placeDoubleBonds, a.checkKetones}
	for _, step := range steps {
		var next []state
		for _, s := range states {
			next = append(next, step(s)...)
			if len(next) > maxStates {
				next = next[:maxStates]
				for i := range next {
					next[i].cut = true
				}
				break
			}
		}
		work := 0
		for i := range next {
			work += len(next[i].atoms)
		}
		if len(next) == 0 || !a.spend(work) {
			return nil
		}
		states = next
	}
	return states
}

// frontFits gives the locants before the core to the first ending that has
// none: 2-butene, 2-butanol, 1,3-cyclohexanedione.
func (a *assembly) frontFits() bool {
	if a.front == nil {
		return true
	}
	if len(a.unsat) > 0 && a.unsat[0].locants == nil {
		a.unsat = append([]unsaturation{}, a.unsat...)
		a.unsat[0].locants = a.front
		return true
	}
	for i := range a.suffixes {
		if a.suffixes[i].locants == nil {
			if kind := a.suffixes[i].def.kind; (kind == bondSuffix || kind == oxySuffix) && a.core.kind == chainCore {
				ok, penalty := a.innerFront()
				if !ok {
					return false
				}
				a.surplus = penalty
			}
			if len(a.unsat) > 0 && len(a.suffixes) > 0 && a.unsat[0].locants != nil && a.suffixes[0].def.kind != bondSuffix {
				return false // 2-but-3-enol: which is which
			}
			a.suffixes = append([]suffixUse{}, a.suffixes...)
			a.suffixes[i].locants, a.suffixes[i].hydrogen = a.front, a.hydrogen
			return true
		}
	}
	a.wrong(a.core.at, "the locants before "+a.what()+" belong to no ending")
	return false
}

// groupsFit checks what doesn't depend on the structure: the number of
// substituents of a linking prefix.
func (a *assembly) groupsFit() bool {
	if a.core.kind != radicalCore {
		return true
	}
	count := 0
	for _, g := range a.groups {
		if g.kind == substituent {
			count += g.count
		}
	}
	e := a.core.entry
	return e.needs == 0 || count == e.needs
}

// find lists the atoms that a locant names.
func (a *assembly) find(s *state, l locant) []int {
	found := s.labelled(l.label)
	if l.atom {
		return slices.DeleteFunc(found, func(i int) bool { return s.atoms[i].element == chem.C })
	}
	if len(found) > 0 {
		return found
	}
	if a.core.plain && len(a.suffixes) > 0 && (a.core.kind == ringCore || a.core.size == 6) { // benzene or cyclohexane with its principal group at 1
		switch l.label {
		case "o":
			return []int{1, 5}
		case "m":
			return []int{2, 4}
		case "p":
			return []int{3}
		}
	}
	if s.alpha > 0 {
		for i, word := range []string{"alpha", "beta", "gamma", "delta", "epsilon"} {
			if l.label == word {
				return s.labelled(strconv.Itoa(s.alpha + i))
			}
		}
	}
	if l.label == "omega" && a.core.kind == chainCore {
		return s.labelled(strconv.Itoa(a.core.size))
	}
	return nil
}

// what is the name of the parent in messages.
func (a *assembly) what() string {
	return a.s[a.core.at:a.candidate.end]
}

// wrong notes a fault of this reading; those of a whole compound count before
// those of its parts.
func (a *assembly) wrong(at int, reason string) {
	if a.candidate.bonds {
		if a.reader.inner == nil {
			a.reader.inner = &fault{at, reason}
		}
		return
	}
	a.reader.wrong(at, reason)
}

// missing notes that the parent has no such locant.
func (a *assembly) missing(l locant) {
	a.wrong(l.at, fmt.Sprintf("%s has no position %s", a.what(), shown(l.label)))
}

// shown is a locant as it is written: N, 4a, 2'.
func shown(label string) string {
	if label != "" && len(strings.TrimRight(label, "'0123456789")) == 1 && letter(label[0]) {
		return strings.ToUpper(label[:1]) + label[1:]
	}
	return label
}

// countFits checks that a part has as many locants as its prefix says.
func (a *assembly) countFits(at int, locants []locant, count int, what string) bool {
	if len(locants) == count {
		return true
	}
	a.wrong(at, fmt.Sprintf("%s, but %s: %s", plural(len(locants), "locant"), plural(count, what), "their numbers must be equal"))
	return false
}

func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
