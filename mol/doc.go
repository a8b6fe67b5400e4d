// Package mol holds molecular graphs: atoms, bonds, and what follows from
// them (formula, rings, Kekule form, aromaticity, canonical order).
//
// A [Mol] never changes after it is made and may be read by any number of
// goroutines; [Mol.Edit] gives a [Builder] from which a changed copy is made.
// For most uses get a Mol from package smiles. The valence model is that of
// the OpenSMILES specification (1.0, 2016-05-15); the package knows no
// coordinates.
package mol
