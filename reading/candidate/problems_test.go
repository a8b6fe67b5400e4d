package candidate

import (
	"context"
	"slices"
	"strings"
	"testing"

	"ionwright/chem"
	"ionwright/reading"
	"ionwright/spectrum"
)

// problem is a published problem or worked example: peaks and facts as they
// are published, in our own figures, and the published conclusion.
type problem struct {
	source  string // where it stands
	peaks   string // heights as published, or for those marked "heights ours" 100 for the base peak and any for the rest
	mass    int    // told; 0: not
	formula string // told; "": not
	// The conclusion.
	ion    int         // m/z of the molecular ion
	says   []statement // clues that must be there
	silent []statement // clues that must not be there
	among  string      // formula among the first five
	groups []string    // said with 50 % or more
	choose []string    // SMILES and names; the first is the answer
}

// statement is a clue of a kind with the words in its title, sentence or first
// suggestion, resting on a peak.
type statement struct {
	kind  reading.Kind
	words string
	peak  int
}

// problems: each line of source names the text; those marked "as quoted" were
// read in a text that quotes it.
var problems = []problem{
	{source: "OpenStax Organic Chemistry 10e, sec. 12.2, fig. 12.6: 2,2-dimethylpropane shows no molecular ion; 57 is C4H9+", peaks: "29:40 41:40 57:100", mass: 72,
		ion: 72, says: []statement{{reading.MolecularIon, "no peak is there", 57}, {reading.NeutralLoss, "CH₃•", 57}, {reading.FragmentIon, "C₄H₉⁺", 57}}},
	{source: "OpenStax, sec. 12.2, fig. 12.7 and 12.8: hexane loses 15, 29 and 43 (height of 86 ours)", peaks: "29:40 43:75 57:100 71:10 86:15",
		ion: 86, says: []statement{{reading.IonSeries, "alkyl", 57}, {reading.NeutralLoss, "CH₃•", 71}, {reading.NeutralLoss, "C₂H₅•", 57}, {reading.NeutralLoss, "C₃H₇•", 43}}, among: "C6H14"},
	{source: "OpenStax, worked example 12.1, sample A (heights of 83 and 98 ours)", peaks: "39:40 41:98 42:50 43:10 55:60 56:60 68:70 69:100 70:50 83:5 98:15", formula: "C7H14",
		ion: 98, says: []statement{{reading.NeutralLoss, "C₂H₅•", 69}}, choose: []string{"CCC1CCCC1 ethylcyclopentane", "CC1CCCCC1 methylcyclohexane"}},
	{source: "OpenStax, worked example 12.1, sample B", peaks: "39:30 41:60 42:38 43:40 55:80 69:20 70:20 83:100 98:40", formula: "C7H14",
		ion: 98, says: []statement{{reading.NeutralLoss, "CH₃•", 83}}, choose: []string{"CC1CCCCC1 methylcyclohexane", "CCC1CCCC1 ethylcyclopentane"}},
	{source: "OpenStax, sec. 12.3, fig. 12.9: 2-pentanol, base peak 45 by alpha-cleavage, little loss of water (heights of 70 and 88 ours)", peaks: "45:100 70:4 88:2", formula: "C5H12O",
		ion: 88, says: []statement{{reading.FragmentIon, "C₂H₅O⁺", 45}}, choose: []string{"CCCC(C)O pentan-2-ol", "CCC(O)CC pentan-3-ol", "CCCCCO pentan-1-ol"}},
	{source: "OpenStax, sec. 12.3, fig. 12.10: triethylamine, base peak 86 by loss of methyl (height of 101 ours)", peaks: "86:100 101:20",
		ion: 101, says: []statement{{reading.NitrogenRule, "odd number", 101}, {reading.NeutralLoss, "CH₃•", 86}, {reading.FragmentIon, "an aliphatic amine", 86}}},
	{source: "OpenStax, sec. 12.3, fig. 12.11: chloroethane, 64 and 66 as 3 to 1", peaks: "64:96 66:32",
		ion: 64, says: []statement{{reading.IsotopePattern, "one Cl", 66}}},
	{source: "OpenStax, sec. 12.3, fig. 12.12: 1-bromohexane, 164 and 166, 135 and 137 with bromine, 85 without (heights ours, pairs 1 to 1)", peaks: "85:60 135:100 137:98 164:30 166:29",
		ion: 164, says: []statement{{reading.IsotopePattern, "one Br", 166}, {reading.NeutralLoss, "bromine", 85}, {reading.NeutralLoss, "C₂H₅•", 135}}},
	{source: "OpenStax, sec. 12.3, fig. 12.13: butyrophenone, 105 by alpha-cleavage, 120 by loss of ethylene (heights of 120 and 148 ours)", peaks: "105:100 120:12 148:20", formula: "C10H12O",
		ion: 148, says: []statement{{reading.NeutralLoss, "C₃H₇•", 105}, {reading.NeutralLoss, "C₂H₄", 120}, {reading.OddElectronFragment, "rearrangement", 120}}, choose: []string{"CCCC(=O)c1ccccc1 butyrophenone", "CC(C)C(=O)c1ccccc1 isobutyrophenone", "CC(=O)CCc1ccccc1 4-phenylbutan-2-one"}},
	{source: "OpenStax, worked example 12.2: 2-methyl-3-pentanol, alpha-cleavage to 59 and 73, no 84 (height of 102 ours)", peaks: "59:100 73:40 102:2", formula: "C6H14O",
		ion: 102, says: []statement{{reading.NeutralLoss, "C₃H₇•", 59}, {reading.NeutralLoss, "C₂H₅•", 73}}, silent: []statement{{reading.NeutralLoss, "water", 84}}, choose: []string{"CCC(O)C(C)C 2-methylpentan-3-ol", "CCCC(C)(C)O 2-methylpentan-2-ol", "CCCCCCO hexan-1-ol"}},
	{source: "OpenStax, sec. 12.1: propane, base peak 29, molecular ion 44 of about 30 % (as quoted)", peaks: "29:100 44:30", formula: "C3H8",
		ion: 44, says: []statement{{reading.BasePeak, "C₂H₅⁺", 29}, {reading.NeutralLoss, "CH₃•", 29}}},
	{source: "OpenStax, sec. 17.11: 1-butanol, base peak 31, strong 56 by loss of water (as quoted; heights of 56 and 74 ours)", peaks: "31:100 56:80 74:2", formula: "C4H10O",
		ion: 74, says: []statement{{reading.NeutralLoss, "H₂O", 56}, {reading.FragmentIon, "CH₃O⁺", 31}}, choose: []string{"CCCCO butan-1-ol", "CCC(C)O butan-2-ol", "CC(C)(C)O 2-methylpropan-2-ol"}},
	{source: "OpenStax, sec. 19.14: 5-methyl-2-hexanone, 58 by the McLafferty rearrangement, 43 by alpha-cleavage (as quoted; heights ours)", peaks: "43:100 58:60 114:2", formula: "C7H14O",
		ion: 114, says: []statement{{reading.FragmentIon, "McLafferty", 58}, {reading.FragmentIon, "C₂H₃O⁺", 43}}, choose: []string{"CC(C)CCC(C)=O 5-methylhexan-2-one", "CCCC(=O)CCC heptan-4-one"}},
	{source: "OpenStax, sec. 24.10: N-ethylpropylamine, 58 and 72 by alpha-cleavage, odd mass (as quoted; heights ours)", peaks: "58:100 72:40 87:15",
		ion: 87, says: []statement{{reading.NitrogenRule, "odd number", 87}, {reading.NeutralLoss, "C₂H₅•", 58}, {reading.NeutralLoss, "CH₃•", 72}, {reading.FragmentIon, "an aliphatic amine", 58}}},
	{source: "Bruice, Organic Chemistry, sec. 13.5, problem on fig. 13.9, first spectrum: 29, 57, 86 (heights ours)", peaks: "29:60 57:100 86:20", formula: "C5H10O",
		ion: 86, choose: []string{"CCC(=O)CC pentan-3-one", "CCCC(C)=O pentan-2-one", "CC(C)C(C)=O 3-methylbutan-2-one"}},
	{source: "Bruice, sec. 13.5, fig. 13.9, second spectrum: 43, 58, 71, 86 (heights ours)", peaks: "43:100 58:10 71:15 86:20", formula: "C5H10O",
		ion: 86, says: []statement{{reading.FragmentIon, "McLafferty", 58}}, choose: []string{"CCCC(C)=O pentan-2-one", "CCC(=O)CC pentan-3-one", "CC(C)C(C)=O 3-methylbutan-2-one"}},
	{source: "International Baccalaureate, Chemistry SL paper 3, May 2015, question 2: C4H8 with 27, 29 and 56 (heights ours)", peaks: "27:60 29:50 41:100 56:40", formula: "C4H8",
		ion: 56, says: []statement{{reading.FragmentIon, "C₂H₃⁺", 27}, {reading.FragmentIon, "C₂H₅⁺", 29}}, choose: []string{"CCC=C but-1-ene", "CC(C)=C 2-methylpropene"}},
	{source: "Chinese textbook of analytical chemistry, ch. 15, problem: base peak 105, M 136, metastable 56.5 and 33.8 (heights of the rest ours)", peaks: "33.8:0.5 51:30 56.5:0.6 77:60 105:100 136:35",
		ion: 136, says: []statement{{reading.Metastable, "m/z 77 comes from m/z 105", 77}, {reading.Metastable, "m/z 51 comes from m/z 77", 51}, {reading.FragmentIon, "benzoyl", 105}}, among: "C8H8O2", choose: []string{"COC(=O)c1ccccc1 methyl benzoate", "CC(=O)Oc1ccccc1 phenyl acetate", "Cc1ccccc1C(=O)O 2-methylbenzoic acid"}},
	{source: "Sanmartin and Herrero, problem 1: 122 and 124 alike, a loss of 15 from both, base peak 43 by loss of bromine (heights of the first four ours)", peaks: "43:100 107:8 109:8 122:20 124:20",
		ion: 122, says: []statement{{reading.IsotopePattern, "one Br", 124}, {reading.NeutralLoss, "bromine", 43}, {reading.NeutralLoss, "CH₃•", 107}}, groups: []string{"bromine"}},
	{source: "Sanmartin and Herrero, problem 7: 95, and 94 with 59 %: odd number of nitrogens, an aldehyde hydrogen", peaks: "94:59 95:100",
		ion: 95, says: []statement{{reading.NitrogenRule, "odd number", 95}, {reading.NeutralLoss, "aldehydes", 94}}},
	{source: "Lange's Handbook 15e, sec. 7.8.2: ethyl nitrate", peaks: "29:44.2 30:30.5 46:100 76:24.2 91:0.01", formula: "C2H5NO3",
		ion: 91, says: []statement{{reading.FragmentIon, "NO₂⁺", 46}, {reading.FragmentIon, "NO⁺", 30}, {reading.FragmentIon, "C₂H₅⁺", 29}, {reading.NeutralLoss, "CH₃•", 76}}},
	{source: "Mass spectrometry exercises with answers (course sheet), exercise 2: 170, M+1 13.2 %, M+2 1.0 %: 12 carbons, C12H10O or C12H26", peaks: "170:100 171:13.2 172:1", mass: 170,
		ion: 170, says: []statement{{reading.CarbonCount, "about 12 carbons", 171}, {reading.IsotopePattern, "no chlorine", 170}, {reading.NitrogenRule, "no nitrogen", 170}}},
	{source: "the same sheet, exercise 3: hydrocarbon, 84 with 31.3 %, 85 with 2.06 %: 6 carbons, C6H12 (base peak ours)", peaks: "41:100 84:31.3 85:2.06 86:0.08", mass: 84,
		ion: 84, says: []statement{{reading.CarbonCount, "about 6 carbons", 85}}, among: "C6H12"},
	{source: "the same sheet, exercise 4: 107, M+1 8.0 %, M+2 0.3 %: C7H9N", peaks: "107:100 108:8 109:0.3", mass: 107,
		ion: 107, says: []statement{{reading.CarbonCount, "about 7 carbons", 108}, {reading.NitrogenRule, "odd number", 107}}, among: "C7H9N"},
	{source: "Collins, Organic Structure Elucidation: A Workbook of Unknowns, problem 1: C3H5BrO2, losses of OH, COOH and Br (heights ours, pairs 1 to 1)", peaks: "73:100 107:20 109:19 135:15 137:15 152:10 154:10", formula: "C3H5BrO2",
		ion: 152, says: []statement{{reading.NeutralLoss, "OH•", 135}, {reading.NeutralLoss, "COOH•", 107}, {reading.NeutralLoss, "bromine", 73}}, choose: []string{"OC(=O)CCBr 3-bromopropanoic acid", "COC(=O)CBr methyl bromoacetate"}},
	{source: "Collins, Workbook, problem 2: C8H14O4, losses of 28, 45 (ethoxy) and 73 (heights ours)", peaks: "101:80 129:60 146:30 174:5", formula: "C8H14O4",
		ion: 174, says: []statement{{reading.NeutralLoss, "C₂H₄", 146}, {reading.NeutralLoss, "OC₂H₅•", 129}, {reading.NeutralLoss, "an ester", 101}}, groups: []string{"ester"}},
	{source: "Collins, Workbook, problem 3: C9H12, losses of 15 and 29, tropylium (heights ours)", peaks: "91:100 105:5 120:25", formula: "C9H12",
		ion: 120, says: []statement{{reading.NeutralLoss, "CH₃•", 105}, {reading.NeutralLoss, "C₂H₅•", 91}, {reading.FragmentIon, "C₇H₇⁺", 91}}, choose: []string{"CCCc1ccccc1 propylbenzene", "CC(C)c1ccccc1 cumene", "Cc1cc(C)cc(C)c1 mesitylene"}},
	{source: "Lakshmi, slides on metastable ions: p-anisidine, 123 to 108 (m* 94.8) and 108 to 80 (59.2) (heights of the ions ours)", peaks: "59.2:0.5 80:50 94.8:0.5 108:100 123:80",
		ion: 123, says: []statement{{reading.Metastable, "m/z 108 comes from m/z 123", 108}, {reading.Metastable, "m/z 80 comes from m/z 108", 80}, {reading.NitrogenRule, "odd number", 123}}},
	{source: "Lakshmi, slides on metastable ions: 91 to 65 (m* 46.4), loss of C2H2 (heights of the ions ours)", peaks: "46.4:0.5 65:15 91:100 92:60",
		ion: 92, says: []statement{{reading.Metastable, "C₂H₂", 65}}},
	{source: "article in J. Chem. Educ. on isotope patterns by programmable calculator: bromine with chlorine as 0.381 : 0.497 : 0.122; species of CH2BrCl: Cambridge International 9701, winter 2018", peaks: "128:38.1 130:49.7 132:12.2",
		ion: 128, says: []statement{{reading.IsotopePattern, "one Br and one Cl", 130}}},
	{source: "Cambridge International 9701, paper 42, summer 2019: M+1 of 14.3 % is 13 carbons; C13H16NOCl (M+2 by its chlorine)", peaks: "237:100 238:14.3 239:33", mass: 237,
		ion: 237, says: []statement{{reading.IsotopePattern, "one Cl", 239}, {reading.CarbonCount, "about 13 carbons", 238}, {reading.NitrogenRule, "odd number", 237}}},
	{source: "Silverstein, Spectrometric Identification of Organic Compounds, ch. 1, fig. 1.1: benzamide, molecular ion 121 (told here); 105 and 77 by Glagovich's table (heights ours)", peaks: "51:30 77:80 105:100 121:80 122:6.4", mass: 121,
		ion: 121, says: []statement{{reading.NitrogenRule, "odd number", 121}, {reading.FragmentIon, "benzoyl", 105}, {reading.FragmentIon, "phenyl", 77}}, choose: []string{"NC(=O)c1ccccc1 benzamide", "O=CNc1ccccc1 formanilide"}},
	{source: "Chinese lecture on the interpretation of mass spectra, example 1: 126 and 95, 31 apart, so 126 is the molecular ion (heights ours)", peaks: "39:30 95:100 126:60",
		ion: 126, says: []statement{{reading.NeutralLoss, "methoxy", 95}}},
	{source: "the same lecture, example 2: 162 and 134, 28 apart, 9 or 10 carbons (heights of 134 and M+1 ours, M+1 for 9.5 carbons)", peaks: "134:90 162:100 163:10.4",
		ion: 162, says: []statement{{reading.NeutralLoss, "CO", 134}, {reading.NitrogenRule, "no nitrogen", 162}, {reading.CarbonCount, "carbons", 163}}},
	{source: "biochemistry text, ch. 9: butane, molecular ion 58, base peak 43, with 15, 27, 29 and 41 (heights ours)", peaks: "15:5 27:35 29:40 41:30 43:100 58:12", formula: "C4H10",
		ion: 58, says: []statement{{reading.NeutralLoss, "CH₃•", 43}, {reading.NeutralLoss, "C₂H₅•", 29}, {reading.FragmentIon, "C₃H₇⁺", 43}}},
	{source: "Masaryk University, E5020, exercise 3: ethanol, base peak 31, molecular ion 46, with 45, 43, 29 and 18 (heights ours)", peaks: "18:5 29:25 31:100 43:8 45:40 46:20", formula: "C2H6O",
		ion: 46, says: []statement{{reading.FragmentIon, "CH₃O⁺", 31}, {reading.NeutralLoss, "CH₃•", 31}}, choose: []string{"CCO ethanol", "COC dimethyl ether"}},
}

