package mark_test

import (
	"context"
	"slices"
	"testing"

	"ionwright/chem"
	"ionwright/mol"
	"ionwright/mol/smiles"
	"ionwright/practice"
	"ionwright/practice/answer"
	"ionwright/practice/cause"
	"ionwright/practice/mark"
	"ionwright/spectrum"
)

func structureOf(t testing.TB, s string) *mol.Mol {
	t.Helper()
	m, err := smiles.Parse(s)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// of are the facts about a compound with a spectrum in short notation.
func of(t testing.TB, asks cause.Asks, structure, peaks string) cause.Facts {
	t.Helper()
	m := structureOf(t, structure)
	f := cause.Facts{Asks: asks, Compound: m, Formula: m.Formula()}
	if peaks != "" {
		f.Spectrum = spectrum.MustParse(peaks)
	}
	return f
}

func with(f cause.Facts, change func(*cause.Facts)) cause.Facts {
	change(&f)
	return f
}

func ion(f string) chem.Formula { return chem.MustFormula(f) }

// causeRow is a wrong answer that must be taken for the mistake it comes from.
type causeRow struct {
	code   cause.Code
	ask    string
	key    practice.Key
	facts  cause.Facts
	answer answer.Answer
}

// causeRows has a row for each cause, and more for some. Spectra are rough
// sketches of what the named textbook facts say; only their order matters.
func causeRows(t testing.TB) []causeRow {
	butanone := func(asks cause.Asks) cause.Facts {
		return with(of(t, asks, "CCC(C)=O", "29:25 43:100 57:8 72:20 73:1"), func(f *cause.Facts) {
			f.Ion, f.MZ, f.Possible = ion("C2H3O+"), 43, []chem.Formula{ion("C2H3O+")}
		})
	}
	acetyl := practice.Formula{Formula: ion("C2H3O+")}
	dichloro := with(of(t, cause.Pattern, "ClCCl", ""), func(f *cause.Facts) { f.Offset = 2 })
	tropylium := cause.Facts{Asks: cause.MassOf, Ion: ion("C7H7 2+")}
	oxygens := []cause.Flier{{Name: "O2 2+", Mass: 32, Charge: 2}, {Name: "O2+", Mass: 32, Charge: 1}}
	field := cause.FieldFor(100, 0.25, 4000, true, true)
	plan := []practice.Step{
		{Letter: "C", Text: "molecular ion", Phase: cause.Constrain}, {Letter: "A", Text: "nitrogen rule", Phase: cause.Constrain},
		{Letter: "D", Text: "losses", Phase: cause.Predict}, {Letter: "B", Text: "check", Phase: cause.Verify},
	}
	var stages []cause.Stage
	for _, s := range plan {
		stages = append(stages, cause.Stage{ID: s.Letter, Phase: s.Phase})
	}
	cleavage := []answer.Arrow{{Half: true, From: answer.Place{A: 1}, To: answer.Place{A: 1, B: 2}},
		{Half: true, From: answer.Place{A: 2, B: 3}, To: answer.Place{A: 1, B: 2}}, {Half: true, From: answer.Place{A: 2, B: 3}, To: answer.Place{A: 3}}}
	var moves []cause.Move
	for _, a := range cleavage {
		moves = append(moves, cause.Move{Half: a.Half, Text: a.String()})
	}
	chlorine := practice.Reasons{Needs: 2, Clues: []practice.Clue{
		{Says: "M + 2 is a third of M", Any: []string{"m+2", "3:1", "a third"}}, {Says: "m/z 77 has no partner", Any: []string{"no partner", "lost chlorine", "loss of chlorine"}}}}
	bend := practice.Reasons{Needs: 1, Clues: []practice.Clue{{Says: "the magnetic field acts across the path", Any: []string{"magnetic field", "magnet"}}}}
	losing45 := practice.Choices{Options: practice.Letters([]practice.Option{{Text: "COOH", Right: true}, {Text: "C2H5O", Right: true}, {Text: "C3H7"}})}
	propanol := "31:100 42:15 59:10 60:6"
	return []causeRow{
		{cause.ChargeLeftOff, "ion at m/z 43", acetyl, butanone(cause.IonAt), answer.Of("C2H3O")},
		{cause.MassDiffers, "ion at m/z 43", acetyl, butanone(cause.IonAt), answer.Of("C2H5O+")},
		{cause.MassDiffers, "ion at m/z 43", acetyl, butanone(cause.IonAt), answer.Of("C6H5+")},
		{cause.NeutralPeak, "ion at m/z 43", acetyl, butanone(cause.IonAt), answer.Of("C4H8O")},
		{cause.LostPart, "ion at m/z 43", acetyl, butanone(cause.IonAt), answer.Of("C2H5+")},
		{cause.LostPart, "m/z of the acylium ion", practice.Number{Value: 43}, butanone(cause.PeakOf), answer.Of("29")},
		{cause.BaseForMolecular, "m/z of the molecular ion", practice.Number{Value: 72}, butanone(cause.MolecularIon), answer.Of("m/z 43")},
		{cause.HighestIsMolecular, "m/z of the molecular ion", practice.Number{Value: 72}, butanone(cause.MolecularIon), answer.Of("73")},
		{cause.HighestIsMolecular, "m/z of the molecular ion", practice.Number{Value: 72}, of(t, cause.MolecularIon, "CC(C)(C)C", "29:40 41:40 57:100"), answer.Of("57")},
		{cause.AverageMass, "m/z of the molecular ion", practice.Number{Value: 112}, of(t, cause.MolecularIon, "Clc1ccccc1", "77:60 112:100 114:32"), answer.Of("112.5")},
		{cause.AverageMass, "m/z of the molecular ion", practice.Number{Value: 156}, of(t, cause.MolecularIon, "Brc1ccccc1", "77:100 156:70 158:68"), answer.Of("157")},
		{cause.HalogenPattern, "M + 2 of CH2Cl2", practice.Number{Value: 64, Tolerance: 2, Unit: "%"}, dichloro, answer.Of("32 %")},
		{cause.CarbonCount, "carbons from M + 1 = 14.4 %", practice.Number{Value: 13}, with(of(t, cause.Carbons, "CCCCCCCCCCCCC", ""), func(f *cause.Facts) { f.Ratio = 14.4 }), answer.Of("13.1")},
		{cause.NitrogenRule, "nitrogens of the ion C3H8N+", practice.Number{Value: 1}, with(of(t, cause.Nitrogens, "CCN(CC)CC", ""), func(f *cause.Facts) { f.Ion = ion("C4H10N+") }), answer.Of("0")},
		{cause.NitrogenRule, "nitrogens of C8H20N2", practice.Number{Value: 2}, of(t, cause.Nitrogens, "CCN(CC)CCN(C)C", ""), answer.Of("0")},
		{cause.ChargeTwo, "mass of the ion at m/z 45.5, two charges", practice.Number{Value: 91, Unit: "Da"}, tropylium, answer.Of("45.5")},
		{cause.BendingOrder, "which bends more", practice.Order{Steps: []practice.Step{{Letter: "O2 2+"}, {Letter: "O2+"}}}, cause.Facts{Asks: cause.Bending, Flying: oxygens}, answer.Listed("O2+", "O2 2+")},
		{cause.BendingCause, "why do they bend", bend, cause.Facts{Asks: cause.Bending}, answer.Of("Because of gravity.")},
		{cause.MassNumberPlace, "ion of oxygen at m/z 32", practice.Formula{Formula: ion("[16O]2+")}, cause.Facts{Asks: cause.Isotopologue, Ion: ion("[16O]2+")}, answer.Of("³²O₂⁺")},
		{cause.MassNumberPlace, "ion of oxygen at m/z 32", practice.Formula{Formula: ion("[16O]2+")}, cause.Facts{Asks: cause.Isotopologue, Ion: ion("[16O]2+")}, answer.Of("32O+")},
		{cause.UnitSlip, "field for m/z 100", practice.Number{Value: 0.36423, Tolerance: 0.0005, Unit: "T"}, cause.Facts{Asks: cause.Setting, Work: &field}, answer.Of("0.0115 T")}, // 4 for 4 kV
		{cause.UnitSlip, "field for m/z 100", practice.Number{Value: 0.36423, Tolerance: 0.0005, Unit: "T"}, cause.Facts{Asks: cause.Setting, Work: &field}, answer.Of("0.1327 T")}, // the square root taken twice over
		{cause.OneCue, "show that it holds chlorine", chlorine, cause.Facts{Asks: cause.Evidence, Needs: 2}, answer.Of("M+2 is a third of M")},
		{cause.Undirected, "order of reading", practice.Order{Steps: plan}, cause.Facts{Asks: cause.Steps, Protocol: stages}, answer.Listed("D", "C", "A", "B")},
		{cause.BiggerIsStronger, "base peak of butanone", practice.Number{Value: 43}, butanone(cause.StrongestPeak), answer.Of("57")},
		{cause.AtomsNotBonds, "ion at m/z 71 of methyl butanoate", practice.Formula{Formula: ion("C4H7O+")}, with(of(t, cause.IonAt, "CCCC(=O)OC", ""), func(f *cause.Facts) {
			f.Ion, f.MZ, f.Possible = ion("C4H7O+"), 71, []chem.Formula{ion("C4H7O+")}
		}), answer.Of("C3H3O2+")},
		{cause.Unchecked, "structure", practice.Structure{Mol: structureOf(t, "CCCC(C)=O")}, of(t, cause.Identity, "CCCC(C)=O", "43:100 58:12 71:15 86:20"), answer.Of("CCC(=O)CC")},
		{cause.StepIncomplete, "structure of the acetyl cation", practice.Structure{Mol: structureOf(t, "CC#[O+]")}, with(of(t, cause.Identity, "CC#[O+]", ""), func(f *cause.Facts) { f.Ion = ion("C2H3O+") }), answer.Of("[CH2]C#[O+]")},
		{cause.ArrowKind, "alpha-cleavage", practice.Arrows{Ways: [][]answer.Arrow{cleavage}}, cause.Facts{Asks: cause.Movement, Moves: moves}, answer.Of("1 => 1-2, 2-3 => 1-2, 2-3 => 3")},
		{cause.ElectronParity, "molecular ion of benzene", practice.Formula{Formula: ion("C6H6+")}, with(of(t, cause.IonAt, "c1ccccc1", ""), func(f *cause.Facts) { f.Ion, f.MZ = ion("C6H6+"), 78 }), answer.Of("C6H7+")},
		{cause.ElectronParity, "ion at m/z 43, dot written", acetyl, butanone(cause.IonAt), answer.Of("C2H3O+•")},
		{cause.ThirtyOne, "class of diethyl ether", practice.Choice{Options: practice.Letters([]practice.Option{{Text: "ether", Right: true}, {Text: "primary alcohol"}})}, of(t, cause.Group, "CCOCC", "31:100 59:50 74:30"), answer.Of("B")},
		{cause.WaterMust, "peaks of 2-methylpentan-3-ol", practice.Peaks{MZ: []int{59, 73}}, of(t, cause.Peaks, "CCC(O)C(C)C", "31:20 59:100 73:40"), answer.Of("59, 84")},
		{cause.NoGammaHydrogen, "rearrangement ion of 3-methylbutan-2-one, 0 for none", practice.Number{Value: 0}, of(t, cause.Rearranged, "CC(C)C(C)=O", "43:100 71:5 86:15"), answer.Of("58")},
		{cause.OneMeaning, "ion at m/z 43", acetyl, butanone(cause.IonAt), answer.Of("C3H7+")},
		{cause.OneMeaning, "what may a loss of 45 be", losing45, cause.Facts{Right: []string{"A", "B"}}, answer.Of("A")},
		{cause.ResolutionTerm, "resolving power for m/z 43", practice.Number{Value: 1183, Tolerance: 10}, cause.Facts{Asks: cause.Power, Ion: ion("C2H3O+"), Other: ion("C3H7+")}, answer.Of("0.0364")},
		{cause.Unchecked, "structure", practice.Structure{Mol: structureOf(t, "CCCO")}, of(t, cause.Identity, "CCCO", propanol), answer.Of("CC(C)O")},
	}
}

// TestEveryCauseIsTriggered gives a wrong answer for each cause of the list.
func TestEveryCauseIsTriggered(t *testing.T) {
	seen := map[cause.Code]bool{}
	for _, row := range causeRows(t) {
		q := &practice.Question{ID: "q", Ask: row.ask, Key: row.key, Marks: 2, Facts: row.facts}
		r, err := mark.Question(context.Background(), q, row.answer)
		if err != nil {
			t.Fatal(err)
		}
		if len(r.Causes) == 0 || r.Causes[0] != row.code && !slices.Contains(r.Causes, row.code) {
			t.Errorf("%s, answered %q: causes %v, want %s; %s", row.ask, row.answer, r.Causes, row.code, r.Reason)
		}
		if r.Verdict == mark.Right || r.Marks >= q.Marks {
			t.Errorf("%s: the wrong answer %q gets %g marks", row.ask, row.answer, r.Marks)
		}
		seen[row.code] = true
		t.Logf("%-21s %-12s %.1f/%g %v\n    %s %v", row.code, row.answer, r.Marks, r.Of, r.Verdict, r.Reason, r.Advice)
	}
	const difficulties = 28
	all := cause.All()
	if len(all) != difficulties {
		t.Errorf("the list has %d causes, and %d difficulties are documented", len(all), difficulties)
	}
	for _, c := range all {
		if !seen[c.Code] {
			t.Errorf("no answer triggers %s", c.Code)
		}
		if c.Title == "" || c.Rule == "" || c.Remedy == "" || c.Source == "" {
			t.Errorf("%s isn't documented", c.Code)
		}
	}
}

// TestKeysAreRight marks each key's own answer with full marks.
func TestKeysAreRight(t *testing.T) {
	for _, row := range causeRows(t) {
		q := &practice.Question{ID: "q", Ask: row.ask, Key: row.key, Marks: 2, Facts: row.facts}
		r, err := mark.Question(context.Background(), q, row.key.Solved())
		if err != nil {
			t.Fatal(err)
		}
		if r.Verdict != mark.Right || r.Marks != 2 {
			t.Errorf("%s: the key's answer %q gets %g marks: %s", row.ask, row.key.Solved(), r.Marks, r.Reason)
		}
	}
}
