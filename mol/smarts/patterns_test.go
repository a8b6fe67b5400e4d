package smarts_test

// scored are the groups by which readings are scored, written as the scoring
// rules write them.
var scored = []string{
	`[CX4][OX2H]`, `c[OX2H]`, `[OD2]([#6;!$(C=O)])[#6;!$(C=O)]`, `[CX3H1](=O)[#6,#1]`, `[#6][CX3](=O)[#6]`,
	`[CX3](=O)[OX2H1]`, `[CX3](=O)[OX2H0][#6]`, `[NX3][CX3](=[OX1])[#6]`,
	`[NX3;H2;!$(NC=O);!$(N[#7,#8,#16])][CX4]`, `[NX3;!$(NC=[O,S,N]);!$(N[#7,#8,#16,#15])]([CX4])`,
	`[NX3;H2,H1,H0;!$(NC=O)]c`, `[CX2]#N`, `[N+](=O)[O-]`, `c1ccccc1`, `[CH2]c1ccccc1`, `O=Cc1ccccc1`,
	`[CH3]C(=O)[#6]`, `[CH3]C(=O)`, `[SX2]`, `Cl`, `Br`, `[Si](C)(C)C`,
}

// odd exercise every primitive, operator and shape of the language.
var odd = []string{
	// Symbols.
	`*`, `A`, `a`, `C`, `c`, `n`, `o`, `s`, `S`, `[Si]`, `[B,b]`, `[#7]`, `[#1]`, `[H]`, `[2H]`, `[!#6]`, `[!C;!c]`, `[F,Cl,Br,I]`, `[#6;a]`, `[A;!#6]`,
	// Counts.
	`[D1]`, `[D4]`, `[#6D3]`, `[D0]`, `[X1]`, `[CX2]`, `[#7X3]`, `[X4;!#6]`, `[H0]`, `[OH]`, `[nH]`, `[CH3]`, `[!H0;#7]`, `[C;H1,H2]`,
	`[h]`, `[h0]`, `[Ch2]`, `[v2]`, `[v3;#7]`, `[v4]`, `[!v4;#6]`, `[v5]`, `[v6]`, `[v1]`, `[cv4]`, `[nv3]`, `[ov2]`,
	// Rings.
	`[R]`, `[R0]`, `[!R]`, `[R1]`, `[R2]`, `[r]`, `[r0]`, `[!r]`, `[r3]`, `[r5]`, `[r6]`, `[#6r5]`, `[!r6;R]`, `[x0]`, `[x]`, `[x2]`, `[x3]`, `[r7]`, `[r8]`,
	// Charges and isotopes.
	`[+]`, `[-]`, `[+0]`, `[N+]`, `[O-]`, `[*-1]`, `[!+0]`, `[++]`, `[0C]`, `[2*]`, `[13C]`, `[n+]`,
	// Bonds.
	`C-C`, `C=C`, `C#C`, `C~O`, `C:C`, `c:c`, `cc`, `c-c`, `c-!@c`, `C@C`, `C!@C`, `C-;@C`, `C=,#C`, `[#6]=,:[#6]`, `C!-C`, `*!@*`, `*@;!:*`, `[#6]~[#7]`, `[#6]-,=[#8]`, `C~&!@C`, `*=;@*`, `*$*`, `*-;!@[R]`,
	// Shapes.
	`CCC`, `CC(C)C`, `CC(C)(C)C`, `C1CC1`, `C1CCC1`, `C1CCCCC1`, `c1ccc2ccccc2c1`, `*1****1`, `*1*****1`, `C1CC1C`, `C%11CC%11`, `c1cc(*)ccc1`, `c1c(*)cccc1*`,
	`*~*~*~*`, `CCCCCC`, `C=CC=C`, `OCCO`, `N.O`, `[Cl].[Cl]`, `C=O.C=O`, `[#8]~[#6]~[#8]`, `c(C)c(C)`, `[R]~1~[R]~[R]~[R]~[R]~1`,
	// Environments.
	`[$(C=O)]`, `[!$(C=O);#6]`, `[$([CX4][OX2H]),$(c[OX2H])]`, `[$(*C)]`, `[C;$(C(=O)O);!$(C(=O)[OH])]`, `[$(C[$(O[#6])])]`, `[$([OH]),$([OD2]([#6])[#6])][#6]`,
	`[N;!$(N=*);!$(N#*)]`, `[$(c1ccccc1)]`, `[cH;$(c(c)c),$(cn)]`, `[$(a:a:a:[!#6])]`, `[$([R1])]-;@[$([R1])]`, `[$(C(F)(F)F)]`, `[#6;!$([#6]~[!#6])]`,
	`[$([#6]1[#6][#6]1)]`, `[!$([#1,#6,#7,#8])]`, `[C;!$(C~C)]`, `[O;$(O=C),$(O-[C;$(C=O)])]`,
	// Logic.
	`[C,N,O;R]`, `[!C&!N&!O]`, `[C,N;H0]`, `[C&H3,N&H2]`, `[c,n&H1]`, `[C;H2,H3;!R]`, `[!!C]`, `[CH3,CH2;!$(CC=O)]`, `[#6&X4&H2]`, `[*;a,R0]`,
}

// hitless are the patterns that no molecule has.
var hitless = []string{`[!*]`, `[C&N]`, `C:C`}

// oddMolecules hold what the shared structures lack.
var oddMolecules = []string{
	"[13CH4]", "[13CH3][13CH2]O", "[2H]C([2H])([2H])O", "[2H][2H]", "[2H+]", "[3H]C", "[NH4+].[Cl-]", "[Ca+2].[O-2]", "[Fe+3].[Cl-].[Cl-].[Cl-]",
	"[Re]$[Re]", "C[Se]C", "c1cc[se]c1", "[SiH4]", "[Na+].CC(=O)[O-]", "[CH3]", "[CH2]", "[C-]#[O+]", "[N-]=[N+]=N", "C=[N+]=[N-]",
	"O=[N+]([O-])O", "C[S+](C)[O-]", "CS(C)(C)C", "F[P-](F)(F)(F)(F)F", "C[N+](C)(C)C", "OB(O)O", "[BH4-]", "O=C=O", "S=C=S", "N#N", "C#C",
	"C12C3C4C1C5C2C3C45", "C1C2CC3CC1CC(C2)C3", "C1CC2CCC1C2", "C1CC11CC1", "c1ccc2c(c1)ccc1ccccc12", "c1ccc2[nH]ccc2c1", "c1ncc2[nH]cnc2n1", "O=c1cc[nH]cc1",
	"[O-][n+]1ccccc1", "C[n+]1ccccc1", "c1ccc[cH-]1.[Na+]", "C1=CC=CC=CC=C1", "C1=CC=CC=CC1=O", "c1ccc2cccc2cc1", "N1C=CC=C1", "O1C=CC=C1",
	"CN=[N+]=[N-]", "CN=C=O", "CN=C=S", "CC(=O)Cl", "COC(=O)OC", "CP(C)C", "COP(=O)(OC)OC", "CB(O)O", "CO[N+](=O)[O-]", "CC=NO", "CC=NN", "C=C=O", "C=C=C",
	"CC(=N)N", "CC1(C)OO1", "CC(O)OC", "CC(OC)OC", "CS(N)(=O)=O", "COS(C)(=O)=O", "CC(=O)OC(C)=O", "O=C1C=CC(=O)C=C1", "C[N+]([O-])(C)C", "CCCCC#CC",
}
