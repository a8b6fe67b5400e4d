package mark

import (
	"context"
	"fmt"
	"math"

	"ionwright/ionize"
	"ionwright/mol"
	"ionwright/practice"
	"ionwright/practice/answer"
	"ionwright/practice/cause"
)

// structure judges a structure by its graph. An isomer is broken up by the
// engine, so that the peaks it can't explain can be named.
func structure(ctx context.Context, k practice.Structure, facts cause.Facts, a answer.Answer) (judgement, error) {
	m, err := answer.ReadStructure(a.Text)
	if err != nil {
		return judgement{unread: "A structure is expected here: draw it, or write its SMILES, such as CCC(C)=O. " + sentence(cut(firstLine(err.Error())))}, nil
	}
	j := judgement{given: cause.Given{Structure: m}}
	if answer.SameIon(m, k.Mol) {
		j.share = 1
		return j, nil
	}
	f, want := m.Formula(), k.Mol.Formula()
	if f != want {
		j.otherwise = []string{fmt.Sprintf("Your structure is %s, nominal mass %d; the one asked for is %s, nominal mass %d.",
			f.Unicode(), f.NominalMass(), want.Unicode(), want.NominalMass())}
		return j, nil
	}
	j.reasons = []string{"Your structure has the right formula, but its atoms are joined in another way."}
	lacks, err := unexplained(ctx, m, facts)
	if err != nil {
		return j, err
	}
	if len(lacks) > 0 {
		j.otherwise = append(j.otherwise, fmt.Sprintf("It doesn't explain the peak at m/z %d.", lacks[0]))
	}
	return j, nil
}

// unexplained are the strong peaks of the spectrum for which a structure has no
// ion, strongest first; none where the engine can't take the structure.
func unexplained(ctx context.Context, m *mol.Mol, facts cause.Facts) ([]int, error) {
	if len(facts.Spectrum.Peaks) == 0 {
		return nil, nil
	}
	p, err := ionize.Predict(ctx, m, ionize.Settings{})
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	if err != nil {
		return nil, nil // a structure beyond the engine can't be held against the peaks
	}
	const strong, shown = 10, 1 // % of the base peak
	computed := p.Spectrum()
	var lacks []int
	const looked = 12
	for _, peak := range facts.Spectrum.AtLeast(strong).Strongest(looked) {
		mz := int(math.Round(peak.MZ))
		if computed.Relative(mz) < shown {
			lacks = append(lacks, mz)
		}
	}
	return lacks, nil
}

func firstLine(s string) string {
	for i, r := range s {
		if r == '\n' {
			return s[:i]
		}
	}
	return s
}
