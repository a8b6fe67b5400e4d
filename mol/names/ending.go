package names

import "strings"

// candidate is a parent or a substituent without its own substituents.
type candidate struct {
	core     core
	end      int
	front    []locant // locants before the core: 2-butene
	hydro    []group  // hydro prefixes between them and the core: 2-tetrahydrofuranyl
	hydrogen []locant // added hydrogen among them: 2(5H)-furanone
	unsat    []unsaturation
	suffixes []suffixUse
	form     acidForm // acidCore
	bonds    bool     // a substituent: it has a free bond
	amido    bool     // acidCore: bonds through the nitrogen of the amide
	oxy      bool     // acidCore: bonds through an oxygen on the acyl carbon
}

// candidatesAt returns what stands at p with all its endings, molecules and
// substituents. Locants may come first.
func (r *reader) candidatesAt(p, limit int) []candidate {
	var found []candidate
	for _, c := range r.coresAt(p, limit) {
		found = append(found, r.endingsAt(c, limit)...)
	}
	locants, end, ok := r.locantsAt(p, limit)
	if !ok {
		return found
	}
	var added []locant
	if more, after, ok := r.hydrogenAt(end, limit); ok {
		added, end = more, after
	}
	if !r.has(end, limit, "-") {
		return found
	}
	begins := []group{{end: end + 1}}
	r.hydroAt(end+1, limit, nil, func(g group) { begins = append(begins, g) })
	for _, begin := range begins {
		found = append(found, r.frontedAt(begin, locants, added, limit)...)
	}
	return found
}

// frontedAt reads a core after locants and, where begin is one, a hydro prefix.
func (r *reader) frontedAt(begin group, locants, added []locant, limit int) []candidate {
	var found []candidate
	for _, c := range r.coresAt(begin.end, limit) {
		for _, x := range r.endingsAt(c, limit) {
			if begin.kind == hydroGroup {
				if c.kind != ringCore {
					continue
				}
				x.hydro = []group{begin}
			}
			if c.kind == acidCore || c.kind == oxoacidCore || c.kind == radicalCore {
				continue
			}
			if len(x.unsat)+len(x.suffixes) == 0 {
				continue
			}
			x.front, x.hydrogen = locants, added
			found = append(found, x)
		}
	}
	return found
}

// hydrogenAt reads added hydrogen: "(" locant "h" { "," locant "h" } ")".
func (r *reader) hydrogenAt(p, limit int) ([]locant, int, bool) {
	if !r.has(p, limit, "(") {
		return nil, p, false
	}
	list, end, ok := r.locantsAt(p+1, limit)
	if !ok || !r.has(end, limit, ")") {
		return nil, p, false
	}
	for _, l := range list {
		if !l.hydrogen {
			return nil, p, false
		}
	}
	return list, end + 1, true
}

// endingsAt returns the ways in which the name goes on after the core.
func (r *reader) endingsAt(c core, limit int) []candidate {
	var found []candidate
	add := func(x candidate) {
		r.reached(x.end)
		found = append(found, x)
	}
	switch c.kind {
	case radicalCore:
		add(candidate{core: c, end: c.end, bonds: true})
	case oxoacidCore:
		add(candidate{core: c, end: c.end})
	case acidCore:
		r.acidEndings(c, limit, add)
	case chainCore, cycleCore:
		r.alkaneEndings(c, limit, add)
	case ringCore, fixedCore:
		full := c.end
		wantsE := c.entry == nil || c.name[len(c.name)-1] == 'e'
		short := c.entry != nil && len(c.entry.short) > 0
		if wantsE && r.has(c.end, limit, "e") {
			full++
		} else if wantsE {
			full = -1
		}
		if full >= 0 && !short {
			add(candidate{core: c, end: full})
		}
		if c.kind == ringCore || c.entry.suffix {
			for _, x := range r.suffixesAt(candidate{core: c, end: c.end}, limit, 0) {
				if !short || contains(c.entry.short, x.suffixes[0].def.text) {
					add(x)
				}
			}
		}
	}
	return found
}

func contains(list []string, text string) bool {
	for _, x := range list {
		if x == text {
			return true
		}
	}
	return false
}

// alkaneEndings reads what follows the stem of a chain or a saturated ring
// system:
//
//	"an" ( "e" | suffixes ) | [ "a" ] unsaturation { unsaturation } ( "e" | suffixes ) | "yl" | "ylidene" | "oxy"
func (r *reader) alkaneEndings(c core, limit int, add func(candidate)) {
	stem := candidate{core: c, end: c.end}
	if r.has(c.end, limit, "an") {
		x := stem
		x.end = c.end + 2
		r.reached(x.end)
		r.closeStem(x, limit, add)
	}
	for _, x := range r.unsaturationsAt(stem, limit) {
		r.closeStem(x, limit, add)
	}
	for _, def := range suffixAt(r.s[c.end:limit]) {
		if def.kind == bondSuffix || def.kind == oxySuffix {
			x := stem
			x.end = c.end + len(def.text)
			x.suffixes = []suffixUse{{at: c.end, def: def, count: 1}}
			x.bonds = true
			add(x)
		}
	}
}

