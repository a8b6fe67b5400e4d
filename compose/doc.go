// Package compose finds the formulas that fit a mass: an exact one within a
// tolerance, or a nominal one.
//
// A [Space] says which formulas are looked at (elements with their ranges,
// charge, double bond equivalents, electrons, and heuristic rules, each by its
// own name); for most uses call [Space.Find] or [Space.FindNominal]. All that
// fit are found, none is ranked: ranking needs a spectrum and belongs to
// reading.
package compose
