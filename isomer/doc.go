// Package isomer makes all constitutional isomers of a formula, each exactly
// once: every connected multigraph of its atoms at their common valences,
// hydrogens implicit, without regard to arrangements in space.
//
// For most uses call [New], then [Space.Count] for how many there are, and
// [Run] or [Space.Each] to go through them.
//
// # How
//
// A structure is a core (its rings, and the chains between them) with trees
// on it. Four stages fill each other's results in, and at each stage a filling
// passes only if no automorphism of what is filled turns it into a greater
// one (orderly generation: Read, Ann. Discrete Math. 2 (1978) 107; Faradzev,
// Colloq. Int. CNRS 260 (1978) 131, both from memory):
//
//  1. kernels: multigraphs without atoms of one or two bonds (kernel.go)
//  2. cores: atoms of two bonds put on the kernel's edges (core.go)
//  3. bond orders of the core (orders.go)
//  4. the kind of each core atom and the composition of the trees on it
//     (decorate.go), and at last the trees themselves (expand.go)
//
// Trees come from lists of rooted trees by composition (forest.go), so that no
// automorphism of a tree is ever looked for. Structures without rings hang on
// their centroid (tree.go). Since most of the symmetry is gone when the trees
// are filled in, most structures are never tested at all, and counting needs
// only the lengths of the lists (Burnside's lemma for what symmetry is left).
//
// # What counts as a structure
//
// Bonds are single, double or triple. Valences are H 1, C 4, N 3, O 2, S 2,
// P 3, Si 4, halogens 1, and beyond those the [Forms]: groups whose usual
// drawing needs charges or a higher valence (nitro, sulfone, phosphoryl ...),
// each written in one way. With [Options.LowestValences] they are left out,
// as in most published tables.
//
// Structures that differ only in which Kekule form of an aromatic system is
// drawn are one structure. [Options.Kekule] keeps them apart, as published
// tables do: C6H6 has 217 structures either way, C8H10 fewer with this than
// tables say.
//
// Radicals, ions, salts, carbon monoxide, and more than [MaxAtoms] atoms
// other than hydrogen are beyond the package.
package isomer
