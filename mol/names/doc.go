// Package names turns the name of an organic compound into its structure.
//
// Two routes lead there. A checked-in table (data/compounds.tsv) holds about
// 1,500 trivial names with their SMILES; a reader of systematic names follows
// the substitutive and functional-class nomenclature of the IUPAC
// recommendations of 2013 (the "Blue Book") and of the older styles that
// measured data and textbooks still use (2-butene, butanoic acid ethyl ester,
// o-, m-, p-). Where both routes know a name they must agree; a test compares
// them.
//
// For most uses call [Resolve]; [Interpret] also gives the notes.
//
// What a name leaves open is never guessed: a locant that is missing where it
// matters is an [*AmbiguousError] that lists the meanings, a locant that the
// parent doesn't have or that asks for a fifth bond is a [*NameError], and text
// that is no part of a name is an [*UnknownError] with its place and suggestions.
//
// Limits. Stereodescriptors (E/Z, R/S, cis/trans, D/L, alpha/beta ...) are
// read and checked against the positions they name, but not drawn: structures
// come without stereo, and a note says so. Fusion names of rings
// (pyrido[1,2-a]pyrimidine) are known only as far as the ring list
// (data/rings.tsv) goes. Peptides, sugars beyond the table, salts and polymers
// are outside the reader.
package names
