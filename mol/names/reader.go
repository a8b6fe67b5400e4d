package names

import (
	"sort"
	"strings"
)

// reader reads one name. Positions are byte offsets into text.s; every
// production has a limit, the end of the word or of the parentheses it is in.
type reader struct {
	text
	budget   int // work that may still be done
	radMemo  map[span][]radical
	grpMemo  map[span][]group
	coreMemo map[span][]core
	nameMemo map[span][]built
	wordMemo map[span][]alkyls
	far      int    // how far text was recognized
	fault    *fault // the first thing wrong in a name whose text is all read
	inner    *fault // the same for a part of the name
	whole    bool   // some reading took in all the text
	exceeded bool   // the budget ran out: nothing that was found counts
	partial  bool   // an ester may keep acid groups
	without  bool   // without the table
}

type span struct{ begin, limit int }

// fault is something wrong in a name that is understood.
type fault struct {
	at     int // position
	reason string
}

// maxWork bounds the work for one name, in atoms of structures assembled. Names
// of real compounds need a few thousand, the longest of the measured set fifty
// times that.
const maxWork = 250_000

func newReader(t text) *reader {
	return &reader{
		text: t, budget: maxWork,
		radMemo: map[span][]radical{}, grpMemo: map[span][]group{}, coreMemo: map[span][]core{},
		nameMemo: map[span][]built{}, wordMemo: map[span][]alkyls{},
	}
}

// reached notes that the text up to p is recognized.
func (r *reader) reached(p int) { r.far = max(r.far, p) }

// wrong notes a fault; the first one stays.
func (r *reader) wrong(at int, reason string) {
	if r.fault == nil {
		r.fault = &fault{at, reason}
	}
}

// spend takes work from the budget; false where none is left.
func (r *reader) spend(work int) bool {
	if r.budget -= work; r.budget < 0 {
		r.exceeded = true
	}
	return !r.exceeded
}

// has reports whether word stands at p before limit.
func (r *reader) has(p, limit int, word string) bool {
	return p+len(word) <= limit && r.s[p:p+len(word)] == word
}

// closing returns the position of the bracket that closes the one at p.
func (r *reader) closing(p, limit int) (int, bool) {
	depth := 0
	for i := p; i < limit; i++ {
		switch r.s[i] {
		case '(':
			depth++
		case ')':
			if depth--; depth == 0 {
				return i, true
			}
		}
	}
	return 0, false
}

// numeralsAt returns the terms of a list that stand at p, longest first, with
// their end.
func (r *reader) numeralsAt(list []numeral, p, limit int) []numeralAt {
	var found []numeralAt
	for _, n := range list {
		if r.has(p, limit, n.text) {
			found = append(found, numeralAt{n.value, p + len(n.text)})
		}
	}
	sort.Slice(found, func(i, j int) bool { return found[i].end > found[j].end })
	return found
}

type numeralAt struct{ value, end int }

// multipliersAt returns the multiplying prefixes at p, and always 1 without a
// prefix (end p).
//
// A prefix that, with what follows it, is the stem of a chain is none: tridec
// in tridecyl is 13, three decyl groups are tris(decyl).
func (r *reader) multipliersAt(p, limit int) []numeralAt {
	found := []numeralAt{{1, p}}
	longest := 0
	for _, stem := range r.numeralsAt(stems(), p, limit) {
		longest = max(longest, stem.end)
	}
	for _, m := range r.numeralsAt(multipliers(), p, limit) {
		if longest <= m.end {
			found = append(found, m)
		}
	}
	for _, m := range r.numeralsAt(groupMultipliers(), p, limit) {
		if m.end < limit && (r.s[m.end] == '(' || r.s[m.end] == '-' || letter(r.s[m.end])) {
			found = append(found, m)
		}
	}
	return found
}

// locant is one locant of a list.
type locant struct {
	at       int
	label    string // 4a, 2', alpha, n, o (ortho or oxygen)
	to       string // the other end of a double bond: 10 in 5(10)
	hydrogen bool   // indicated or added hydrogen: 2H
	stereo   bool   // followed by a descriptor: 3alpha, 2(R)
	atom     bool   // a capital O or P in a name that has small letters too: the atom, not the position
}

// locantsAt reads a list of locants at p, without the hyphen after it.
//
//	list   = locant { "," locant }
//	locant = ( number [ letter ] | greek | "n" [ number ] | "o" | "m" | "p" | "s" ) primes [ stereo ] [ "(" number ")" ] [ "h" ]
func (r *reader) locantsAt(p, limit int) ([]locant, int, bool) {
	var list []locant
	for {
		l, end, ok := r.locantAt(p, limit)
		if !ok {
			return nil, 0, false
		}
		list = append(list, l)
		p = end
		if !r.has(p, limit, ",") {
			return list, p, true
		}
		p++
	}
}

var letterLocants = []string{
	"alpha", "beta", "gamma", "delta", "epsilon", "omega", "ortho", "meta", "para", "as", "si", "n", "o", "m", "p", "s",
}

func (r *reader) locantAt(p, limit int) (locant, int, bool) {
	l := locant{at: p}
	begin := p
	for p < limit && digit(r.s[p]) && p-begin < 3 {
		p++
	}
	if p > begin {
		if p < limit && r.s[p] >= 'a' && r.s[p] <= 'd' && (p+1 >= limit || !letter(r.s[p+1]) || r.has(p+1, limit, "h") ||
			r.has(p+1, limit, "alpha") || r.has(p+1, limit, "beta")) {
			p++
		}
	} else {
		for _, word := range letterLocants {
			if r.has(p, limit, word) {
				p += len(word)
				break
			}
		}
		if p == begin {
			return l, 0, false
		}
	}
	l.label = r.s[begin:p]
	l.atom = p == begin+1 && letter(r.s[begin]) && r.cased && r.caps[begin]
	if short, ok := map[string]string{"ortho": "o", "meta": "m", "para": "p"}[l.label]; ok {
		l.label = short
	}
	if l.label == "n" { // N1, N2 of older style
		for p < limit && digit(r.s[p]) {
			p++
		}
		if p > begin+1 {
			l.label = "n" + r.s[begin+1:p]
		}
	}
	for p < limit && r.s[p] == '\'' {
		l.label += "'"
		p++
	}
	if digit(r.s[begin]) {
		p = r.descriptorAt(p, limit, &l)
	}
	if r.has(p, limit, "h") && (p+1 == limit || !letter(r.s[p+1])) {
		l.hydrogen = true
		p++
	}
	return l, p, true
}

// descriptorAt reads what may follow the number of a locant: alpha, beta, xi,
// (R), (S), (E), (Z), or the other end of a double bond in parentheses.
func (r *reader) descriptorAt(p, limit int, l *locant) int {
	for _, word := range []string{"alpha", "beta", "xi"} {
		if r.has(p, limit, word) {
			l.stereo = true
			return p + len(word)
		}
	}
	for _, word := range []string{"(r)", "(s)", "(e)", "(z)"} {
		if r.has(p, limit, word) {
			l.stereo = true
			return p + len(word)
		}
	}
	if r.has(p, limit, "(") {
		if end, ok := r.closing(p, limit); ok && end-p > 1 && end-p <= 3 && strings.Trim(r.s[p+1:end], "0123456789") == "" {
			l.to = r.s[p+1 : end]
			return end + 1
		}
	}
	return p
}
