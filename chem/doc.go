// Package chem holds the elements, their isotopes, and molecular formulas
// with the masses a mass spectrometrist computes from them.
//
// For most uses call [ParseFormula] and then the methods of [Formula]. Masses
// are in Da (unified atomic mass units), m/z is dimensionless; the terms are
// those of IUPAC's 2013 recommendations for mass spectrometry (Murray et al.,
// Pure Appl. Chem. 85 (2013) 1515).
//
// The numbers come from data/, where each row names its edition; table.go is
// generated from them. The package doesn't know structures (see mol) and
// doesn't compute isotope patterns (see isotope).
package chem

//go:generate go run ../internal/elements data table.go
