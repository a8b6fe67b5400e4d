package names

import (
	"slices"
	"strings"
)

// group is one detachable part before a parent: a substituent with its
// locants, hydro, indicated hydrogen or a stereodescriptor.
type group struct {
	at, end int
	kind    groupKind
	locants []locant
	count   int
	rads    []radical // substituent: the structures that its text may mean
	penalty int
	marks   descriptors // stereoMark
}

// everyHydrogen is the count of a perfluoro prefix.
const everyHydrogen = -1

type groupKind uint8

const (
	substituent groupKind = iota
	hydroGroup            // count is the number of hydrogens; 0 for perhydro
	indicated             // 1H
	stereoMark
)

// groupsAt returns the groups that begin at p, with or without a hyphen first.
func (r *reader) groupsAt(p, limit int) []group {
	key := span{p, limit}
	if found, ok := r.grpMemo[key]; ok {
		return found
	}
	q := p
	if r.has(p, limit, "-") && p > 0 && r.s[p-1] != '-' {
		q++
	}
	found := r.leadsAt(q, limit)
	found = append(found, asGroups(r.radicalsAt(q, limit))...)
	for i := range found {
		found[i].at = q
	}
	r.grpMemo[key] = found
	return found
}

// leadsAt returns the groups at p that aren't a bare radical: those with
// locants or a multiplying prefix, and those that are no substituents.
func (r *reader) leadsAt(p, limit int) []group {
	var found []group
	add := func(g group) {
		g.at = p
		r.reached(g.end)
		found = append(found, g)
	}
	if end, ok := r.stereoAt(p, limit); ok {
		add(group{end: end, kind: stereoMark, locants: r.stereoLocants(p, end), marks: marksIn(r.s[p:end])})
	}
	r.hydroAt(p, limit, nil, add)
	for _, m := range r.multipliersAt(p, limit) {
		if m.end > p {
			r.substituentsAt(m, limit, nil, 0, add)
		}
	}
	for _, word := range []string{"fluoro", "chloro", "bromo"} { // perfluoro replaces every hydrogen
		if r.has(p, limit, "per"+word) {
			r.substituentsAt(numeralAt{everyHydrogen, p + 3}, p+3+len(word), nil, 0, add)
		}
	}
	if closing, ok := r.closing(p, limit); ok && r.has(p, limit, "(") { // chloro(dimethyl)phenylsilane
		for _, m := range r.multipliersAt(p+1, closing) {
			if m.end == p+1 {
				continue
			}
			r.substituentsAt(m, closing, nil, 0, func(g group) {
				if g.end == closing {
					g.end++
					add(g)
				}
			})
		}
	}
	locants, end, ok := r.locantsAt(p, limit)
	if !ok {
		return found
	}
	if r.has(end, limit, "-") {
		end++
	} else if !r.has(end, limit, "(") {
		return found
	}
	hydrogens := 0
	for _, l := range locants {
		if l.hydrogen {
			hydrogens++
		}
	}
	greeks := 0
	for _, l := range locants {
		if l.stereo && digit(l.label[0]) {
			greeks++
		}
	}
	if greeks == len(locants) && r.ringAt(end, limit) { // 5alpha- before a steroid
		add(group{end: end, kind: stereoMark, marks: faceMark})
	}
	switch {
	case hydrogens == len(locants):
		add(group{end: end, kind: indicated, locants: locants})
		return found
	case hydrogens > 0:
		return found
	}
	penalty := 0
	if len(locants) == 1 && locants[0].label == "n" {
		if r.cased && !r.caps[p] {
			return found // n- for normal
		}
		if !r.cased && !r.caps[p] {
			penalty = 1 // a name without capitals may mean either
		}
	}
	r.hydroAt(end, limit, locants, add)
	for _, m := range r.multipliersAt(end, limit) {
		r.substituentsAt(m, limit, locants, penalty, add)
	}
	return found
}

// ringAt reports whether a ring parent begins at p.
func (r *reader) ringAt(p, limit int) bool {
	for _, c := range r.coresAt(p, limit) {
		if c.kind == cycleCore || c.kind == ringCore || c.kind == fixedCore {
			return true
		}
	}
	return false
}

// hydroAt reads hydro prefixes: "dihydro", "perhydro".
func (r *reader) hydroAt(p, limit int, locants []locant, add func(group)) {
	for _, m := range r.numeralsAt(multipliers(), p, limit) {
		if r.has(m.end, limit, "hydro") && !r.has(m.end, limit, "hydroxy") && !r.has(m.end, limit, "hydroper") {
			add(group{end: m.end + 5, kind: hydroGroup, locants: locants, count: m.value})
		}
	}
	if locants == nil && r.has(p, limit, "perhydro") {
		add(group{end: p + 8, kind: hydroGroup})
	}
}

// substituentsAt reads the substituents after a multiplying prefix m.
func (r *reader) substituentsAt(m numeralAt, limit int, locants []locant, penalty int, add func(group)) {
	p := m.end
	if r.has(p, limit, "-") {
		p++
	}
	simple := m.value > 1 && !strings.HasSuffix(r.s[:m.end], "is")
	for _, g := range asGroups(r.radicalsAt(p, limit)) {
		g.locants, g.count, g.penalty = locants, m.value, penalty
		if simple { // diethoxycarbonyl: two ethoxy groups rather than bis(ethoxycarbonyl)
			g.rads = slices.Clone(g.rads)
			for i := range g.rads {
				if g.rads[i].compound {
					g.rads[i].penalty++
				}
			}
		}
		add(g)
	}
}

// asGroups collects radicals of one text into groups without locants.
func asGroups(rads []radical) []group {
	var list []group
next:
	for _, x := range rads {
		for i := range list {
			if list[i].end == x.end {
				list[i].rads = append(list[i].rads, x)
				continue next
			}
		}
		list = append(list, group{at: x.at, end: x.end, count: 1, rads: []radical{x}})
	}
	return list
}