func TestPublishedProblems(t *testing.T) {
	if len(problems) < 30 {
		t.Fatalf("%d problems", len(problems))
	}
	for _, p := range problems {
		name, _, _ := strings.Cut(p.source, ":")
		t.Run(name, func(t *testing.T) { p.solve(t) })
	}
}

func (p problem) solve(t *testing.T) {
	s := spectrum.MustParse(p.peaks)
	given := reading.Given{NominalMass: p.mass}
	if p.formula != "" {
		given.Formula = chem.MustFormula(p.formula)
	}
	r := reading.Read(s, given)
	if len(r.MolecularIon) == 0 || r.MolecularIon[0].MZ != p.ion {
		t.Errorf("molecular ion %+v, published %d", r.MolecularIon[:min(2, len(r.MolecularIon))], p.ion)
	}
	for _, want := range p.says {
		if !says(r, want) {
			t.Errorf("no clue %v with %q that rests on m/z %d", want.kind, want.words, want.peak)
		}
	}
	for _, no := range p.silent {
		if says(r, no) {
			t.Errorf("there is a clue %v with %q on m/z %d", no.kind, no.words, no.peak)
		}
	}
	if p.among != "" {
		f := chem.MustFormula(p.among)
		if !slices.ContainsFunc(r.Formulas[:min(5, len(r.Formulas))], func(c reading.FormulaCandidate) bool { return c.Formula == f }) {
			t.Errorf("%s isn't among the first five formulas", p.among)
		}
	}
	for _, name := range p.groups {
		if !slices.ContainsFunc(r.Groups, func(g reading.GroupCall) bool { return g.Name == name && g.Probability >= 0.5 }) {
			t.Errorf("%s isn't said", name)
		}
	}
	if len(p.choose) > 0 {
		ranking, err := Rank(context.Background(), s, given, structures(t, p.choose...))
		if err != nil {
			t.Fatal(err)
		}
		if _, answer, _ := strings.Cut(p.choose[0], " "); ranking.Ranked[0].Name != answer {
			t.Errorf("first is %s (%.2f), published %s", ranking.Ranked[0].Name, ranking.Ranked[0].Probability, answer)
		}
	}
}

func says(r reading.Reading, want statement) bool {
	return slices.ContainsFunc(r.Clues, func(c reading.Clue) bool {
		text := c.Title + " " + c.Sentence + " " + strings.Join(c.Suggests, " ")
		return c.Kind == want.kind && strings.Contains(text, want.words) && (slices.Contains(c.Peaks, want.peak) || c.Kind == reading.MolecularIon)
	})
}
