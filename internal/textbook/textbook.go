// Package textbook holds fragmentations that textbooks agree on, for the tests
// of the rooms that compute and draw them.
package textbook

// Row is one fragmentation: the ion at an m/z, and the steps that the last one
// on the way to it may be.
type Row struct {
	Compound, SMILES string
	MZ               int
	Ion              string   // formula with charge
	Kinds            []string // names of the accepted last steps, as ionize.Kinds has them
	Source           string
}

// Rows lists the fragmentations. Sources: OSX = J. McMurry, Organic Chemistry
// 10e, OpenStax, ch. 12; BRUICE = Bruice, Organic Chemistry, sec. 13.5; MUNI =
// Masaryk University E5020 exercises, MS 3; CCSU = Glagovich, Central
// Connecticut State University, summary of fragmentations; META = T. S.
// Lakshmi, lecture on metastable ions; LANGE = Lange's Handbook 15e, 7.8.2.
func Rows() []Row {
	return []Row{
		{"2-pentanone", "CCCC(C)=O", 43, "C2H3O+", []string{"alpha-cleavage"}, "BRUICE"},
		{"2-pentanone", "CCCC(C)=O", 58, "C3H6O+", []string{"hydrogen rearrangement through a six-membered ring"}, "BRUICE"},
		{"2-pentanone", "CCCC(C)=O", 71, "C4H7O+", []string{"alpha-cleavage"}, "BRUICE"},
		{"3-pentanone", "CCC(=O)CC", 57, "C3H5O+", []string{"alpha-cleavage"}, "BRUICE"},
		{"butanone", "CCC(C)=O", 43, "C2H3O+", []string{"alpha-cleavage"}, "common practice, no source"},
		{"5-methyl-2-hexanone", "CC(C)CCC(C)=O", 58, "C3H6O+", []string{"hydrogen rearrangement through a six-membered ring"}, "OSX"},
		{"5-methyl-2-hexanone", "CC(C)CCC(C)=O", 43, "C2H3O+", []string{"alpha-cleavage"}, "OSX"},
		{"butyrophenone", "CCCC(=O)c1ccccc1", 105, "C7H5O+", []string{"alpha-cleavage"}, "OSX"},
		{"butyrophenone", "CCCC(=O)c1ccccc1", 120, "C8H8O+", []string{"hydrogen rearrangement through a six-membered ring"}, "OSX"},
		{"acetophenone", "CC(=O)c1ccccc1", 105, "C7H5O+", []string{"alpha-cleavage"}, "common practice, no source"},
		{"acetophenone", "CC(=O)c1ccccc1", 77, "C6H5+", []string{"loss of carbon monoxide"}, "common practice, no source"},
		{"methyl benzoate", "COC(=O)c1ccccc1", 105, "C7H5O+", []string{"inductive cleavage", "alpha-cleavage"}, "common practice, no source"},
		{"methyl butanoate", "CCCC(=O)OC", 74, "C3H6O2+", []string{"hydrogen rearrangement through a six-membered ring"}, "OSX"},
		{"butanoic acid", "CCCC(=O)O", 60, "C2H4O2+", []string{"hydrogen rearrangement through a six-membered ring"}, "CCSU"},
		{"butanal", "CCCC=O", 44, "C2H4O+", []string{"hydrogen rearrangement through a six-membered ring"}, "CCSU"},
		{"ethyl acetate", "CCOC(C)=O", 43, "C2H3O+", []string{"inductive cleavage", "alpha-cleavage"}, "common practice, no source"},
		{"triethylamine", "CCN(CC)CC", 86, "C5H12N+", []string{"alpha-cleavage"}, "OSX"},
		{"N-ethylpropylamine", "CCCNCC", 58, "C3H8N+", []string{"alpha-cleavage"}, "OSX"},
		{"N-ethylpropylamine", "CCCNCC", 72, "C4H10N+", []string{"alpha-cleavage"}, "OSX"},
		{"butylamine", "CCCCN", 30, "CH4N+", []string{"alpha-cleavage"}, "CCSU"},
		{"diethylamine", "CCNCC", 58, "C3H8N+", []string{"alpha-cleavage"}, "common practice, no source"},
		{"ethanol", "CCO", 31, "CH3O+", []string{"alpha-cleavage"}, "MUNI"},
		{"1-butanol", "CCCCO", 56, "C4H8+", []string{"loss of water"}, "OSX"},
		{"1-butanol", "CCCCO", 31, "CH3O+", []string{"alpha-cleavage"}, "OSX"},
		{"2-pentanol", "CCCC(C)O", 45, "C2H5O+", []string{"alpha-cleavage"}, "OSX"},
		{"2-methyl-3-pentanol", "CCC(O)C(C)C", 59, "C3H7O+", []string{"alpha-cleavage"}, "OSX"},
		{"2-methyl-3-pentanol", "CCC(O)C(C)C", 73, "C4H9O+", []string{"alpha-cleavage"}, "OSX"},
		{"diethyl ether", "CCOCC", 59, "C3H7O+", []string{"alpha-cleavage"}, "common practice, no source"},
		{"hexane", "CCCCCC", 57, "C4H9+", []string{"sigma cleavage"}, "OSX"},
		{"2,2-dimethylpropane", "CC(C)(C)C", 57, "C4H9+", []string{"sigma cleavage"}, "OSX"},
		{"methylcyclohexane", "CC1CCCCC1", 83, "C6H11+", []string{"sigma cleavage"}, "OSX"},
		{"ethylcyclopentane", "CCC1CCCC1", 69, "C5H9+", []string{"sigma cleavage"}, "OSX"},
		{"toluene", "Cc1ccccc1", 91, "C7H7+", []string{"loss of a hydrogen atom"}, "common practice, no source"},
		{"toluene", "Cc1ccccc1", 65, "C5H5+", []string{"loss of ethyne"}, "META"},
		{"ethylbenzene", "CCc1ccccc1", 91, "C7H7+", []string{"benzylic cleavage"}, "common practice, no source"},
		{"cumene", "CC(C)c1ccccc1", 105, "C8H9+", []string{"benzylic cleavage"}, "common practice, no source"},
		{"butylbenzene", "CCCCc1ccccc1", 92, "C7H8+", []string{"hydrogen rearrangement through a six-membered ring"}, "common practice, no source"},
		{"phenol", "Oc1ccccc1", 66, "C5H6+", []string{"loss of carbon monoxide"}, "common practice, no source"},
		{"aniline", "Nc1ccccc1", 66, "C5H6+", []string{"loss of hydrogen cyanide"}, "common practice, no source"},
		{"nitrobenzene", "O=[N+]([O-])c1ccccc1", 77, "C6H5+", []string{"inductive cleavage"}, "common practice, no source"},
		{"nitrobenzene", "O=[N+]([O-])c1ccccc1", 93, "C6H5O+", []string{"nitro-nitrite rearrangement"}, "common practice, no source"},
		{"chlorobenzene", "Clc1ccccc1", 77, "C6H5+", []string{"inductive cleavage"}, "common practice, no source"},
		{"benzaldehyde", "O=Cc1ccccc1", 105, "C7H5O+", []string{"loss of a hydrogen atom"}, "common practice, no source"},
		{"benzonitrile", "N#Cc1ccccc1", 76, "C6H4+", []string{"loss of hydrogen cyanide"}, "common practice, no source"},
		{"pyridine", "c1ccncc1", 52, "C4H4+", []string{"loss of hydrogen cyanide"}, "common practice, no source"},
		{"1-bromohexane", "CCCCCCBr", 85, "C6H13+", []string{"inductive cleavage"}, "OSX"},
		{"2-bromopropane", "CC(C)Br", 43, "C3H7+", []string{"inductive cleavage"}, "common practice, no source"},
		{"iodoethane", "CCI", 29, "C2H5+", []string{"inductive cleavage"}, "common practice, no source"},
		{"1-chlorobutane", "CCCCCl", 56, "C4H8+", []string{"loss of a hydrogen halide"}, "common practice, no source"},
		{"cyclohexene", "C1CCC=CC1", 54, "C4H6+", []string{"retro-Diels-Alder reaction"}, "common practice, no source"},
		{"4-vinylcyclohexene", "C=CC1CCC=CC1", 54, "C4H6+", []string{"retro-Diels-Alder reaction"}, "common practice, no source"},
		{"anthraquinone", "O=C1c2ccccc2C(=O)c2ccccc12", 180, "C13H8O+", []string{"loss of carbon monoxide"}, "common practice, no source"},
		{"trimethylsilyl butyl ether", "CCCCO[Si](C)(C)C", 131, "C6H15OSi+", []string{"sigma cleavage"}, "common practice, no source"},
	}
}
