package names

import "strings"

// readAnhydride reads [acid stem]ic anhydride: of two molecules of an acid, of
// two acids, or the ring of a dicarboxylic acid.
func (r *reader) readAnhydride(p, limit int) []built {
	var acids [][]built
	begin := p
	for _, cut := range append(r.cuts(p, limit), split{limit, limit}) {
		word := r.s[begin:cut.end]
		if strings.HasSuffix(word, "ic") {
			sub := r.derived(begin, cut.end, " acid")
			list := sub.compound(0, len(sub.s))
			if len(list) == 0 {
				return nil
			}
			acids = append(acids, list)
			begin = cut.next
		}
	}
	if begin < limit || len(acids) == 0 || len(acids) > 2 || strings.Contains(r.s[p:limit], "fumar") || strings.Contains(r.s[p:limit], "mesacon") {
		return nil
	}
	if len(acids) == 1 {
		acids = append(acids, acids[0])
	}
	var found []built
	for _, x := range acids[0] {
		hydroxys := x.acidHydroxys()
		if len(acids[0]) > 0 && &acids[0][0] == &acids[1][0] {
			if b, ok := r.ringAnhydride(x, hydroxys); ok {
				found = addBuilt(found, b)
			}
		}
		for _, y := range acids[1] {
			if &acids[0][0] == &acids[1][0] && x.key != y.key {
				continue
			}
			others := y.acidHydroxys()
			if len(hydroxys) != 1 || len(others) != 1 {
				continue
			}
			g := x.clone().graph
			part := y.clone().graph
			at := r.carrier(y, others[0])
			part.removeAtom(others[0])
			if at > others[0] {
				at--
			}
			g.join(hydroxys[0], &part, at, 1)
			if b, ok := complete(g, alkyls{}, x); ok {
				found = addBuilt(found, b)
			}
		}
	}
	return found
}

// ringAnhydride closes two carboxyl groups to a ring of five or six.
func (r *reader) ringAnhydride(x built, hydroxys []int) (built, bool) {
	if len(hydroxys) != 2 {
		return built{}, false
	}
	g := x.clone().graph
	one, two := r.carrier(x, hydroxys[0]), r.carrier(x, hydroxys[1])
	if d := g.distance(one, two); d != 3 && d != 4 {
		return built{}, false
	}
	g.addBond(hydroxys[0], two, 1)
	g.removeAtom(hydroxys[1])
	return complete(g, alkyls{}, x)
}

// distance is the number of bonds on the shortest way from a to b, or -1.
func (g *graph) distance(a, b int) int {
	steps := make([]int, len(g.atoms))
	for i := range steps {
		steps[i] = -1
	}
	steps[a] = 0
	queue := []int{a}
	for len(queue) > 0 {
		i := queue[0]
		queue = queue[1:]
		g.neighbors(i, func(j, _ int) {
			if steps[j] < 0 {
				steps[j] = steps[i] + 1
				queue = append(queue, j)
			}
		})
	}
	return steps[b]
}
