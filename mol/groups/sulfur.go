package groups

// sulfurs have sulfur.
var sulfurs = []Group{
	{"sulfide or thiol", `[SX2]`, "a sulfur atom with two single bonds",
		Example{"dimethyl sulfide", "CSC"}, Example{"thiophene", "c1ccsc1"}},
	{"thiol", `[SX2H][#6]`, "an SH group on carbon",
		Example{"ethanethiol", "CCS"}, Example{"dimethyl sulfide", "CSC"}},
	{"sulfide", `[SX2]([#6])[#6]`, "a sulfur atom between two carbon atoms (thioether)",
		Example{"dimethyl sulfide", "CSC"}, Example{"dimethyl disulfide", "CSSC"}},
	{"disulfide", `[SX2][SX2]`, "a single bond between two sulfur atoms",
		Example{"dimethyl disulfide", "CSSC"}, Example{"dimethyl sulfide", "CSC"}},
	{"thiocarbonyl", `[SX1]=[#6]`, "a double bond between carbon and sulfur",
		Example{"thioacetamide", "CC(N)=S"}, Example{"acetamide", "CC(N)=O"}},
	{"isothiocyanate", `[NX2]=[CX2]=[SX1]`, "a carbon atom with double bonds to nitrogen and sulfur, N=C=S",
		Example{"phenyl isothiocyanate", "S=C=Nc1ccccc1"}, Example{"phenyl isocyanate", "O=C=Nc1ccccc1"}},
	{"sulfoxide", `[$([SX3](=[OX1])([#6])[#6]),$([SX3+]([OX1-])([#6])[#6])]`, "a sulfur atom with one oxygen atom, between two carbon atoms",
		Example{"dimethyl sulfoxide", "CS(C)=O"}, Example{"dimethyl sulfone", "CS(C)(=O)=O"}},
	{"sulfone", `[SX4](=[OX1])(=[OX1])([#6])[#6]`, "a sulfur atom with two oxygen atoms, between two carbon atoms",
		Example{"dimethyl sulfone", "CS(C)(=O)=O"}, Example{"dimethyl sulfoxide", "CS(C)=O"}},
	{"sulfonamide", `[SX4](=[OX1])(=[OX1])([#6])[NX3]`, "a sulfonyl group, SO2, between carbon and nitrogen",
		Example{"methanesulfonamide", "CS(N)(=O)=O"}, Example{"dimethyl sulfone", "CS(C)(=O)=O"}},
	{"sulfonic acid or ester", `[SX4](=[OX1])(=[OX1])([#6])[OX2]`, "a sulfonyl group, SO2, between carbon and oxygen",
		Example{"methyl methanesulfonate", "COS(C)(=O)=O"}, Example{"dimethyl sulfone", "CS(C)(=O)=O"}},
	{"thiophene ring", `s1cccc1`, "an aromatic ring of four carbon atoms and one sulfur atom",
		Example{"2-methylthiophene", "Cc1cccs1"}, Example{"tetrahydrothiophene", "C1CCSC1"}},
	{"thiazole ring", `s1cncc1`, "an aromatic ring of three carbon atoms with sulfur and nitrogen, not neighbors",
		Example{"4-methylthiazole", "Cc1cscn1"}, Example{"thiophene", "c1ccsc1"}},
}
