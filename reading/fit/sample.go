// Package fit fits the parameters of package infer and the shares of package
// reading's clues to measured spectra that the caller passes in. The same
// samples and seed give the same bytes.
//
// For most uses call Model with all samples. Which samples are fitted to and
// which are kept for the report is the caller's choice.
package fit

import (
	"slices"

	"ionwright/chem"
	"ionwright/reading/infer"
	"ionwright/spectrum"
)

// Sample is a measured spectrum of a known compound.
type Sample struct {
	Key      string // identifies the structure: spectra of one share it
	Spectrum spectrum.Spectrum
	View     *infer.View     // of Spectrum
	Formula  chem.Formula    // of the neutral compound
	Mass     int             // nominal, Da
	Groups   map[string]bool // which of the named functional groups it has
	Weight   float64         // 1 over the number of spectra of the structure
	Fold     int             // which part of the fit leaves it out, 0 to Folds-1
	// Substructures are further parts that it has, by any names: the networks
	// learn to tell the common ones too, so that their hidden layers know more.
	Substructures []string
	// Aside marks a spectrum recorded under other conditions: the groups are
	// learned from it, but nothing is counted or made honest on it.
	Aside bool
}

// standard returns the samples that aren't aside.
func standard(samples []Sample) []Sample {
	return slices.DeleteFunc(slices.Clone(samples), func(s Sample) bool { return s.Aside })
}

// Folds is the number of parts into which the samples are divided, so that a
// part that builds on another's answer sees answers made without it.
const Folds = 3

// SetWeights gives each sample 1 over the number of samples of its structure.
func SetWeights(samples []Sample) {
	count := map[string]float64{}
	for _, s := range samples {
		count[s.Key]++
	}
	for i := range samples {
		samples[i].Weight = 1 / count[samples[i].Key]
	}
}
