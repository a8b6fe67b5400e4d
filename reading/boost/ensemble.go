// Package boost holds ensembles of small regression trees and fits them by
// gradient boosting (J. H. Friedman, Ann. Stat. 29 (2001) 1189). A score is a
// sum over trees, so that it splits into one contribution per feature: that
// split is what a reading prints as its reasons.
//
// For most uses call Ensemble.Score; Ensemble.Explain gives the split. Fit
// makes an ensemble from data. The package knows nothing of spectra.
package boost

import "fmt"

// node is a split (Feature ≥ 0) or a leaf. Value is the mean score of the
// training rows that reach the node, shrunk as the leaves are.
type node struct {
	feature     int32 // -1 for a leaf
	threshold   float32
	left, right int32 // children in the same slice; left if x <= threshold
	value       float32
}

// Ensemble is a sum of trees plus a base score. It is immutable after Fit or
// Read and safe for concurrent use.
type Ensemble struct {
	base  float64
	roots []int32
	nodes []node
	width int     // number of features
	quick []quick // the nodes again, packed for Score

	depths []uint8 // of the trees
}

// quick is a node in eight bytes: what Score needs, so that many trees stay in
// the processor's cache. A leaf asks a question too, but both answers lead back
// to it: so a walk of as many steps as the tree is deep needs no other branch.
type quick struct {
	feature   uint16
	child     [2]uint8 // distance to the right and the left child, 0 for a leaf
	threshold float32  // of a leaf: its value
}

// pack fills quick and depths. Trees have at most mostLeaves leaves, so that
// children lie less than 256 nodes after their parent.
func (e *Ensemble) pack() {
	e.quick = make([]quick, len(e.nodes))
	depth := make([]uint8, len(e.nodes))
	for i := len(e.nodes) - 1; i >= 0; i-- {
		n := e.nodes[i]
		if n.feature < 0 {
			e.quick[i] = quick{threshold: n.value}
			continue
		}
		e.quick[i] = quick{uint16(n.feature), [2]uint8{uint8(int(n.right) - i), uint8(int(n.left) - i)}, n.threshold}
		depth[i] = 1 + max(depth[n.left], depth[n.right])
	}
	e.depths = make([]uint8, len(e.roots))
	for k, at := range e.roots {
		e.depths[k] = depth[at]
	}
}

// Width returns the number of features that a row must have.
func (e *Ensemble) Width() int { return e.width }

// Trees returns the number of trees.
func (e *Ensemble) Trees() int { return len(e.roots) }

// check panics if x is shorter than the ensemble's width: a programmer's
// mistake.
func (e *Ensemble) check(x []float32) {
	if len(x) < e.width {
		panic(fmt.Sprintf("boost: row of %d features for an ensemble of %d", len(x), e.width))
	}
}

// Score returns the ensemble's score of a row of features. It panics if x is
// shorter than Width.
func (e *Ensemble) Score(x []float32) float64 {
	e.check(x)
	sum := e.base
	nodes := e.quick
	k := 0
	// Four trees at a time: their walks don't wait for one another.
	for ; k+4 <= len(e.roots); k += 4 {
		a, b, c, d := int(e.roots[k]), int(e.roots[k+1]), int(e.roots[k+2]), int(e.roots[k+3])
		for range max(e.depths[k], e.depths[k+1], e.depths[k+2], e.depths[k+3]) {
			a, b, c, d = step(nodes, a, x), step(nodes, b, x), step(nodes, c, x), step(nodes, d, x)
		}
		sum += float64(nodes[a].threshold)
		sum += float64(nodes[b].threshold)
		sum += float64(nodes[c].threshold)
		sum += float64(nodes[d].threshold)
	}
	for ; k < len(e.roots); k++ {
		sum += float64(leafOf(nodes, int(e.roots[k]), x))
	}
	return sum
}

// step goes from a node to the child that the row asks for.
func step(nodes []quick, at int, x []float32) int {
	n := &nodes[at]
	side := 0 // an index and not a branch: which way a row goes can't be foretold
	if x[n.feature] <= n.threshold {
		side = 1
	}
	return at + int(n.child[side&1])
}

// leafOf walks a tree from its root and returns the leaf's value.
func leafOf(nodes []quick, at int, x []float32) float32 {
	for {
		next := step(nodes, at, x)
		if next == at {
			return nodes[at].threshold
		}
		at = next
	}
}

// Scores returns the scores of several rows: tree by tree, which is faster
// than row by row. It panics if a row is shorter than Width.
func (e *Ensemble) Scores(rows [][]float32) []float64 {
	out := make([]float64, len(rows))
	for i, x := range rows {
		e.check(x)
		out[i] = e.base
	}
	nodes := e.quick
	for k, at := range e.roots {
		i := 0
		for ; i+4 <= len(rows); i += 4 {
			p, q, r, s := rows[i], rows[i+1], rows[i+2], rows[i+3]
			a, b, c, d := int(at), int(at), int(at), int(at)
			for range e.depths[k] {
				a, b, c, d = step(nodes, a, p), step(nodes, b, q), step(nodes, c, r), step(nodes, d, s)
			}
			out[i] += float64(nodes[a].threshold)
			out[i+1] += float64(nodes[b].threshold)
			out[i+2] += float64(nodes[c].threshold)
			out[i+3] += float64(nodes[d].threshold)
		}
		for ; i < len(rows); i++ {
			out[i] += float64(leafOf(nodes, int(at), rows[i]))
		}
	}
	return out
}

// Explain returns the score of a row and adds to contributions, one per
// feature, how much each feature moved it away from the mean of the training
// rows; mean plus the added contributions is the score. The split follows the
// path of the row through each tree: a step to a child is credited to the
// feature that was asked. It panics if x or contributions is shorter than
// Width.
func (e *Ensemble) Explain(x []float32, contributions []float64) (score, mean float64) {
	e.check(x)
	score, mean = e.base, e.base
	nodes := e.nodes
	for _, at := range e.roots {
		n := &nodes[at]
		mean += float64(n.value)
		for n.feature >= 0 {
			child := n.right
			if x[n.feature] <= n.threshold {
				child = n.left
			}
			contributions[n.feature] += float64(nodes[child].value) - float64(n.value)
			n = &nodes[child]
		}
		score += float64(n.value)
	}
	return score, mean
}
