package names

import (
	"strings"
	"testing"

	"ionwright/chem"
)

// ringFormulas gives the formula of each ring parent, written apart from the
// skeletons, from memory.
const ringFormulas = `benzene C6H6; naphthalene C10H8; azulene C10H8; indene C9H8; anthracene C14H10; phenanthrene C14H10; fluorene C13H10;
pyrene C16H10; chrysene C18H12; triphenylene C18H12; tetracene C18H12; fluoranthene C16H10; acenaphthylene C12H8; acenaphthene C12H10;
biphenylene C12H8; indane C9H10; hydrindane C9H16; tetralin C10H12; decalin C10H18; furan C4H4O; thiophene C4H4S; selenophene C4H4Se;
pyrrole C4H5N; pyrazole C3H4N2; imidazole C3H4N2; oxazole C3H3NO; isoxazole C3H3NO; thiazole C3H3NS; isothiazole C3H3NS;
1,2,3-triazole C2H3N3; 1,2,4-triazole C2H3N3; tetrazole CH2N4; furazan C2H2N2O; pyridine C5H5N; pyridazine C4H4N2; pyrimidine C4H4N2;
pyrazine C4H4N2; s-triazine C3H3N3; 2H-pyran C5H6O; 4H-thiopyran C5H6S; pyrrolidine C4H9N; imidazolidine C3H8N2; pyrazolidine C3H8N2;
oxazolidine C3H7NO; isoxazolidine C3H7NO; thiazolidine C3H7NS; piperidine C5H11N; piperazine C4H10N2; morpholine C4H9NO; thiomorpholine C4H9NS;
2-pyrazoline C3H6N2; 3-pyrazoline C3H6N2; 2-imidazoline C3H6N2; 2-oxazoline C3H5NO; 2-thiazoline C3H5NS; 3-thiazoline C3H5NS; 2-isoxazoline C3H5NO;
1-pyrroline C4H7N; 2-pyrroline C4H7N; 3-pyrroline C4H7N; benzofuran C8H6O; isobenzofuran C8H6O; phthalan C8H8O; coumaran C8H8O;
benzothiophene C8H6S; indole C8H7N; 2H-isoindole C8H7N; indolizine C8H7N; indoline C8H9N; isoindoline C8H9N; indazole C7H6N2;
benzimidazole C7H6N2; benzoxazole C7H5NO; benzothiazole C7H5NS; benzisoxazole C7H5NO; benzisothiazole C7H5NS; benzotriazole C6H5N3;
1,3-benzodioxole C7H6O2; 1,4-benzodioxane C8H8O2; purine C5H4N4; quinoline C9H7N; isoquinoline C9H7N; cinnoline C8H6N2; quinazoline C8H6N2;
quinoxaline C8H6N2; phthalazine C8H6N2; 1,5-naphthyridine C8H6N2; 1,6-naphthyridine C8H6N2; 1,8-naphthyridine C8H6N2; 2,7-naphthyridine C8H6N2;
pteridine C6H4N4; 2H-chromene C9H8O; 1H-isochromene C9H8O; chroman C9H10O; isochroman C9H10O; 2H-thiochromene C9H8S; thiochroman C9H10S;
carbazole C12H9N; acridine C13H9N; phenanthridine C13H9N; 1,10-phenanthroline C12H8N2; phenazine C12H8N2; phenothiazine C12H9NS;
phenoxazine C12H9NO; dibenzofuran C12H8O; dibenzothiophene C12H8S; xanthene C13H10O; thioxanthene C13H10S; thianthrene C12H8S2;
dibenzodioxin C12H8O2; pyrido(4,3-b)indole C11H8N2; beta-carboline C11H8N2; norbornane C7H12; adamantane C10H16; bornane C10H18;
p-menthane C10H20; pinane C10H18; gonane C17H28; estrane C18H30; androstane C19H32; pregnane C21H36; cholane C24H42; cholestane C27H48;
ergostane C28H50; stigmastane C29H52; aziridine C2H5N; oxirane C2H4O; thiirane C2H4S; oxetane C3H6O; azetidine C3H7N; thietane C3H6S;
oxolane C4H8O; thiolane C4H8S; 1,3-dioxolane C3H6O2; 1,3-dithiolane C3H6S2; oxane C5H10O; thiane C5H10S; 1,3-dioxane C4H8O2; 1,4-dithiane C4H8S2;
1,3,5-trioxane C3H6O3; oxepane C6H12O; azepane C6H13N; 1H-azepine C6H7N; 1,4-diazepane C5H12N2; azocane C7H15N; 1,3-dioxepane C5H10O2;
1,3,4-oxadiazole C2H2N2O; 1,3,4-thiadiazole C2H2N2S; 1,2,4-triazine C3H3N3; 1,3,5-triazine C3H3N3; 4H-1,4-oxazine C4H5NO; 1,4-dioxine C4H4O2;
3H-1,4-benzodiazepine C9H8N2; 2,1,3-benzothiadiazole C6H4N2S; 2H-1,4-benzoxazine C8H7NO`

// TestRingFormulas compares each ring parent with its formula, and checks that
// every name of the ring list is among them.
func TestRingFormulas(t *testing.T) {
	seen := map[string]bool{}
	for entry := range strings.SplitSeq(ringFormulas, ";") {
		name, formula, _ := strings.Cut(strings.TrimSpace(entry), " ")
		want, err := chem.ParseFormula(formula)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		result, err := Systematic(name)
		if err != nil {
			t.Errorf("%v", err)
			continue
		}
		if got := result.Mol.Formula(); got != want {
			t.Errorf("%s: got %v, want %v", name, got, want)
		}
		if i := strings.Index(name, "H-"); i >= 0 {
			name = name[i+2:]
		}
		seen[strings.TrimSuffix(name, "ane")] = true
		seen[name] = true
	}
	for cells := range rowsOf(ringRows) {
		if strings.Contains(cells[3], "short") {
			continue // the same skeleton as the full name, compared below
		}
		found := false
		for name := range strings.SplitSeq(cells[0], "|") {
			found = found || seen[name]
		}
		if !found {
			t.Errorf("ring %q isn't in the list of formulas", cells[0])
		}
	}
}

// TestShortStems checks that a contracted stem has the skeleton of a full one.
func TestShortStems(t *testing.T) {
	full := map[string]bool{}
	for cells := range rowsOf(ringRows) {
		if !strings.Contains(cells[3], "short") {
			full[cells[1]+" "+cells[2]] = true
		}
	}
	for cells := range rowsOf(ringRows) {
		if strings.Contains(cells[3], "short") && !full[cells[1]+" "+cells[2]] {
			t.Errorf("%s has a skeleton or locants of its own", cells[0])
		}
	}
}
