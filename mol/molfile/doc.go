// Package molfile reads and writes connection tables: MOL files and SD files
// in the versions V2000 and V3000 of the openly published CTfile description.
//
// For most uses call [Read] and [Write]. Read are atoms with isotope, charge,
// unpaired electrons, valence and mapping number, bonds of orders 1 to 3 and
// aromatic (4), wedges with two-dimensional coordinates, arrangements with
// three-dimensional ones, and atom parities where there are none. Query atoms
// and bonds, atom lists and R groups are refused with the line. Sgroups,
// collections and drawing properties are not read.
//
// Hydrogens that the table leaves out are filled in to the next normal valence
// ([mol.NextValence]), less one for each unpaired electron, unless the valence
// is given.
package molfile
