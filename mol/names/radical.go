package names

// radical is a substituent with all that is bonded to it.
type radical struct {
	at, end  int
	graph    *graph
	bonds    []int // the bonding atoms: one, or two of a bridge
	kind     radicalKind
	alkyl    bool // a saturated acyclic hydrocarbon
	penalty  int  // how much the name leaves open, see assemble
	compound bool // carries substituents without parentheses around the whole
	cut      bool // more structures are possible than were made
	stereo   descriptors
	key      string
}

// maxAlternatives is how many structures one stretch of text may mean.
const maxAlternatives = 48

// radicalsAt returns the substituents whose name begins at p, with all that is
// bonded to them:
//
//	radical = stem | "(" radical ")" | group { group } stem
//
// It grows from the short to the long ones, because the first group of a
// longer one may be a shorter one.
func (r *reader) radicalsAt(p, limit int) []radical {
	key := span{p, limit}
	if found, ok := r.radMemo[key]; ok {
		return found
	}
	r.radMemo[key] = nil // text within itself has no reading
	var found []radical
	perEnd := map[int]int{}
	var queue []group
	add := func(x radical) {
		for i := range found {
			if y := &found[i]; y.end == x.end && y.key == x.key {
				if x.penalty < y.penalty {
					y.penalty, y.cut, y.stereo = x.penalty, x.cut, x.stereo
				}
				return
			}
		}
		if perEnd[x.end]++; perEnd[x.end] > maxAlternatives {
			for i := range found {
				if found[i].end == x.end {
					found[i].cut = true
				}
			}
			return
		}
		x.at = p
		r.reached(x.end)
		found = append(found, x)
		r.radMemo[key] = found
		queue = append(queue, group{at: p, end: x.end, count: 1, rads: []radical{x}})
	}
	for _, x := range r.bracketed(p, limit) {
		add(x)
	}
	for _, x := range r.normal(p, limit) {
		add(x)
	}
	for _, c := range r.candidatesAt(p, limit) {
		if c.bonds {
			for _, x := range r.assembleRadicals(c, nil) {
				add(x)
			}
		}
	}
	leads := r.leadsAt(p, limit)
	for len(queue) > 0 || len(leads) > 0 {
		var first group
		if len(queue) > 0 {
			first, queue = queue[0], queue[1:]
			// Every structure of this text is a group of its own here, so
			// that those found later take part too.
		} else {
			first, leads = leads[0], leads[1:]
		}
		r.extend([]group{first}, first.end, limit, add)
		if r.exceeded {
			break
		}
	}
	r.radMemo[key] = found
	return found
}

// extend completes a sequence of groups with the stems that follow it.
func (r *reader) extend(list []group, p, limit int, add func(radical)) {
	if p >= limit || r.exceeded {
		return
	}
	q := p
	if r.has(p, limit, "-") {
		q++
	}
	for _, c := range r.candidatesAt(q, limit) {
		if !c.bonds {
			continue
		}
		if q > p && c.core.kind == chainCore && letter(r.s[list[0].at]) {
			continue // in 2-chloro-methylcyclohexane the hyphen keeps the two apart
		}
		for _, x := range r.assembleRadicals(c, list) {
			add(x)
		}
	}
	for _, g := range r.groupsAt(p, limit) {
		if digit(r.s[g.at]) && !digit(r.s[list[0].at]) {
			continue // in benzyloxy-2-methoxymethyl the 2 is of the whole, not of the part
		}
		r.extend(append(list[:len(list):len(list)], g), g.end, limit, add)
	}
}

// bracketed reads a substituent in parentheses.
func (r *reader) bracketed(p, limit int) []radical {
	if !r.has(p, limit, "(") {
		return nil
	}
	end, ok := r.closing(p, limit)
	if !ok {
		return nil
	}
	var found []radical
	for _, x := range r.radicalsAt(p+1, end) {
		if x.end == end {
			x.end = end + 1
			x.alkyl, x.compound = false, false // parentheses say what is bonded to what
			found = append(found, x)
		}
	}
	return found
}

// normal reads n- before an unbranched substituent, which says nothing more.
func (r *reader) normal(p, limit int) []radical {
	if !r.has(p, limit, "n-") || r.cased && r.caps[p] {
		return nil
	}
	var found []radical
	for _, c := range r.coresAt(p+2, limit) {
		if c.kind != chainCore {
			continue
		}
		for _, x := range r.endingsAt(c, limit) {
			if x.bonds && len(x.unsat) == 0 {
				found = append(found, r.assembleRadicals(x, nil)...)
			}
		}
	}
	return found
}
