package names

import (
	"strings"

	"ionwright/chem"
	"ionwright/mol"
	"ionwright/mol/smiles"
)

// molecules returns the readings of a stretch of text as one substitutive
// name:
//
//	name = { group } parent
func (r *reader) molecules(p, limit int) []built {
	var found []built
	var walk func(list []group, p int)
	walk = func(list []group, p int) {
		if p >= limit || r.exceeded {
			return
		}
		q := p
		if r.has(p, limit, "-") {
			q++
		}
		for _, c := range r.candidatesAt(q, limit) {
			if c.end != limit || c.bonds {
				continue
			}
			r.whole = true
			found = addBuilt(found, r.assemble(c, list)...)
		}
		for _, g := range r.groupsAt(p, limit) {
			walk(append(list[:len(list):len(list)], g), g.end)
		}
	}
	walk(nil, p)
	if r.has(p, limit, "n-") && !(r.cased && r.caps[p]) { // n-hexane
		for _, c := range r.candidatesAt(p+2, limit) {
			if c.end == limit && !c.bonds && c.front == nil && (c.core.kind == chainCore || c.core.kind == acidCore) {
				r.whole = true
				found = addBuilt(found, r.assemble(unbranched(c), nil)...)
			}
		}
	}
	return found
}

// unbranched gives the group of an n-alkanol or n-alkylamine to the end of the
// chain, where n- says it is.
func unbranched(c candidate) candidate {
	if len(c.suffixes) == 1 && c.suffixes[0].locants == nil && c.suffixes[0].count == 1 && c.core.kind == chainCore && len(c.unsat) == 0 {
		switch c.suffixes[0].def.kind {
		case hydroxySuffix, thiolSuffix, amineSuffix:
			use := c.suffixes[0]
			use.locants = []locant{{at: use.at, label: "1"}}
			c.suffixes = []suffixUse{use}
		}
	}
	return c
}

// addBuilt keeps the lowest penalty of each structure.
func addBuilt(list []built, more ...built) []built {
next:
	for _, x := range more {
		for i := range list {
			if list[i].key == x.key {
				if x.penalty < list[i].penalty {
					list[i] = x
				}
				continue next
			}
		}
		list = append(list, x)
	}
	return list
}

// compound returns the readings of a stretch of text as a compound: by the
// table, else as a substitutive name.
func (r *reader) compound(p, limit int) []built {
	key := span{p, limit}
	if found, ok := r.nameMemo[key]; ok {
		return found
	}
	found := r.tabled(p, limit)
	if len(found) == 0 {
		found = r.molecules(p, limit)
	}
	r.nameMemo[key] = found
	return found
}

// part is compound for the part of a name before a class word, which may have
// a class word of its own: ethyl methyl ketone oxime.
func (r *reader) part(p, limit int) []built {
	found := r.compound(p, limit)
	if len(found) == 0 && strings.Contains(r.s[p:limit], " ") {
		key := span{-1 - p, limit}
		if memo, ok := r.nameMemo[key]; ok {
			return memo
		}
		found = r.named(p, limit)
		r.nameMemo[key] = found
	}
	return found
}

// tabled looks a stretch of text up in the table, if need be without its
// stereodescriptor. Where the rest is a systematic name, whose positions the
// descriptor must fit, it is left to the rules.
func (r *reader) tabled(p, limit int) []built {
	if r.without {
		return nil
	}
	var marks descriptors
	for {
		if row, ok := compounds().find(r.s[p:limit]); ok {
			if marks&(bondMark|centerMark) != 0 && len(r.molecules(p, limit)) > 0 {
				return nil
			}
			b, ok := rowBuilt(row)
			b.stereo = marks
			if !ok {
				return nil
			}
			return []built{b}
		}
		end, ok := r.stereoAt(p, limit)
		if !ok || end >= limit {
			return nil
		}
		marks |= marksIn(r.s[p:end])
		p = end
	}
}

func rowBuilt(row *Row) (built, bool) {
	m, err := smiles.Parse(row.SMILES)
	if err != nil {
		return built{}, false
	}
	return molBuilt(m)
}

func molBuilt(m *mol.Mol) (built, bool) {
	g, err := fromMol(m)
	if err != nil {
		return built{}, false
	}
	return finished(g, 0)
}

// finished makes a reading of a graph that a class word completed.
func finished(g graph, penalty int) (built, bool) {
	b := built{state: state{graph: g, penalty: penalty}}
	for i := range b.atoms {
		b.atoms[i].labels = nil
	}
	key, ok := b.canonical()
	b.key = key
	return b, ok
}

