// Package smiles reads and writes molecules in the OpenSMILES language
// (specification 1.0, 2016-05-15, www.opensmiles.org).
//
// For most uses call [Parse] and [Canonical].
//
// Read is the whole language, with ring numbers of up to five digits in
// parentheses, %(123), besides. Refused with a reason: the wildcard '*', mass
// number 0 and unknown nuclides (nothing of them has a mass); nitrogen with
// bonds of order 4 and no charge (the specification would add a hydrogen);
// whatever the specification calls nonstandard, such as marks / and \ without
// a partner, a leading dot, or small letters outside of rings; texts of more
// than [MaxLength] bytes, and graphs whose formula doesn't fit a formula of
// package chem (more than 65,535 atoms of one element). Dropped silently: a
// chirality mark on an atom without the neighbors it needs.
//
// What the specification leaves open is settled so: a lone pair counts where
// an implicit hydrogen would, for '@' on an atom with three neighbors; the
// double bond of the text's Kekule form decides nothing inside of an aromatic
// ring; open valences of bracket atoms are unpaired electrons
// ([mol.UnpairedElectrons]); five-valent nitrogen is read charge-separated.
//
// Beside RDKit 2022.09: the 5,856 structures of the shared spectra agree in
// formula, hydrogens, charges, unpaired electrons, aromatic atoms and classes
// of equal structures, and in rings but for two cages in which RDKit leaves
// out one of three equally small ones. The list testdata/odd.smi agrees but for the
// differences that witness_test.go names and counts.
package smiles
