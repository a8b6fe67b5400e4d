package groups

// A narrowing is what Find looks for in place of a called group's pattern,
// which the scoring of readings fixes, where that pattern fits more than the
// name says. Atoms correspond one to one.
type narrowing struct {
	name, smarts string
}

var narrowings = []narrowing{
	// The pattern's nitrogen may be that of a nitro group.
	{"aromatic amine", `[NX3+0;H2,H1,H0;!$(NC=O)]c`},
	// The pattern's second carbon atom may be a carbonyl carbon as well.
	{"ester", `[CX3](=O)[OX2H0][#6;!$(C=O)]`},
	// The pattern says nothing of what carries the group.
	{"nitro", `[N+;!$(NO[#6])](=O)[O-]`},
}
