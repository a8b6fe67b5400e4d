package groups

// heavier have silicon, phosphorus or boron.
var heavier = []Group{
	{"alkylsilyl", `[Si](C)(C)C`, "a silicon atom with three carbon atoms",
		Example{"tetramethylsilane", "C[Si](C)(C)C"}, Example{"dimethyldimethoxysilane", "CO[Si](C)(C)OC"}},
	{"trimethylsilyl", `[SiX4]([CX4H3])([CX4H3])[CX4H3]`, "a silicon atom with three methyl groups, the usual derivative of alcohols and acids",
		Example{"ethoxytrimethylsilane", "CCO[Si](C)(C)C"}, Example{"triethylsilane", "CC[SiH](CC)CC"}},
	{"silyl ether", `[SiX4][OX2H0][#6]`, "an oxygen atom between silicon and carbon",
		Example{"ethoxytrimethylsilane", "CCO[Si](C)(C)C"}, Example{"hexamethyldisiloxane", "C[Si](C)(C)O[Si](C)(C)C"}},
	{"phosphate", `[PX4](=[OX1])([OX2])([OX2])[OX2]`, "a phosphorus atom with four oxygen atoms, one of them on a double bond",
		Example{"triethyl phosphate", "CCOP(=O)(OCC)OCC"}, Example{"triethyl phosphite", "CCOP(OCC)OCC"}},
	{"phosphine", `[PX3]([#6])([#6])[#6]`, "a phosphorus atom with three carbon atoms",
		Example{"triphenylphosphine", "c1ccccc1P(c1ccccc1)c1ccccc1"}, Example{"triethyl phosphite", "CCOP(OCC)OCC"}},
	{"boronic acid or ester", `[BX3]([OX2])([OX2])[#6]`, "a boron atom with two oxygen atoms and one carbon atom",
		Example{"phenylboronic acid", "OB(O)c1ccccc1"}, Example{"trimethyl borate", "COB(OC)OC"}},
}
