package ionize

import (
	"cmp"
	"math"
	"slices"

	"ionwright/chem"
)

// way is how the electrons may have gone up to some set of events: the forms
// passed, with what they cost.
type way struct {
	form  *lewis
	cost  float64
	from  *way     // nil at the form the ion reacts from
	doing []int    // events between from and here; nil for a resonance form
	moved []flight // arrows between from and here
}

// Numbers of forms followed. More of them find nothing better for the textbook
// fragmentations.
const (
	mostStarts = 24
	mostForms  = 12
)

// ways finds the cheapest way from the ion to its pieces, over all orders of
// the events; nil when no arrows lead there.
func (a *account) ways() *way {
	all := 1<<len(a.events) - 1
	best := make([][]*way, all+1)
	best[0] = a.starts()
	for mask := range all {
		for _, doing := range a.next(mask) {
			to := mask
			for _, e := range doing {
				to |= 1 << e
			}
			for _, w := range best[mask] {
				limit := math.Inf(1) // what a way must stay below to be kept
				if len(best[all]) > 0 {
					limit = best[all][0].cost
				}
				if len(best[to]) == mostForms {
					limit = min(limit, best[to][mostForms-1].cost)
				}
				a.follow(w, doing, to == all, limit, func(next *way) { best[to] = keep(best[to], next, mostForms) })
			}
		}
	}
	if len(best[all]) == 0 {
		return nil
	}
	return best[all][0]
}

// next lists what may happen after the events of the mask: one event more, or
// two together.
func (a *account) next(mask int) [][]int {
	var out [][]int
	for e := range a.events {
		if mask>>e&1 != 0 {
			continue
		}
		if a.closes(e) && !a.opened(mask) {
			continue // a ring closes after another has opened, or with it
		}
		out = append(out, []int{e})
		for other := e + 1; other < len(a.events); other++ {
			if mask>>other&1 == 0 {
				out = append(out, []int{e, other})
			}
		}
	}
	return out
}

// closes reports whether an event does nothing but close a ring.
func (a *account) closes(e int) bool { return len(a.events[e].cut) == 0 }

// opened reports whether a bond between heavy atoms has broken in the events of
// the mask.
func (a *account) opened(mask int) bool {
	for e := range a.events {
		if mask>>e&1 != 0 && len(a.events[e].cut) > 0 && len(a.events[e].form) == 0 {
			return true
		}
	}
	return false
}

// keep puts a way among the cheapest, one for each form.
func keep(ways []*way, w *way, most int) []*way {
	for i, other := range ways {
		if other.form.same(w.form) {
			if w.cost < other.cost {
				ways = slices.Delete(ways, i, i+1)
				break
			}
			return ways
		}
	}
	at, _ := slices.BinarySearchFunc(ways, w, func(x, y *way) int { return cmp.Or(cmp.Compare(x.cost, y.cost), -1) })
	ways = slices.Insert(ways, at, w)
	return ways[:min(len(ways), most)]
}

// starts lists the forms from which the ion may react.
func (a *account) starts() []*way {
	var out []*way
	add := func(l *lewis) {
		w := &way{form: l, cost: a.cost(l) + a.startCost(l)}
		if a.previous != nil && !a.previous.same(l) {
			flights, ok := a.flights(a.previous, l)
			if !ok {
				return
			}
			w.from = &way{form: a.previous}
			w.moved = flights
			w.cost += resonance
		}
		out = keep(out, w, mostStarts)
	}
	if a.previous != nil {
		add(a.previous.clone())
	}
	for i := range a.atoms {
		a.ionize(a.base, i, add)
	}
	if a.odd {
		for _, e := range a.events {
			for _, p := range e.cut {
				l := a.base.clone()
				l.half = p
				if a.possible(l) && !slices.ContainsFunc(l.pi[p:p+1], func(n int8) bool { return n > 0 }) {
					a.settle(l, add)
				}
			}
		}
	}
	return out
}

// ionize offers the forms in which atom i has given an electron away.
func (a *account) ionize(l *lewis, i int, offer func(*lewis)) {
	at := &a.atoms[i]
	if at.element == chem.H || l.charge[i] > 0 {
		return
	}
	out := l.clone()
	out.charge[i]++
	out.valence[i] = at.hole(out.charge[i])
	a.settle(out, offer)
	if at.group != 4 && l.charge[i] == 0 {
		out := l.clone()
		out.charge[i]++
		out.valence[i] = at.valence - 1
		a.settle(out, offer)
	}
}

// follow offers the forms that the events lead to from a way's form: with the
// charge where it was, or gone from one place to another.
func (a *account) follow(w *way, doing []int, last bool, limit float64, offer func(*way)) {
	changed, opened := a.does(w.form, doing)
	weight := passing
	if last {
		weight = 1
	}
	soFar := w.cost + together*float64(len(doing)-1)
	take := func(l *lewis) {
		if last && !a.neutralLeaves(l) {
			return
		}
		cost := soFar + weight*a.cost(l)
		if cost+perArrow >= limit {
			return
		}
		flights, ok := a.flights(w.form, l)
		if !ok || len(flights) == 0 {
			return
		}
		cost += perArrow*float64(len(flights)) + a.kindCost(w.form, l, doing, flights)
		offer(&way{form: l, cost: cost, from: w, doing: doing, moved: flights})
	}
	give := func(l *lewis, except int) {
		for y := range a.atoms {
			if y != except {
				a.ionize(l, y, take)
			}
		}
		if a.odd {
			a.ionizeFormed(l, doing, take)
		}
	}
	if opened {
		give(changed, -1)
		return
	}
	a.settle(changed.clone(), take)
	for x := range a.atoms {
		if w.form.charge[x] <= 0 {
			continue
		}
		back := changed.clone()
		back.charge[x]--
		back.valence[x] = a.atoms[x].hole(back.charge[x])
		give(back, x)
	}
}

// ionizeFormed offers the forms in which a bond that the events made holds one
// electron only: a saturated ion that closes to a ring or gains a hydrogen has
// no other place for its charge.
func (a *account) ionizeFormed(l *lewis, doing []int, offer func(*lewis)) {
	for _, e := range doing {
		for _, p := range a.events[e].form {
			out := l.clone()
			out.half = p
			a.settle(out, offer)
		}
	}
}
