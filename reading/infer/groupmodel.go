package infer

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"ionwright/reading/boost"
	"ionwright/reading/net"
)

// GroupModel tells how probable each of Groups is: a weighted sum of a tree
// ensemble's score and the network's, made honest on spectra that neither had
// seen.
type GroupModel struct {
	Trees []*boost.Ensemble // by group
	Blend [][3]float64      // by group: weights of trees and network, and offset
}

func (m *GroupModel) parts() []part {
	if m.Trees == nil {
		m.Trees = make([]*boost.Ensemble, len(Groups))
	}
	if m.Blend == nil {
		m.Blend = make([][3]float64, len(Groups))
	}
	var out []part
	for k := range Groups {
		out = append(out, treesPart(&m.Trees[k]))
	}
	return append(out, numbersPart(m.Blend))
}

// GroupCall is the probability of a group, with what moved it.
type GroupCall struct {
	Group       int // index in Groups
	Probability float64
	Reasons     []Reason // strongest first, filled on request
}

// Reason is a feature of the peaks that moved the probability of a group.
type Reason struct {
	Feature string
	Peaks   []int   // m/z, where the feature is about particular peaks
	Weight  float64 // change of the log-odds
	// Readable says that the feature is one that a person looks for: peaks,
	// losses, rows and patterns, not a sum over the spectrum.
	Readable bool
}

// call returns the probabilities of the first count groups in the order of
// Groups.
func (m *GroupModel) call(row []float32, scores []float32, count int) []GroupCall {
	out := make([]GroupCall, count)
	for k := range out {
		b := m.Blend[k]
		out[k] = GroupCall{Group: k, Probability: sigmoid(b[0]*m.Trees[k].Score(row) + b[1]*float64(scores[k]) + b[2])}
	}
	return out
}

// reasons returns what moved the probability of group k: the trees' and the
// network's parts of each feature together.
func (m *GroupModel) reasons(k int, v *View, ions []Ion, row []float32, inputs []net.Input, networks []*net.Net) []Reason {
	mol := 0
	if len(ions) > 0 {
		mol = ions[0].MZ
	}
	weights := map[feature]float64{}
	contributions := make([]float64, len(features))
	m.Trees[k].Explain(row, contributions)
	for i, w := range contributions {
		weights[features[i].plain()] += m.Blend[k][0] * w
	}
	for _, n := range networks {
		for i, s := range n.Slopes(inputs, k) {
			if f, ok := inputFeature(int(inputs[i].At)); ok {
				weights[f] += m.Blend[k][1] * float64(s) / float64(len(networks))
			}
		}
	}
	var out []Reason
	for f, w := range weights {
		if math.Abs(w) < 0.05 {
			continue
		}
		out = append(out, Reason{Feature: f.describe(v, mol), Peaks: f.peaks(v, mol), Weight: w, Readable: f.readable()})
	}
	slices.SortFunc(out, func(a, b Reason) int {
		return cmp.Or(cmp.Compare(math.Abs(b.Weight), math.Abs(a.Weight)), cmp.Compare(a.Feature, b.Feature))
	})
	return out
}

// plain is the feature that is shown for a ratio: the m/z or the loss.
func (f feature) plain() feature {
	switch f.kind {
	case atLossToMolecule, atLossToNeighbors, atLossShare:
		return feature{kind: atLoss, at: f.at}
	case atMZToNeighbors:
		return feature{kind: atMZ, at: f.at}
	}
	return f
}

// inputFeature is the feature that an input of the network belongs to.
func inputFeature(at int) (feature, bool) {
	switch {
	case at < netLoss:
		return feature{kind: atMZ, at: at}, true
	case at < netStep:
		return feature{kind: atLoss, at: at - netLoss - 3}, true
	case at < netSeries:
		return feature{kind: atStep, at: at - netStep}, true
	case at < netSum:
		return feature{kind: atSeries, at: at - netSeries}, true
	case at < netMassBits:
		return feature{kind: atSum, name: sumNames[at-netSum]}, true
	case at >= netRatio:
		return features[ratioStart+at-netRatio].plain(), true
	}
	return feature{}, false
}

// readableSums are the sums that a person looks at.
var readableSums = map[string]bool{
	"the aromatic ions 50-52, 63-65 and 74-78": true, "the alkyl ions 29, 43, 57 and so on": true, "the alkenyl ions 27, 41, 55 and so on": true,
	"pairs two apart as 3:1": true, "pairs two apart as 1:1": true, "M+2 over M": true, "a peak at half the mass": true,
}

func (f feature) readable() bool {
	switch f.kind {
	case atSum:
		return readableSums[f.name]
	case atLoss:
		return f.at > 0
	}
	return f.kind != atStep
}

// describe words the feature with the value it has in the view.
func (f feature) describe(v *View, mol int) string {
	switch f.kind {
	case atMZ:
		if r := v.At(f.at); r > 0 {
			return fmt.Sprintf("m/z %d (%.0f %%)", f.at, r)
		}
		if f.at < v.Low {
			return fmt.Sprintf("m/z %d isn't recorded", f.at)
		}
		return fmt.Sprintf("no peak at m/z %d", f.at)
	case atLoss:
		switch r := v.At(mol - f.at); {
		case f.at < 0:
			return fmt.Sprintf("M+%d (%.0f %% of base)", -f.at, r)
		case f.at == 0:
			return fmt.Sprintf("the intensity of the molecular ion (%.0f %%)", r)
		case r > 0:
			return fmt.Sprintf("a loss of %d to m/z %d (%.0f %%)", f.at, mol-f.at, r)
		}
		return fmt.Sprintf("no loss of %d", f.at)
	}
	return f.String()
}

// peaks are the m/z that the feature is about.
func (f feature) peaks(v *View, mol int) []int {
	mz := 0
	switch f.kind {
	case atMZ:
		mz = f.at
	case atLoss:
		mz = mol - f.at
	}
	if mz > 0 && v.At(mz) > 0 {
		return []int{mz}
	}
	return nil
}
