// Package names turns the name of an organic compound into its structure.
//
// Two routes lead there. A checked-in table (data/compounds.tsv) holds common
// compounds, about 2,350 with 5,000 names; a reader of systematic names
// follows the substitutive and functional-class nomenclature of the IUPAC
// recommendations of 2013 (the "Blue Book") and the older styles that measured
// data and textbooks still use (2-butene, butanoic acid ethyl ester, benzene,
// 1-chloro-4-nitro-, o-, m-, p-). Where both routes know a name they must
// agree; a test compares them.
//
// For most uses call [Resolve]; [Interpret] also gives the notes, [Systematic]
// leaves the table out.
//
// What a name leaves open is never guessed: a locant that is missing where it
// matters is an [*AmbiguousError] that lists the meanings, a locant that the
// parent doesn't have or that asks for a fifth bond is a [*NameError], and text
// that is no part of a name is an [*UnknownError] with its place and suggestions.
// Of two readings of one name the one counts that leaves less open:
// chloromethylbenzene is (chloromethyl)benzene, because chloro and methyl side
// by side on the ring would need locants. Readings that leave the same open and
// differ are ambiguous.
//
// Limits. Stereodescriptors (E/Z, R/S, cis/trans, alpha/beta ...) are read and
// checked against the positions they name, but not drawn: structures come
// without stereo, and a note says so. Isotopic labels, salts, ions, radicals,
// polymers, fusion names of rings beyond the list (pyrido[1,2-a]pyrimidine),
// multiplicative names (2,2'-oxydiethanol), carbohydrate names beyond the table
// and thioic acids other than the retained ones are not read.
package names
