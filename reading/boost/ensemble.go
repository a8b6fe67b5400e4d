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
}

// quick is a node in eight bytes: what Score needs, so that many trees stay in
// the processor's cache.
type quick struct {
	feature     int16   // -1 for a leaf
	left, right uint8   // distance to the children
	threshold   float32 // of a leaf: its value
}

// pack fills quick. Trees have at most mostLeaves leaves, so that children lie
// less than 256 nodes after their parent.
func (e *Ensemble) pack() {
	e.quick = make([]quick, len(e.nodes))
	for i, n := range e.nodes {
		if n.feature < 0 {
			e.quick[i] = quick{-1, 0, 0, n.value}
			continue
		}
		e.quick[i] = quick{int16(n.feature), uint8(int(n.left) - i), uint8(int(n.right) - i), n.threshold}
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
	for _, at := range e.roots {
		sum += float64(leafOf(nodes, int(at), x))
	}
	return sum
}

// leafOf walks a tree from its root and returns the leaf's value.
func leafOf(nodes []quick, at int, x []float32) float32 {
	n := nodes[at]
	for n.feature >= 0 {
		step := n.right
		if x[n.feature] <= n.threshold {
			step = n.left
		}
		at += int(step)
		n = nodes[at]
	}
	return n.threshold
}

// Scores returns the scores of several rows: tree by tree, which is faster
// than row by row. It panics if a row is shorter than Width.
func (e *Ensemble) Scores(rows [][]float32) []float64 {
	out := make([]float64, len(rows))
	for i, x := range rows {
		e.check(x)
		out[i] = e.base
	}
	for _, at := range e.roots {
		for i, x := range rows {
			out[i] += float64(leafOf(e.quick, int(at), x))
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
