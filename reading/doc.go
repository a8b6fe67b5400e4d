// Package reading draws from the peaks of a spectrum what an instructor says
// about it: the clues one after another, each with the peaks behind it, what
// it suggests, what else would give it and how sure that is; the candidates
// for the molecular ion, the formula and the functional groups; and an ordered
// argument in plain sentences that ends in what remains undecided.
//
// For most uses call Read. Assignments and Losses give the common meanings of
// a single m/z or mass difference. Rules lists the families of clues: one file
// each. The probabilities come from package infer, which is fitted to measured
// spectra, and from the shares counted in the same spectra (clues.tsv).
//
// The package knows no structures: a spectrum against a structure is another
// room's work.
package reading
