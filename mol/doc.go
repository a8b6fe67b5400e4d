// Package mol holds molecular graphs: atoms, bonds, and what follows from
// them: formula, rings, Kekule form, aromaticity, arrangements in space,
// canonical order.
//
// A [Mol] never changes after it is made and may be read by any number of
// goroutines; [Mol.Edit] gives a [Builder] from which a changed copy is made.
// For most uses get a Mol from package smiles or molfile. The valence model is
// that of the OpenSMILES specification (1.0, 2016-05-15): a graph has no
// delocalized charges or bonds but the aromatic ones, and each of those knows
// its order in one Kekule form ([Mol.KekuleOrder]). The package knows no
// coordinates.
package mol
