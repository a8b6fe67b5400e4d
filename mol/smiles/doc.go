// Package smiles reads and writes molecules in the OpenSMILES language
// (specification 1.0, 2016-05-15, www.opensmiles.org).
//
// For most uses call [Parse] and [Canonical].
package smiles
