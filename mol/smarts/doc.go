// Package smarts finds substructures: it compiles patterns of the SMARTS
// language, as Daylight's theory manual describes it, and looks for them in
// molecular graphs.
//
// For most uses call [Compile] and then [Pattern.Match], [Pattern.Count] or
// [Pattern.Find]. For many patterns or many molecules compile the patterns
// with [CompileSet] and give each molecule once to a [Matcher], which then
// matches without allocating.
//
// # Atoms
//
// A symbol without brackets (B C N O P S F Cl Br I, b c n o p s) asks for an
// element, capital for atoms that aren't aromatic and small for those that
// are; * asks for any atom, A for one that isn't aromatic, a for one that is.
// In brackets stand properties:
//
//	C, c, Si   element, not aromatic or aromatic; two letters before one: [Sc] is scandium
//	#6         element by atomic number, aromatic or not
//	*, A, a    as above
//	D3         3 neighbors in the graph; D alone: 1
//	X3         3 neighbors, counting the hydrogens that aren't in the graph; X alone: 1
//	H2         2 hydrogens in all; H alone: 1
//	h2         2 hydrogens that aren't in the graph; h alone: 1 or more
//	v4         bond orders (of a Kekule form) and hydrogens sum up to 4; v alone: 1
//	R          in a ring; R2: in 2 rings of the smallest set of rings; R0: in none
//	r          in a ring; r5: the smallest of its rings in that set has 5 atoms; r0: in none
//	x2         2 ring bonds; x alone: 1 or more
//	+, +2, --  charge; +0: none
//	13         mass number, first or after an operator: [13C], [C;13]; 0: none is given
//	$(…)       a pattern whose first atom lies on this atom
//	:7         last in the brackets: the author's number of the atom, see [Pattern.Class]
//
// Brackets that hold nothing but H, with a mass number before it or a charge
// after it, ask for a hydrogen atom of the graph; everywhere else H counts
// hydrogens. Hydrogens are atoms of the graph only where they can't be counts:
// labelled ones, H2, a proton.
//
// # Bonds
//
//	single -, double =, triple #, quadruple $, aromatic :, any ~, in a ring @
//
// With nothing between two atoms their bond is single or aromatic. A ring
// closure (a digit, %12, %(123)) takes its bond from either end.
//
// # Logic
//
// Both atoms and bonds combine by ! (not), & or nothing (and), the comma (or)
// and ; (and), in that order of binding. Parts of a pattern joined by "." lie
// anywhere, on different atoms, in one molecule or several.
//
// # What is refused, and why
//
// Chirality (@ on an atom) and bonds with a direction (/ and \): stereoisomers
// that differ by them give practically the same electron-ionization spectrum,
// so a pattern that tells them apart would promise too much. Grouping of
// components by parentheses, reactions, and the extensions of single programs
// (^n, {2-3}, ->): they aren't needed here, and reading them as something else
// would be worse. A number that belongs to nothing ([C12]) is refused because
// it is nearly always a slip for [12C].
//
// # Cost
//
// A search can take time exponential in the size of the pattern; a [Matcher]
// gives up after a number of trials. A pattern has at most 32,768 characters
// and 4,096 atoms, and environments are at most 32 deep.
package smarts
