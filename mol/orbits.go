package mol

// orbits joins numbers that symmetries, or anything else, put together.
type orbits struct{ parent []int }

func newOrbits(n int) *orbits {
	o := &orbits{make([]int, n)}
	for i := range o.parent {
		o.parent[i] = i
	}
	return o
}

// find returns the lowest of the numbers joined with i.
func (o *orbits) find(i int) int {
	for o.parent[i] != i {
		o.parent[i] = o.parent[o.parent[i]]
		i = o.parent[i]
	}
	return i
}

func (o *orbits) union(i, j int) {
	a, b := o.find(i), o.find(j)
	o.parent[max(a, b)] = min(a, b)
}

// join takes in the symmetry that maps the order from to the order to, as far
// as it moves members.
func (o *orbits) join(members, from, to []int32) {
	place := make(map[int32]int, len(members))
	for i, at := range members {
		place[at] = i
	}
	for k, at := range from {
		i, ok := place[at]
		if !ok {
			continue
		}
		if j, ok := place[to[k]]; ok {
			o.union(i, j)
		}
	}
}
