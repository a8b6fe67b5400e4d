package isomer

import (
	"context"
	"fmt"
	"slices"
)

// kernel is a connected multigraph whose vertices have three or four edge
// ends: a ring system without its atoms of two ring bonds. Loops and parallel
// edges stand for rings that only such atoms make.
type kernel struct {
	n int
	m [][]uint8 // edges between two vertices; loops on the diagonal
}

func newKernel(n int) *kernel {
	k := &kernel{n: n, m: make([][]uint8, n)}
	cells := make([]uint8, n*n)
	for i := range k.m {
		k.m[i] = cells[i*n : (i+1)*n]
	}
	return k
}

// larger returns a copy with more vertices.
func (k *kernel) larger(more int) *kernel {
	c := newKernel(k.n + more)
	for i := range k.n {
		copy(c.m[i], k.m[i])
	}
	return c
}

func (k *kernel) add(i, j int, by int) {
	k.m[i][j] += uint8(by)
	if i != j {
		k.m[j][i] += uint8(by)
	}
}

// degree counts a loop twice.
func (k *kernel) degree(i int) int {
	d := int(k.m[i][i])
	for _, x := range k.m[i] {
		d += int(x)
	}
	return d
}

// split puts vertex x on an edge.
func (k *kernel) split(e [2]int, x int) {
	k.add(e[0], e[1], -1)
	k.add(e[0], x, 1)
	k.add(e[1], x, 1)
}

// atoms is how many vertices the smallest simple graph with this kernel has:
// a loop needs two vertices on it, and of parallel edges one needs none.
func (k *kernel) atoms() int {
	a := k.n
	for i := range k.n {
		a += 2 * int(k.m[i][i])
		for j := range i {
			a += max(0, int(k.m[i][j])-1)
		}
	}
	return a
}

// mostKernels bounds the kernels kept of one number of rings.
const mostKernels = 400_000

// kernels gives, for each number of rings from 2 on, the kernels of simple
// graphs of at most atoms vertices.
type kernels struct {
	atoms int
	sets  [][]*kernel // by rings - 2
}

// of returns the kernels of a number of rings. A kernel without an edge that
// isn't a bridge (its vertices of two edges then left out) is one of a ring
// less; so all come from those by adding an edge.
func (ks *kernels) of(ctx context.Context, rings int) ([]*kernel, error) {
	if len(ks.sets) == 0 {
		ks.sets = append(ks.sets, ks.first())
	}
	for len(ks.sets) <= rings-2 {
		seen := map[string]bool{}
		var next []*kernel
		for _, k := range ks.sets[len(ks.sets)-1] {
			if err := ctx.Err(); err != nil {
				return nil, err
			}
			k.grow(func(c *kernel) {
				if c.atoms() > ks.atoms {
					return
				}
				if key := c.canonical(); !seen[key] {
					seen[key] = true
					next = append(next, c)
				}
			})
			if len(next) > mostKernels {
				return nil, fmt.Errorf("there are more than %d ring systems of %d rings: ask for fewer rings", mostKernels, len(ks.sets)+2)
			}
		}
		ks.sets = append(ks.sets, next)
	}
	return ks.sets[rings-2], nil
}

// first are the kernels of two rings: spiro, fused or bridged, and apart.
func (ks *kernels) first() []*kernel {
	spiro, fused, apart := newKernel(1), newKernel(2), newKernel(2)
	spiro.m[0][0] = 2
	fused.add(0, 1, 3)
	apart.add(0, 1, 1)
	apart.m[0][0], apart.m[1][1] = 1, 1
	return slices.DeleteFunc([]*kernel{spiro, fused, apart}, func(k *kernel) bool { return k.atoms() > ks.atoms })
}

