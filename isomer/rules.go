package isomer

import (
	"ionwright/chem"
	"ionwright/mol"
	"ionwright/mol/smarts"
)

// Range is a number from Least to Most; Most below 0 is no limit.
type Range struct{ Least, Most int }

// holds tells whether n is in the range.
func (r Range) holds(n int) bool { return n >= r.Least && (r.Most < 0 || n <= r.Most) }

// Occurs says how often a pattern may occur in a structure, each set of atoms
// counted once. Range{1, -1} requires it, Range{0, 0} forbids it.
type Occurs struct {
	Pattern *smarts.Pattern
	Range   Range
}

// rules are what a structure must fulfil beside being one.
type rules struct {
	kekule bool
	sizes  *Range
	occurs []Occurs
	// local are forbidden patterns whose match within a complete part of a
	// structure is a match in the structure.
	local    []*smarts.Pattern
	strained []Instability
}

// free tells whether every structure that the lists give fulfils the rules,
// Kekule forms aside.
func (r *rules) free() bool { return len(r.occurs) == 0 && len(r.strained) == 0 && r.sizes == nil }

// ringsFit tells whether the core's rings have the sizes wanted.
func (r *rules) ringsFit(g *graph) bool {
	if r.sizes == nil {
		return true
	}
	for _, ring := range g.mol(nil).SmallestRings() {
		if !r.sizes.holds(len(ring)) {
			return false
		}
	}
	return true
}

// core tells whether the core with its orders of bonds passes the rules for
// strain. What can have another Kekule form is looked at when it is complete.
func (r *rules) core(g *graph, s *Structure) bool {
	if len(r.strained) == 0 || s.alternating {
		return true
	}
	m := g.mol(s)
	for _, i := range r.strained {
		if i.ring(m) {
			return false
		}
	}
	return true
}

// mol is the graph as carbon atoms, with the orders of a structure's bonds.
func (g *graph) mol(s *Structure) *mol.Mol {
	atoms := make([]mol.Atom, g.n)
	for v := range atoms {
		atoms[v].Element = chem.C
	}
	bonds := make([]mol.Bond, len(g.a))
	for i := range bonds {
		bonds[i] = mol.Bond{Begin: int32(g.a[i]), End: int32(g.b[i]), Order: mol.Single}
		if s != nil {
			bonds[i].Order = orders[s.bond[i].order]
		}
	}
	m, err := mol.New(atoms, bonds)
	if err != nil {
		panic("isomer: a core that is no graph: " + err.Error()) // a mistake in this package
	}
	return m
}

// accept tells whether a complete structure fulfils the rules.
func (f *filler) accept() bool {
	r := f.p.rules
	kekule := f.st.alternating && !r.kekule
	if !kekule && len(r.occurs) == 0 && (len(r.strained) == 0 || !f.st.alternating) {
		return true
	}
	m := f.st.Mol()
	if f.st.alternating {
		for _, i := range r.strained {
			if i.ring(m) {
				return false
			}
		}
	}
	if len(r.occurs) > 0 {
		f.matcher.Load(m)
		for _, o := range r.occurs {
			switch {
			case o.Range.Most == 0:
				if f.matcher.Match(o.Pattern) {
					return false
				}
			case o.Range.Least == 1 && o.Range.Most < 0:
				if !f.matcher.Match(o.Pattern) {
					return false
				}
			case !o.Range.holds(f.matcher.Count(o.Pattern)):
				return false
			}
		}
	}
	return !kekule || representative(m)
}

// judge rules out the branches with listed forests of the given compositions
// in which a forbidden pattern lies on atoms whose neighbors are all known.
func (p *problem) judge(cells []int32) {
	if len(p.rules.local) == 0 {
		return
	}
	if p.bad == nil {
		p.bad = map[int32][]bool{}
	}
	var matcher smarts.Matcher
	for _, cell := range cells {
		for k := range p.kinds {
			with := p.cells[cell].plus(unit(k))
			if !p.cells[p.all].holds(with) || with == p.cells[p.all] {
				continue
			}
			for below := range p.levels {
				for order := 1; order <= 3 && below+order-1 < p.levels; order++ {
					if b, ok := p.branchOf(cell+p.radix[k], below+order-1, k, order); ok {
						p.judgeBranch(&b, &matcher)
					}
				}
			}
		}
	}
}

func (p *problem) judgeBranch(b *branch, matcher *smarts.Matcher) {
	first, end := p.entries(b)
	size := (int(b.size) - 1) * entryBytes
	for i := first; i < end; i++ {
		matcher.Load(p.branchMol(b, p.forests[b.forest].data[int(i)*size:][:size]))
		for _, pattern := range p.rules.local {
			if !liesBelow(matcher, pattern) {
				continue
			}
			bad := p.bad[b.id]
			if bad == nil {
				bad = make([]bool, end)
				p.bad[b.id] = bad
			}
			bad[i] = true
			break
		}
	}
}

// liesBelow tells whether the pattern lies on the molecule without atom 0.
func liesBelow(matcher *smarts.Matcher, pattern *smarts.Pattern) bool {
atoms:
	for at := range matcher.All(pattern) {
		for _, v := range at {
			if v == 0 {
				continue atoms
			}
		}
		return true
	}
	return false
}

// branchMol is a branch with a stranger for what it is bound to, as atom 0.
func (p *problem) branchMol(b *branch, data []uint8) *mol.Mol {
	s := Structure{n: int(b.size) + 1, bonds: int(b.size), table: append(p.kinds[:len(p.kinds):len(p.kinds)], stranger)}
	s.kinds[0], s.kinds[1] = uint8(len(p.kinds)), b.kind
	s.bond[0] = bond{0, 1, b.order}
	for j := 0; j+2 < len(data); j += entryBytes {
		v := 2 + j/entryBytes
		s.kinds[v] = data[j]
		s.bond[v-1] = bond{1 + data[j+1], uint8(v), data[j+2]}
	}
	return s.Mol()
}

// stranger is an atom that no structure here has.
var stranger = kind{name: "He", valence: 3, atoms: []part{{element: chem.He}}}
