package groups

// halogens have a halogen.
var halogens = []Group{
	{"fluorine", `F`, "a fluorine atom",
		Example{"fluorobenzene", "Fc1ccccc1"}, Example{"benzene", "c1ccccc1"}},
	{"chlorine", `Cl`, "a chlorine atom",
		Example{"chlorobenzene", "Clc1ccccc1"}, Example{"bromobenzene", "Brc1ccccc1"}},
	{"bromine", `Br`, "a bromine atom",
		Example{"bromobenzene", "Brc1ccccc1"}, Example{"chlorobenzene", "Clc1ccccc1"}},
	{"iodine", `I`, "an iodine atom",
		Example{"iodobenzene", "Ic1ccccc1"}, Example{"bromobenzene", "Brc1ccccc1"}},
	{"alkyl halide", `[CX4][F,Cl,Br,I]`, "a halogen atom on a saturated carbon atom",
		Example{"1-bromobutane", "CCCCBr"}, Example{"bromobenzene", "Brc1ccccc1"}},
	{"aryl halide", `c[F,Cl,Br,I]`, "a halogen atom on an aromatic ring",
		Example{"bromobenzene", "Brc1ccccc1"}, Example{"benzyl bromide", "BrCc1ccccc1"}},
	{"trifluoromethyl", `[CX4](F)(F)F`, "three fluorine atoms on one carbon atom, CF3",
		Example{"benzotrifluoride", "FC(F)(F)c1ccccc1"}, Example{"difluoromethylbenzene", "FC(F)c1ccccc1"}},
}
