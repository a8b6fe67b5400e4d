package groups

// amines have nitrogen on single bonds to carbon.
var amines = []Group{
	{"primary amine", `[NX3;H2;!$(NC=O);!$(N[#7,#8,#16])][CX4]`, "an NH2 group on a saturated carbon atom",
		Example{"butan-1-amine", "CCCCN"}, Example{"diethylamine", "CCNCC"}},
	{"secondary amine", `[NX3;H1;!$(NC=[O,S,N]);!$(N[#7,#8,#16,#15])]([CX4])[#6]`, "an NH group with two carbon atoms, one of them saturated",
		Example{"diethylamine", "CCNCC"}, Example{"triethylamine", "CCN(CC)CC"}},
	{"tertiary amine", `[NX3;H0;!$(NC=[O,S,N]);!$(N[#7,#8,#16,#15])]([CX4])([#6])[#6]`, "a nitrogen atom with three carbon atoms, one of them saturated",
		Example{"triethylamine", "CCN(CC)CC"}, Example{"diethylamine", "CCNCC"}},
	{"aliphatic amine", `[NX3;!$(NC=[O,S,N]);!$(N[#7,#8,#16,#15])]([CX4])`, "an amine nitrogen atom on a saturated carbon atom",
		Example{"diethylamine", "CCNCC"}, Example{"aniline", "Nc1ccccc1"}},
	{"aromatic amine", `[NX3;H2,H1,H0;!$(NC=O)]c`, "an amine nitrogen atom on an aromatic ring",
		Example{"aniline", "Nc1ccccc1"}, Example{"benzylamine", "NCc1ccccc1"}},
	{"quaternary ammonium", `[NX4+]([#6])([#6])([#6])[#6]`, "a nitrogen atom with four carbon atoms and a positive charge",
		Example{"tetramethylammonium", "C[N+](C)(C)C"}, Example{"trimethylammonium", "C[NH+](C)C"}},
	{"enamine", `[NX3;!$(NC=[O,S,N])][CX3]=[CX3]`, "an amine nitrogen atom on a carbon-carbon double bond",
		Example{"N,N-dimethylvinylamine", "CN(C)C=C"}, Example{"N,N-dimethylallylamine", "CN(C)CC=C"}},
	{"piperidine ring", `[NX3]1[CX4][CX4][CX4][CX4][CX4]1`, "a saturated ring of five carbon atoms and one nitrogen atom",
		Example{"N-methylpiperidine", "CN1CCCCC1"}, Example{"morpholine", "C1COCCN1"}},
	{"pyrrolidine ring", `[NX3]1[CX4][CX4][CX4][CX4]1`, "a saturated ring of four carbon atoms and one nitrogen atom",
		Example{"N-methylpyrrolidine", "CN1CCCC1"}, Example{"pyrrole", "c1cc[nH]c1"}},
}
