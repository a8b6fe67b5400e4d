package boost

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
)

// Settings say how an ensemble is grown.
type Settings struct {
	Rounds       int     // number of trees
	Leaves       int     // most leaves of a tree
	MinWeight    float64 // least sum of second derivatives in a leaf
	L2           float64 // penalty on leaf values
	Rate         float64 // share of each tree's step that is taken
	RowShare     float64 // share of the rows that each tree sees, 0 < share <= 1
	FeatureShare float64 // share of the features that each tree sees, 0 < share <= 1
	MinGain      float64 // least gain of a split
	Seed         uint64  // the same seed and data give the same ensemble
	Base         float64 // score before the first tree
}

// Loss writes the first and second derivatives of the loss at the scores: one
// of each per row.
type Loss func(scores, first, second []float64)

// Logistic is the loss of two-class data: label 1 or 0 per row, a weight per
// row (nil for equal weights). The score is the log-odds.
func Logistic(labels []bool, weights []float64) Loss {
	return func(scores, first, second []float64) {
		for i, s := range scores {
			p := 1 / (1 + math.Exp(-s))
			y, w := 0.0, 1.0
			if labels[i] {
				y = 1
			}
			if weights != nil {
				w = weights[i]
			}
			first[i] = w * (p - y)
			second[i] = w * p * (1 - p)
		}
	}
}

// Choice is the loss of choosing one row of a group: rows of group g are
// starts[g] to starts[g+1], chosen[g] is the right row's index, or -1 for a
// group without one, which is left out. The scores are log-weights. Weights
// are per group (nil for equal weights).
func Choice(starts []int, chosen []int, weights []float64) Loss {
	return func(scores, first, second []float64) {
		for g, right := range chosen {
			lo, hi := starts[g], starts[g+1]
			if right < 0 {
				clear(first[lo:hi])
				clear(second[lo:hi])
				continue
			}
			w := 1.0
			if weights != nil {
				w = weights[g]
			}
			top := slices.Max(scores[lo:hi])
			sum := 0.0
			for i := lo; i < hi; i++ {
				first[i] = math.Exp(scores[i] - top)
				sum += first[i]
			}
			for i := lo; i < hi; i++ {
				p := first[i] / sum
				second[i] = w * p * (1 - p)
				if i == right {
					p--
				}
				first[i] = w * p
			}
		}
	}
}

const maxBins = 64

// mostLeaves is the largest tree.
const mostLeaves = 120

// Table is training data put into bins, column by column. It can serve many
// fits.
type Table struct {
	rows  int
	bins  [][]uint8   // per feature, per row
	edges [][]float32 // per feature: bin b holds values <= edges[b]; the last is +Inf
}

// NewTable bins rows of equal width. It panics if the rows' widths differ.
func NewTable(rows [][]float32) *Table {
	if len(rows) == 0 {
		return &Table{}
	}
	width := len(rows[0])
	t := &Table{rows: len(rows), bins: make([][]uint8, width), edges: make([][]float32, width)}
	column := make([]float32, len(rows))
	for f := range width {
		for i, row := range rows {
			if len(row) != width {
				panic(fmt.Sprintf("boost: row %d has %d features, the first has %d", i, len(row), width))
			}
			column[i] = row[f]
		}
		t.edges[f] = binEdges(column)
		bins := make([]uint8, len(rows))
		for i, v := range column {
			b, _ := slices.BinarySearch(t.edges[f], v)
			bins[i] = uint8(min(b, len(t.edges[f])-1))
		}
		t.bins[f] = bins
	}
	return t
}

// binEdges returns upper edges of at most maxBins bins that hold about as
// many distinct values each as their frequency asks for.
func binEdges(column []float32) []float32 {
	sorted := slices.Clone(column)
	slices.Sort(sorted)
	if len(sorted) > 200_000 {
		thin := make([]float32, 0, 200_000)
		for i := range 200_000 {
			thin = append(thin, sorted[i*len(sorted)/200_000])
		}
		sorted = thin
	}
	var edges []float32
	per := max(1, len(sorted)/maxBins)
	distinct := slices.Compact(slices.Clone(sorted))
	if len(distinct) <= maxBins {
		for i := 0; i+1 < len(distinct); i++ {
			edges = append(edges, (distinct[i]+distinct[i+1])/2)
		}
		return append(edges, float32(math.Inf(1)))
	}
	// A value that fills a bin by itself (mostly 0) shouldn't use up the
	// others' share: the rest is spread evenly.
	first := 0
	for first < len(sorted) && sorted[first] == sorted[0] {
		first++
	}
	if first > per {
		edges = append(edges, (sorted[0]+sorted[first])/2)
		sorted = sorted[first:]
		per = max(1, len(sorted)/(maxBins-1))
	}
	count := 0
	for i := 0; i+1 < len(sorted) && len(edges) < maxBins-1; i++ {
		count++
		if count >= per && sorted[i] != sorted[i+1] {
			edges = append(edges, (sorted[i]+sorted[i+1])/2)
			count = 0
		}
	}
	return append(edges, float32(math.Inf(1)))
}

// Fit grows an ensemble. It returns an error if the settings make no sense or
// the table is empty. The work is about rows × features × rounds × 3.
func Fit(t *Table, loss Loss, set Settings) (*Ensemble, error) {
	if t.rows == 0 {
		return nil, fmt.Errorf("fitting trees: the table has no rows")
	}
	if set.Leaves > mostLeaves || len(t.bins) > math.MaxInt16 {
		return nil, fmt.Errorf("fitting trees: %d leaves and %d features; at most %d and %d fit", set.Leaves, len(t.bins), mostLeaves, math.MaxInt16)
	}
	if set.Rounds < 1 || set.Leaves < 2 || !(set.Rate > 0) || !(set.RowShare > 0) || !(set.FeatureShare > 0) {
		return nil, fmt.Errorf("fitting trees: settings %+v: rounds, leaves, rate and shares must be positive (leaves 2 or more)", set)
	}
	g := newGrower(t, set)
	e := &Ensemble{base: set.Base, width: len(t.bins)}
	scores := make([]float64, t.rows)
	for i := range scores {
		scores[i] = set.Base
	}
	for range set.Rounds {
		loss(scores, g.first, g.second)
		root := g.grow(e)
		e.roots = append(e.roots, root)
		g.addTree(e, root, scores)
	}
	e.pack()
	return e, nil
}

func newGrower(t *Table, set Settings) *grower {
	return &grower{
		table: t, set: set,
		random: rand.New(rand.NewPCG(set.Seed, 0x9e3779b97f4a7c15)),
		first:  make([]float64, t.rows), second: make([]float64, t.rows),
		rows: make([]int32, 0, t.rows), spare: make([]int32, t.rows),
	}
}
