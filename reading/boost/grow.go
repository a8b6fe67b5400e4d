package boost

import (
	"math/rand/v2"
)

// grower grows one tree at a time, best leaf first, on histograms.
type grower struct {
	table         *Table
	set           Settings
	random        *rand.Rand
	first, second []float64
	rows, spare   []int32
	features      []int32 // of this tree
	pool          [][]sum
}

// sum is one bin of a histogram.
type sum struct{ first, second float64 }

// leaf is a leaf that may be split: its rows are rows[lo:hi].
type leaf struct {
	lo, hi        int
	first, second float64
	histogram     []sum // features × maxBins
	node          int32
	gain          float64
	feature       int32
	bin           int
}

func (g *grower) value(first, second float64) float64 {
	return -first / (second + g.set.L2)
}

func (g *grower) grow(e *Ensemble) int32 {
	g.rows = g.rows[:0]
	for i := range g.table.rows {
		if g.second[i] > 0 && (g.set.RowShare >= 1 || g.random.Float64() < g.set.RowShare) {
			g.rows = append(g.rows, int32(i))
		}
	}
	g.features = g.features[:0]
	for f := range g.table.bins {
		if len(g.table.edges[f]) > 1 && (g.set.FeatureShare >= 1 || g.random.Float64() < g.set.FeatureShare) {
			g.features = append(g.features, int32(f))
		}
	}
	root := leaf{hi: len(g.rows), histogram: g.takeHistogram()}
	for _, i := range g.rows {
		root.first += g.first[i]
		root.second += g.second[i]
	}
	root.node = e.addLeaf(float32(g.set.Rate * g.value(root.first, root.second)))
	g.fill(&root)
	g.findSplit(&root)
	leaves := []leaf{root}
	for len(leaves) < g.set.Leaves {
		best := -1
		for i := range leaves {
			if leaves[i].gain > g.set.MinGain && (best < 0 || leaves[i].gain > leaves[best].gain) {
				best = i
			}
		}
		if best < 0 {
			break
		}
		left, right := g.split(e, leaves[best])
		leaves[best] = left
		leaves = append(leaves, right)
	}
	for _, l := range leaves {
		g.pool = append(g.pool, l.histogram)
	}
	return root.node
}

func (g *grower) takeHistogram() []sum {
	need := len(g.table.bins) * maxBins
	if n := len(g.pool); n > 0 {
		h := g.pool[n-1]
		g.pool = g.pool[:n-1]
		return h
	}
	return make([]sum, need)
}

func (g *grower) fill(l *leaf) {
	for k, f := range g.features {
		h := l.histogram[k*maxBins : (k+1)*maxBins]
		clear(h)
		bins := g.table.bins[f]
		for _, i := range g.rows[l.lo:l.hi] {
			s := &h[bins[i]&(maxBins-1)]
			s.first += g.first[i]
			s.second += g.second[i]
		}
	}
}

func (g *grower) findSplit(l *leaf) {
	l.gain = 0
	if l.second < 2*g.set.MinWeight {
		return
	}
	whole := l.first * l.first / (l.second + g.set.L2)
	for k, f := range g.features {
		h := l.histogram[k*maxBins : (k+1)*maxBins]
		var a, b float64
		for bin := range len(g.table.edges[f]) - 1 {
			if h[bin] == (sum{}) { // most bins of a small leaf: the gain is as before
				continue
			}
			a += h[bin].first
			b += h[bin].second
			if b < g.set.MinWeight {
				continue
			}
			c, d := l.first-a, l.second-b
			if d < g.set.MinWeight {
				break
			}
			gain := a*a/(b+g.set.L2) + c*c/(d+g.set.L2) - whole
			if gain > l.gain {
				l.gain, l.feature, l.bin = gain, f, bin
			}
		}
	}
}

func (g *grower) split(e *Ensemble, l leaf) (left, right leaf) {
	bins := g.table.bins[l.feature]
	lo, n := l.lo, 0
	for _, i := range g.rows[l.lo:l.hi] {
		if int(bins[i]) <= l.bin {
			g.rows[lo] = i
			lo++
			left.first += g.first[i]
			left.second += g.second[i]
		} else {
			g.spare[n] = i
			n++
		}
	}
	copy(g.rows[lo:l.hi], g.spare[:n])
	left.lo, left.hi, right.lo, right.hi = l.lo, lo, lo, l.hi
	right.first, right.second = l.first-left.first, l.second-left.second
	left.node = e.addLeaf(float32(g.set.Rate * g.value(left.first, left.second)))
	right.node = e.addLeaf(float32(g.set.Rate * g.value(right.first, right.second)))
	n0 := &e.nodes[l.node]
	n0.feature, n0.threshold = l.feature, g.table.edges[l.feature][l.bin]
	n0.left, n0.right = left.node, right.node

	// The smaller child is counted, the larger is the rest.
	small, large := &left, &right
	if left.hi-left.lo > right.hi-right.lo {
		small, large = &right, &left
	}
	small.histogram = g.takeHistogram()
	g.fill(small)
	large.histogram = l.histogram
	for i := range len(g.features) * maxBins {
		large.histogram[i].first -= small.histogram[i].first
		large.histogram[i].second -= small.histogram[i].second
	}
	g.findSplit(&left)
	g.findSplit(&right)
	return left, right
}

func (e *Ensemble) addLeaf(value float32) int32 {
	e.nodes = append(e.nodes, node{feature: -1, value: value})
	return int32(len(e.nodes) - 1)
}

// addTree adds a new tree's values to the scores of all rows, also those the
// tree was grown without.
func (g *grower) addTree(e *Ensemble, root int32, scores []float64) {
	type stop struct {
		feature     int32
		bin         uint8
		left, right int32
		value       float64
	}
	// Splits were made at bin edges: walk on bins, which are at hand.
	stops := make([]stop, len(e.nodes)-int(root))
	for k := range stops {
		n := e.nodes[int(root)+k]
		s := stop{feature: n.feature, left: n.left - root, right: n.right - root, value: float64(n.value)}
		if n.feature >= 0 {
			for b, edge := range g.table.edges[n.feature] {
				if edge == n.threshold {
					s.bin = uint8(b)
					break
				}
			}
		}
		stops[k] = s
	}
	for i := range scores {
		s := &stops[0]
		for s.feature >= 0 {
			if g.table.bins[s.feature][i] <= s.bin {
				s = &stops[s.left]
			} else {
				s = &stops[s.right]
			}
		}
		scores[i] += s.value
	}
}
