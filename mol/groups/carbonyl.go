package groups

// carbonyls have a carbon-oxygen double bond and no second hetero atom on its
// carbon atom.
var carbonyls = []Group{
	{"carbonyl", `[CX3]=[OX1]`, "a double bond between carbon and oxygen, in whatever group",
		Example{"acetone", "CC(C)=O"}, Example{"propan-2-ol", "CC(C)O"}},
	{"aldehyde", `[CX3H1](=O)[#6,#1]`, "a carbonyl group at the end of a chain, with one hydrogen",
		Example{"propanal", "CCC=O"}, Example{"acetone", "CC(C)=O"}},
	{"ketone", `[#6][CX3](=O)[#6]`, "a carbonyl group between two carbon atoms",
		Example{"butan-2-one", "CCC(C)=O"}, Example{"butanal", "CCCC=O"}},
	{"methyl ketone", `[CH3]C(=O)[#6]`, "a ketone with a methyl group on one side",
		Example{"butan-2-one", "CCC(C)=O"}, Example{"pentan-3-one", "CCC(=O)CC"}},
	{"acetyl", `[CH3]C(=O)`, "a methyl group on a carbonyl carbon, CH3-C=O, as in ketones, acetates and acetamides",
		Example{"ethyl acetate", "CCOC(C)=O"}, Example{"ethyl propanoate", "CCOC(=O)CC"}},
	{"benzoyl", `O=Cc1ccccc1`, "a carbonyl group on a benzene ring",
		Example{"acetophenone", "CC(=O)c1ccccc1"}, Example{"phenylacetone", "CC(=O)Cc1ccccc1"}},
	{"enone", `[CX3]=[CX3][CX3](=[OX1])[#6]`, "a ketone with a double bond next to its carbonyl group",
		Example{"but-3-en-2-one", "CC(=O)C=C"}, Example{"pent-4-en-2-one", "CC(=O)CC=C"}},
	{"1,3-dicarbonyl", `[CX3](=[OX1])[CX4][CX3]=[OX1]`, "two carbonyl groups on one saturated carbon atom",
		Example{"pentane-2,4-dione", "CC(=O)CC(C)=O"}, Example{"hexane-2,5-dione", "CC(=O)CCC(C)=O"}},
	{"quinone", `[#6]1(=[OX1])[#6]=,:[#6][#6](=[OX1])[#6]=,:[#6]1`, "a ring of six with two carbonyl groups facing each other",
		Example{"benzo-1,4-quinone", "O=C1C=CC(=O)C=C1"}, Example{"cyclohexane-1,4-dione", "O=C1CCC(=O)CC1"}},
	{"ketene", `[CX2](=[CX3])=[OX1]`, "a carbon atom with double bonds to carbon and oxygen",
		Example{"ketene", "C=C=O"}, Example{"propenal", "C=CC=O"}},
}