func (r *reader) closeStem(x candidate, limit int, add func(candidate)) {
	if r.has(x.end, limit, "e") {
		plain := x
		plain.end++
		add(plain)
	}
	for _, y := range r.suffixesAt(x, limit, 0) {
		add(y)
	}
}

// unsaturationsAt reads en and yn:
//
//	[ "a" ] [ "-" locants "-" ] [ multiplier ] ( "en" | "yn" )
func (r *reader) unsaturationsAt(x candidate, limit int) []candidate {
	if len(x.unsat) >= 3 {
		return nil
	}
	var found []candidate
	for _, start := range []int{x.end, x.end + 1} {
		if start > x.end && !(r.has(x.end, limit, "a") && len(x.unsat) == 0 || r.has(x.end, limit, "e") && len(x.unsat) > 0) {
			continue
		}
		p := start
		var locants []locant
		if r.has(p, limit, "-") {
			list, end, ok := r.locantsAt(p+1, limit)
			if !ok || !r.has(end, limit, "-") {
				continue
			}
			locants, p = list, end+1
		}
		for _, m := range append(r.numeralsAt(multipliers(), p, limit), numeralAt{1, p}) {
			for order, text := range []string{2: "en", 3: "yn"} {
				if text == "" || !r.has(m.end, limit, text) {
					continue
				}
				y := x
				y.end = m.end + 2
				y.unsat = append(append([]unsaturation{}, x.unsat...), unsaturation{at: x.end, locants: locants, count: m.value, order: order})
				r.reached(y.end)
				found = append(found, y)
				found = append(found, r.unsaturationsAt(y, limit)...)
			}
		}
	}
	return found
}

// suffixesAt reads the suffixes at the end of x; at most three different ones.
//
//	{ [ "e" ] [ "-" locants [ added hydrogen ] "-" ] [ multiplier ] suffix }
func (r *reader) suffixesAt(x candidate, limit, depth int) []candidate {
	if depth >= 3 {
		return nil
	}
	var found []candidate
	for _, skip := range []int{0, 1} {
		p := x.end + skip
		if skip == 1 && !r.has(x.end, limit, "e") {
			continue
		}
		var locants, added []locant
		if r.has(p, limit, "-") {
			list, end, ok := r.locantsAt(p+1, limit)
			if ok {
				if more, after, ok := r.hydrogenAt(end, limit); ok {
					added, end = more, after
				}
			}
			if !ok || !r.has(end, limit, "-") {
				continue
			}
			locants, p = list, end+1
			r.reached(p)
		}
		for _, m := range append(r.numeralsAt(multipliers(), p, limit), numeralAt{1, p}) {
			q := m.end
			if r.has(q, limit, "-") && q > p {
				q++
			}
			for _, def := range suffixAt(r.s[q:limit]) {
				if def.kind == oxySuffix && (x.core.kind != chainCore || len(x.unsat) == 0) || def.kind == chainSuffix && x.core.kind != cycleCore && x.core.kind != ringCore {
					continue
				}
				y := x
				y.end = q + len(def.text)
				use := suffixUse{at: x.end, def: def, locants: locants, hydrogen: added, count: m.value}
				y.suffixes = append(append([]suffixUse{}, x.suffixes...), use)
				y.bonds = use.bonds()
				found = append(found, y)
				if !y.bonds && len(locants) > 0 {
					found = append(found, r.suffixesAt(y, limit, depth+1)...)
				}
			}
		}
	}
	return found
}

// acidEndings reads what follows the stem of a retained acid.
func (r *reader) acidEndings(c core, limit int, add func(candidate)) {
	for _, ending := range []struct {
		text string
		form acidForm
	}{
		{"ic acid", plainForm}, {"ate", anionForm}, {"amide", amideForm}, {"onitrile", nitrileForm},
		{"nitrile", nitrileForm}, {"aldehyde", aldehydeForm}, {"ohydrazide", hydrazideForm}, {"anilide", anilideForm},
		{"itrile", nitrileForm},
	} {
		if ending.text == "itrile" && !strings.HasSuffix(c.entry.text, "on") {
			continue // propionitrile
		}
		if r.has(c.end, limit, ending.text) {
			add(candidate{core: c, end: c.end + len(ending.text), form: ending.form})
		}
	}
	if len(c.entry.sites) != 1 {
		return
	}
	if r.has(c.end, limit, "amido") {
		add(candidate{core: c, end: c.end + 5, form: amideForm, bonds: true, amido: true})
	}
	for _, ending := range c.entry.acyl {
		if r.has(c.end, limit, ending) {
			add(candidate{core: c, end: c.end + len(ending), form: acylForm, bonds: true})
		}
		if ending == "yl" && r.has(c.end, limit, "oxy") {
			add(candidate{core: c, end: c.end + 3, form: acylForm, bonds: true, oxy: true})
		}
	}
}