// grow makes every kernel that has an edge more.
func (k *kernel) grow(yield func(*kernel)) {
	var free []int
	var edges [][2]int
	for i := range k.n {
		if k.degree(i) == 3 {
			free = append(free, i)
		}
		for j := i; j < k.n; j++ {
			if k.m[i][j] > 0 {
				edges = append(edges, [2]int{i, j})
			}
		}
	}
	n := k.n
	for x, i := range free {
		for _, j := range free[x+1:] {
			c := k.larger(0)
			c.add(i, j, 1)
			yield(c)
		}
		for _, e := range edges {
			c := k.larger(1)
			c.split(e, n)
			c.add(i, n, 1)
			yield(c)
		}
		c := k.larger(1) // a ring on a chain
		c.add(i, n, 1)
		c.add(n, n, 1)
		yield(c)
	}
	for x, e := range edges {
		for y, f := range edges[x:] {
			if y == 0 && k.m[e[0]][e[1]] < 2 {
				continue
			}
			c := k.larger(2)
			c.split(e, n)
			c.split(f, n+1)
			c.add(n, n+1, 1)
			yield(c)
		}
		twice := k.larger(2)
		twice.split(e, n)
		twice.split([2]int{e[0], n}, n+1)
		twice.add(n, n+1, 1)
		yield(twice)
		spiro := k.larger(1)
		spiro.split(e, n)
		spiro.add(n, n, 1)
		yield(spiro)
		apart := k.larger(2)
		apart.split(e, n)
		apart.add(n, n+1, 1)
		apart.add(n+1, n+1, 1)
		yield(apart)
	}
}

// refine splits the classes of vertices until those of a class have equally
// many edges to each class. Classes are numbers from 0 on.
func (k *kernel) refine(class []uint8) {
	type signed struct {
		key    string
		vertex int
	}
	rows := make([]signed, k.n)
	classes := 0
	for {
		for i := range k.n {
			key := make([]byte, 0, 2*k.n+1)
			for j, x := range k.m[i] {
				if x > 0 && j != i {
					key = append(key, class[j]*8+x)
				}
			}
			slices.Sort(key)
			rows[i] = signed{string(append([]byte{class[i], k.m[i][i]}, key...)), i}
		}
		slices.SortFunc(rows, func(a, b signed) int {
			switch {
			case a.key < b.key:
				return -1
			case a.key > b.key:
				return 1
			}
			return 0
		})
		c := 0
		for x, r := range rows {
			if x > 0 && r.key != rows[x-1].key {
				c++
			}
			class[r.vertex] = uint8(c)
		}
		if c+1 == classes {
			return
		}
		classes = c + 1
	}
}

// canonical is a text that kernels share only if they are the same.
func (k *kernel) canonical() string {
	var best []byte
	k.labelings(make([]uint8, k.n), func(text []byte) {
		if best == nil || string(text) > string(best) {
			best = append(best[:0], text...)
		}
	})
	return string(best)
}

// labelings tries the numberings that refinement leaves open.
func (k *kernel) labelings(class []uint8, yield func([]byte)) {
	k.refine(class)
	size := make([]int, k.n)
	for _, c := range class {
		size[c]++
	}
	open := slices.IndexFunc(size, func(s int) bool { return s > 1 })
	if open < 0 {
		text := make([]byte, 0, k.n*(k.n+1)/2)
		at := make([]int, k.n)
		for v, c := range class {
			at[c] = v
		}
		for i := range k.n {
			for j := range i + 1 {
				text = append(text, k.m[at[i]][at[j]])
			}
		}
		yield(text)
		return
	}
	for v, c := range class {
		if int(c) == open {
			next := slices.Clone(class)
			for w, d := range next {
				if int(d) > open || int(d) == open && w != v {
					next[w]++
				}
			}
			k.labelings(next, yield)
		}
	}
}

// automorphisms lists the permutations of the vertices that keep the edges.
func (k *kernel) automorphisms() [][]uint8 {
	class := make([]uint8, k.n)
	k.refine(class)
	var found [][]uint8
	image := make([]uint8, k.n)
	used := make([]bool, k.n)
	var assign func(v int)
	assign = func(v int) {
		if v == k.n {
			found = append(found, slices.Clone(image))
			return
		}
	next:
		for w := range k.n {
			if used[w] || class[w] != class[v] {
				continue
			}
			for u := range v {
				if k.m[u][v] != k.m[image[u]][w] {
					continue next
				}
			}
			image[v], used[w] = uint8(w), true
			assign(v + 1)
			used[w] = false
		}
	}
	assign(0)
	return found
}
