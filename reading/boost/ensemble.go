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
	width int // number of features
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
	nodes := e.nodes
	for _, at := range e.roots {
		n := &nodes[at]
		for n.feature >= 0 {
			if x[n.feature] <= n.threshold {
				n = &nodes[n.left]
			} else {
				n = &nodes[n.right]
			}
		}
		sum += float64(n.value)
	}
	return sum
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