// alkyls is one reading of the words that name the parts bonded to a class
// word: each part as often as its multiplier says.
type alkyls struct {
	parts   []*radical
	mono    bool // a multiplier mono stands before a part
	penalty int
	stereo  descriptors
	cut     bool
	atom    byte // the locant O or S before a part: 'o', 's'
}

// alkylsAt reads words as substituents, all of the text between p and limit.
func (r *reader) alkylsAt(p, limit int) []alkyls {
	lists := []alkyls{{}}
	for p < limit {
		end := limit
		if i := strings.IndexByte(r.s[p:limit], ' '); i >= 0 {
			end = p + i
		}
		var next []alkyls
		for _, word := range r.alkylWord(p, end) {
			for _, list := range lists {
				if len(next) >= maxStates {
					break
				}
				next = append(next, alkyls{
					parts: append(list.parts[:len(list.parts):len(list.parts)], word.parts...),
					mono:  list.mono || word.mono, penalty: list.penalty + word.penalty,
					stereo: list.stereo | word.stereo, cut: list.cut || word.cut,
					atom: max(list.atom, word.atom),
				})
			}
		}
		lists = next
		p = end + 1
	}
	if len(lists) == 1 && len(lists[0].parts) == 0 {
		return nil
	}
	return lists
}

// alkylWord reads one word as a sequence of substituents without locants; O and
// S as locants are allowed, they say where the word after bonds anyway.
func (r *reader) alkylWord(p, limit int) []alkyls {
	key := span{p, limit}
	if found, ok := r.wordMemo[key]; ok {
		return found
	}
	var found []alkyls
	var walk func(list alkyls, p int)
	walk = func(list alkyls, p int) {
		if p == limit {
			if len(list.parts) > 0 && len(found) < maxStates {
				found = append(found, list)
			}
			return
		}
		for _, g := range r.groupsAt(p, limit) {
			if g.kind == stereoMark {
				next := list
				next.stereo |= g.marks
				walk(next, g.end)
				continue
			}
			if g.kind != substituent || !plainLocants(g.locants) || g.count > 12 || g.count < 1 {
				continue
			}
			for k := range g.rads {
				x := &g.rads[k]
				next := list
				next.parts = list.parts[:len(list.parts):len(list.parts)]
				for range g.count {
					next.parts = append(next.parts, x)
				}
				next.mono = list.mono || r.has(g.at, limit, "mono")
				next.penalty += x.penalty
				next.stereo |= x.stereo
				if len(g.locants) > 0 {
					next.atom = g.locants[0].label[0]
				}
				next.cut = next.cut || x.cut
				walk(next, g.end)
			}
		}
	}
	walk(alkyls{}, p)
	r.wordMemo[key] = found
	return found
}

func plainLocants(list []locant) bool {
	for _, l := range list {
		switch strings.TrimRight(l.label, "'") {
		case "o", "s":
		default:
			return false
		}
	}
	return true
}

// hydroxys lists the alcoholic hydroxy oxygens of a structure.
func (g *graph) hydroxys() []int {
	var list []int
	for i, a := range g.atoms {
		if a.element != chem.O || a.charge != 0 || g.hydrogens(i) != 1 {
			continue
		}
		alcohol := false
		g.neighbors(i, func(j, order int) {
			alcohol = g.atoms[j].element == chem.C && !g.carbonyl(j) || g.atoms[j].element == chem.Si
		})
		if alcohol {
			list = append(list, i)
		}
	}
	return list
}

// acidHydroxys lists the hydroxy oxygens of carboxylic, sulfonic, phosphonic
// and boronic acids and their like.
func (g *graph) acidHydroxys() []int {
	var list []int
	for i, a := range g.atoms {
		if a.element != chem.O || a.charge != 0 || g.hydrogens(i) != 1 {
			continue
		}
		acid := false
		g.neighbors(i, func(j, order int) {
			switch g.atoms[j].element {
			case chem.C:
				g.neighbors(j, func(k, order int) {
					acid = acid || order == 2 && (g.atoms[k].element == chem.O || g.atoms[k].element == chem.S)
				})
			case chem.P, chem.S, chem.B:
				acid = true
			}
		})
		if acid {
			list = append(list, i)
		}
	}
	return list
}

// carbonyls lists the carbons of aldehydes and ketones.
func (g *graph) carbonyls() []int {
	var list []int
	for i, a := range g.atoms {
		if a.element != chem.C || !g.carbonyl(i) {
			continue
		}
		ok := true
		g.neighbors(i, func(j, order int) {
			if order == 1 && g.atoms[j].element != chem.C || order == 2 && g.atoms[j].element != chem.O {
				ok = false
			}
		})
		if ok {
			list = append(list, i)
		}
	}
	return list
}
