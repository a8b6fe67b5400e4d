package match

import (
	"cmp"
	"math"
	"slices"
	"sync"

	"ionwright/spectrum"
)

// Library finds the spectra most like a given one among many. It keeps, for
// each unit m/z, which spectra have a peak there and with what weight, so that
// a search looks only at the m/z that the spectrum has. It is safe for
// concurrent searches.
type Library struct {
	weights Weights
	size    int
	slots   map[int]int // unit m/z: place in starts
	starts  []int       // where the entries of a slot start; one more than slots
	ids     []uint32
	values  []float32
	scores  sync.Pool // *[]float32
}

// Hit is one spectrum found.
type Hit struct {
	Index int     // in the order given to NewLibrary
	Score float64 // cosine, 0 to 1, to six decimals
}

// NewLibrary returns a library of spectra, each in its View, compared with the
// given weights. It holds no reference to them. It takes eight bytes a peak.
func NewLibrary(spectra []spectrum.Spectrum, w Weights) *Library {
	if len(spectra) > math.MaxUint32 {
		panic("match: more spectra than a library numbers")
	}
	l := &Library{weights: w, size: len(spectra), slots: map[int]int{}}
	// First count the entries of each m/z, then fill them in.
	counts := []int{}
	for _, s := range spectra {
		for _, p := range vector(View(s), w) {
			slot, known := l.slots[int(p.MZ)]
			if !known {
				slot = len(counts)
				l.slots[int(p.MZ)] = slot
				counts = append(counts, 0)
			}
			counts[slot]++
		}
	}
	l.starts = make([]int, len(counts)+1)
	for i, n := range counts {
		l.starts[i+1] = l.starts[i] + n
	}
	total := l.starts[len(counts)]
	l.ids, l.values = make([]uint32, total), make([]float32, total)
	next := slices.Clone(l.starts)
	for id, s := range spectra {
		for _, p := range vector(View(s), w) {
			at := next[l.slots[int(p.MZ)]]
			next[l.slots[int(p.MZ)]]++
			l.ids[at], l.values[at] = uint32(id), float32(p.Intensity)
		}
	}
	return l
}

// Len returns how many spectra the library has.
func (l *Library) Len() int { return l.size }

// Search returns the k spectra most like s in its View, best first, the earlier
// one first among equals. Spectra without a common peak aren't returned, so
// there can be fewer than k.
func (l *Library) Search(s spectrum.Spectrum, k int) []Hit {
	pooled, _ := l.scores.Get().(*[]float32)
	if pooled == nil {
		fresh := make([]float32, l.size)
		pooled = &fresh
	}
	scores := *pooled
	clear(scores)
	for _, p := range vector(View(s), l.weights) {
		slot, known := l.slots[int(p.MZ)]
		if !known {
			continue
		}
		weight := float32(p.Intensity)
		from, to := l.starts[slot], l.starts[slot+1]
		values := l.values[from:to]
		for i, id := range l.ids[from:to] {
			scores[id] += weight * values[i]
		}
	}
	hits := best(scores, k)
	l.scores.Put(pooled)
	return hits
}

// best returns the k highest positive scores. It keeps a heap with the worst
// of the best on top.
func best(scores []float32, k int) []Hit {
	if k <= 0 {
		return nil
	}
	k = min(k, len(scores))
	heap := make([]Hit, 0, k)
	worse := func(a, b Hit) bool {
		return a.Score < b.Score || a.Score == b.Score && a.Index > b.Index
	}
	sink := func(i int) {
		for {
			child := 2*i + 1
			if child >= len(heap) {
				return
			}
			if child+1 < len(heap) && worse(heap[child+1], heap[child]) {
				child++
			}
			if !worse(heap[child], heap[i]) {
				return
			}
			heap[i], heap[child] = heap[child], heap[i]
			i = child
		}
	}
	var least float32
	for id, score := range scores {
		if score <= least {
			continue // also those with no peak in common
		}
		if len(heap) < k {
			heap = append(heap, Hit{id, float64(score)})
			if len(heap) == k {
				for i := k/2 - 1; i >= 0; i-- {
					sink(i)
				}
				least = float32(heap[0].Score)
			}
			continue
		}
		heap[0] = Hit{id, float64(score)}
		sink(0)
		least = float32(heap[0].Score)
	}
	slices.SortFunc(heap, func(a, b Hit) int {
		return cmp.Or(cmp.Compare(b.Score, a.Score), cmp.Compare(a.Index, b.Index))
	})
	for i := range heap {
		heap[i].Score = min(heap[i].Score, 1)
	}
	return heap
}
