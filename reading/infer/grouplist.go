package infer

// Group is a functional group with the substructure pattern that defines it,
// in SMARTS. It is marshalled as [name, pattern].
type Group [2]string

// Name returns what the group is called.
func (g Group) Name() string { return g[0] }

// SMARTS returns the pattern that defines it.
func (g Group) SMARTS() string { return g[1] }

// Groups lists the functional groups that a spectrum is read for: the first
// ScoredGroups are those that accuracy is reported on, the rest are wider
// families.
var Groups = []Group{
	{"alcohol", "[CX4][OX2H]"},
	{"phenol", "c[OX2H]"},
	{"ether", "[OD2]([#6;!$(C=O)])[#6;!$(C=O)]"},
	{"aldehyde", "[CX3H1](=O)[#6,#1]"},
	{"ketone", "[#6][CX3](=O)[#6]"},
	{"carboxylic acid", "[CX3](=O)[OX2H1]"},
	{"ester", "[#6][CX3](=O)[OX2H0][#6]"},
	{"amide", "[NX3][CX3](=[OX1])[#6]"},
	{"primary amine", "[NX3;H2;!$(NC=O);!$(N[#7,#8,#16])][CX4]"},
	{"aliphatic amine", "[NX3;!$(NC=[O,S,N]);!$(N[#7,#8,#16,#15])]([CX4])"},
	{"aromatic amine", "[NX3;H2,H1,H0;!$(NC=O)]c"},
	{"nitrile", "[CX2]#N"},
	{"nitro", "[N+](=O)[O-]"},
	{"phenyl", "c1ccccc1"},
	{"benzyl", "[CH2]c1ccccc1"},
	{"benzoyl", "O=Cc1ccccc1"},
	{"methyl ketone", "[CH3]C(=O)[#6]"},
	{"acetyl", "[CH3]C(=O)"},
	{"sulfide or thiol", "[SX2]"},
	{"chlorine", "Cl"},
	{"bromine", "Br"},
	{"alkylsilyl", "[Si](C)(C)C"},

	{"alkyl", "[CX4;!$(C~[!#6;!#1])]"},
	{"saturated hydrocarbon chain", "[CH2][CH2][CH2][CH2][CH2][CH2]"},
	{"alkene", "[CX3;!$(C=O)]=[CX3]"},
	{"arene", "a"},
	{"aromatic heterocycle", "[a;!c]"},
	{"lactone", "[C;R](=O)[O;R][#6]"},
	{"acetal", "[CX4]([OX2;!$(OC=O)])[OX2;!$(OC=O)]"},
	{"phthalate", "c1ccc(C(=O)O)c(C(=O)O)c1"},
	{"methyl ester", "[#6]C(=O)O[CH3]"},
	{"ethyl ester", "[#6]C(=O)O[CH2][CH3]"},
	{"acetate", "[CH3]C(=O)O[#6]"},
	{"silyl ether", "[#6][OX2][Si](C)(C)C"},
	{"methoxy", "[#6;!$(C=O)]O[CH3]"},
	{"tert-butyl", "[CH3]C([CH3])([CH3])[#6,#7,#8,#16]"},
	{"fluorine", "F"},
	{"iodine", "I"},
}

// ScoredGroups is how many of Groups, from the first, accuracy is reported on.
const ScoredGroups = 22
