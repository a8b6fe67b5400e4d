package propose

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"ionwright/chem"
	"ionwright/isotope"
	"ionwright/mol"
	"ionwright/mol/smiles"
	"ionwright/practice"
	"ionwright/practice/cause"
	"ionwright/reading"
)

// Idea is something that questions can be made about.
type Idea struct {
	Name string
	Doc  string // what decides, in a sentence
	clue reading.Kind
	// suits tells from the structure alone whether the compound is worth a
	// closer look; ask makes the question, or nil where the idea doesn't decide.
	suits func(m *mol.Mol, level int) bool
	ask   func(ctx context.Context, s *subject) (*practice.Question, error)
}

// Ideas is the visible list.
func Ideas() []Idea {
	return []Idea{
		{"molecular-ion", "The molecular ion is neither the strongest nor the last peak.", reading.MolecularIon, organic, askMolecularIon},
		{"isotope-pattern", "The height of the peak two units above the molecular ion tells the halogens.", reading.IsotopePattern, halogens, askPattern},
		{"nitrogen-rule", "The parity of m/z tells whether the number of nitrogen atoms is odd.", reading.NitrogenRule, nitrogens, askNitrogens},
		{"alpha-cleavage", "The bond next to a carbonyl carbon or beside a heteroatom breaks.", reading.FragmentIon, heteroatoms, askAlpha},
		{"rearrangement", "A hydrogen moves only if one stands on the third atom from the carbonyl carbon.", reading.OddElectronFragment, carbonyls, askRearranged},
		{"two-meanings", "One m/z can be two ions; the compound decides which.", reading.FragmentIon, organic, askMeaning},
		{"loss", "The difference to the molecular ion is a neutral, which has more than one possible formula.", reading.NeutralLoss, organic, askLoss},
		{"electron-arrows", "A half arrow moves one electron, a full one a pair; the site of charge or unpaired electron starts the step.", reading.FragmentIon, heteroatoms, askArrows},
		{"assignment", "Each strong peak is an ion that the structure can form, with a formula of that mass.", reading.FragmentIon, organic, askAssignment},
		{"charge-two", "An ion with two charges stands at half its mass.", reading.ChargeTwo, polycyclic, askChargeTwo},
		{"unknown", "A structure explains every strong peak, and its isomers don't.", reading.FragmentIon, organic, askUnknown},
	}
}

func named(name string) (Idea, bool) {
	all := Ideas()
	i := slices.IndexFunc(all, func(idea Idea) bool { return idea.Name == name })
	if i < 0 {
		return Idea{}, false
	}
	return all[i], true
}

func organic(m *mol.Mol, _ int) bool { return m.Formula().Count(chem.C) > 1 }

func halogens(m *mol.Mol, level int) bool {
	f := m.Formula()
	n := f.Count(chem.Cl) + f.Count(chem.Br)
	if f.Count(chem.C) == 0 {
		return false
	}
	if level == 1 {
		return n == 1 || n == 2
	}
	return n >= 2 && n <= 4
}

func nitrogens(m *mol.Mol, level int) bool {
	n := m.Formula().Count(chem.N)
	return n == 1 || level > 1 && n == 2
}

func heteroatoms(m *mol.Mol, _ int) bool {
	f := m.Formula()
	return f.Count(chem.O)+f.Count(chem.N) == 1 && f.Count(chem.C) > 2
}

func carbonyls(m *mol.Mol, _ int) bool {
	return len(cause.Gammas(m)) > 0 && m.Formula().Count(chem.O) <= 2
}

func polycyclic(m *mol.Mol, _ int) bool {
	return m.Formula().DBE() >= 7 && m.Formula().Count(chem.C) >= 10
}

func number(s *subject, id, ask string, value float64, asks cause.Asks, solution ...string) *practice.Question {
	return &practice.Question{ID: id, Ask: ask, Key: practice.Number{Value: value}, Marks: 1, Facts: s.facts(asks), Solution: solution}
}

func askMolecularIon(_ context.Context, s *subject) (*practice.Question, error) {
	m := s.mass()
	const seen = 2 // % of the base peak
	last := int(math.Round(s.spectrum.Peaks[len(s.spectrum.Peaks)-1].MZ))
	if s.base() == m || last == m || s.spectrum.Relative(m) < seen {
		return nil, nil
	}
	return number(s, "molecular_ion", "The figure shows the spectrum of an unknown. At which m/z does its molecular ion stand?", float64(m), cause.MolecularIon,
		fmt.Sprintf("The base peak, m/z %d, is a fragment, and the peaks above m/z %d are its isotope peaks.", s.base(), m),
		fmt.Sprintf("The molecular ion stands at m/z %d: the compound is %s, %s.", m, s.Name, s.formula.Unicode())), nil
}

func askPattern(_ context.Context, s *subject) (*practice.Question, error) {
	p := isotope.Unit(s.formula)
	const tolerance = 3
	right := 100 * p.At(s.mass()+2) / p.At(s.mass())
	if fewHalogensGive(math.Round(right), tolerance, s.formula) {
		return nil, nil
	}
	f := s.facts(cause.Pattern)
	f.Offset = 2
	var atoms []string
	for _, e := range []chem.Element{chem.Cl, chem.Br} {
		switch n := s.formula.Count(e); {
		case n == 1:
			atoms = append(atoms, "one "+e.Name()+" atom")
		case n > 1:
			atoms = append(atoms, fmt.Sprintf("%d %s atoms", n, e.Name()))
		}
	}
	return &practice.Question{
		ID: "isotope_pattern", Marks: 1, Facts: f,
		Ask:      fmt.Sprintf("How tall is the peak two units above the molecular ion of %s, %s, in percent of the peak of the molecular ion?", s.Name, s.formula.Unicode()),
		Key:      practice.Number{Value: math.Round(right), Tolerance: tolerance, Unit: "%"},
		Solution: []string{fmt.Sprintf("The isotopes of %s give %.0f %%: the atoms' patterns are multiplied.", strings.Join(atoms, " and "), right)},
	}, nil
}

// fewHalogensGive reports whether one or two other chlorine or bromine atoms
// than the formula has give the height, in percent, to within the tolerance:
// who takes it for theirs would be marked right, as three chlorine atoms give
// what one bromine atom does.
func fewHalogensGive(height, tolerance float64, own chem.Formula) bool {
	for _, text := range []string{"Cl", "Br", "Cl2", "Br2", "ClBr"} {
		other := chem.MustFormula(text)
		if other.Count(chem.Cl) == own.Count(chem.Cl) && other.Count(chem.Br) == own.Count(chem.Br) {
			continue
		}
		p := isotope.Unit(other)
		if math.Abs(100*p.At(other.NominalMass()+2)/p.At(other.NominalMass())-height) <= tolerance {
			return true
		}
	}
	return false
}

func askNitrogens(_ context.Context, s *subject) (*practice.Question, error) {
	n := s.formula.Count(chem.N)
	parity := "odd"
	if n%2 == 0 {
		parity = "even"
	}
	return number(s, "nitrogen_rule",
		fmt.Sprintf("The molecular ion of an unknown stands at m/z %d, and a test for nitrogen is positive. The compound has at most two nitrogen atoms. How many are there?", s.mass()),
		float64(n), cause.Nitrogens, fmt.Sprintf("m/z %d is %s, so the number of nitrogen atoms is %s, and with the test that leaves %d: %s, %s.",
			s.mass(), parity, parity, n, s.Name, s.formula.Unicode())), nil
}

func askAlpha(_ context.Context, s *subject) (*practice.Question, error) {
	mz := s.base()
	ions := s.prediction.At(mz)
	if len(ions) == 0 || mz == s.mass() {
		return nil, nil
	}
	route := s.prediction.Route(ions[0].ID)
	if len(route) != 1 || route[0].Kind.String() != "alpha-cleavage" {
		return nil, nil
	}
	return formulaAt(s, mz, "alpha_cleavage", fmt.Sprintf("The base peak of %s stands at m/z %d. Write the formula of its ion, with the charge.", s.Name, mz))
}

func formulaAt(s *subject, mz int, id, ask string) (*practice.Question, error) {
	f := s.facts(cause.IonAt)
	if !s.at(&f, mz) {
		return nil, nil
	}
	return &practice.Question{ID: id, Ask: ask, Marks: 2, Facts: f, Key: practice.Formula{Formula: f.Ion},
		Scheme:   practice.Scheme{Credit: []practice.Credit{{Cause: cause.ChargeLeftOff, Marks: 1, Once: "charge"}}},
		Solution: []string{s.route(mz)}}, nil
}

func askRearranged(_ context.Context, s *subject) (*practice.Question, error) {
	var with, without []cause.Gamma
	for _, g := range cause.Gammas(s.mol) {
		switch {
		case len(g.Hydrogens) > 0:
			with = append(with, g)
		case g.MZ < s.mass():
			without = append(without, g)
		}
	}
	ask := fmt.Sprintf("At which m/z does the ion stand that %s gives by a hydrogen rearrangement through a six-membered ring, with loss of an alkene? Write 0 if there is none.", s.Name)
	f := s.facts(cause.Rearranged)
	const seen = 3 // % of the base peak
	switch {
	case len(with) == 1 && s.spectrum.Relative(with[0].MZ) >= seen && with[0].MZ%2 == s.mass()%2:
		if !s.at(&f, with[0].MZ) {
			return nil, nil
		}
		return &practice.Question{ID: "rearrangement", Ask: ask, Marks: 1, Facts: f, Key: practice.Number{Value: float64(with[0].MZ)},
			Solution: []string{"A hydrogen stands on the third atom from the carbonyl carbon.", s.route(with[0].MZ)}}, nil
	case len(with) == 0 && len(without) > 0 && s.request.Level > 1:
		return &practice.Question{ID: "rearrangement", Ask: ask, Marks: 1, Facts: f, Key: practice.Number{Value: 0},
			Solution: []string{"No hydrogen stands on the third atom from the carbonyl carbon, so nothing can move through a six-membered ring."}}, nil
	}
	return nil, nil
}

// askMeaning asks about a peak that is commonly another ion too.
func askMeaning(_ context.Context, s *subject) (*practice.Question, error) {
	const strong = 20 // % of the base peak
	for _, mz := range []int{43, 77, 57, 71, 29, 85, 105, 91, 45, 59} {
		if s.spectrum.Relative(mz) < strong || len(reading.Common(mz)) < 2 || mz == s.mass() {
			continue
		}
		return formulaAt(s, mz, "two_meanings", fmt.Sprintf("The spectrum of %s, %s, has a strong peak at m/z %d. Write the formula of its ion, with the charge.", s.Name, s.formula.Unicode(), mz))
	}
	return nil, nil
}

func askLoss(_ context.Context, s *subject) (*practice.Question, error) {
	const strong = 20
	for _, p := range s.spectrum.AtLeast(strong).Strongest(4) {
		mz := int(math.Round(p.MZ))
		f := s.facts(cause.LostTo)
		if mz == s.mass() || len(reading.Losses(s.mass()-mz)) < 2 || !s.at(&f, mz) || len(s.prediction.Route(s.prediction.At(mz)[0].ID)) != 1 {
			continue
		}
		lost, ok := s.formula.Minus(f.Ion.WithCharge(0))
		if !ok {
			continue
		}
		return &practice.Question{ID: "loss", Marks: 1, Facts: f, Key: practice.Formula{Formula: lost},
			Ask: fmt.Sprintf("The molecular ion of %s, %s, stands at m/z %d, and a strong peak at m/z %d. Write the formula of the neutral that was lost.",
				s.Name, s.formula.Unicode(), s.mass(), mz),
			Solution: []string{fmt.Sprintf("The difference is %d.", s.mass()-mz), s.route(mz)}}, nil
	}
	return nil, nil
}

func askChargeTwo(_ context.Context, s *subject) (*practice.Question, error) {
	ion := s.formula.WithCharge(2)
	f := s.facts(cause.PeakOf)
	f.Ion = ion
	return &practice.Question{ID: "charge_two", Marks: 1, Facts: f, Key: practice.Number{Value: ion.NominalMZ(), Tolerance: 0.1},
		Ask:      fmt.Sprintf("Electron ionization of %s, %s, also gives molecular ions with two charges. At which m/z do they stand?", s.Name, s.formula.Unicode()),
		Solution: []string{fmt.Sprintf("The ion weighs %d and has two charges: %d / 2 = %g.", ion.NominalMass(), ion.NominalMass(), ion.NominalMZ())}}, nil
}

// askUnknown asks for the structure where every known isomer leaves a strong
// peak unexplained.
func askUnknown(ctx context.Context, s *subject) (*practice.Question, error) {
	f := s.facts(cause.Identity)
	canonical := smiles.Canonical(s.mol)
	for _, c := range s.request.Compounds {
		m, err := smiles.Parse(c.SMILES)
		if err != nil || m.Formula() != s.formula || smiles.Canonical(m) == canonical {
			continue
		}
		lacks, err := s.lacks(ctx, c, m)
		if err != nil {
			return nil, err
		}
		if len(lacks) == 0 {
			return nil, nil // an isomer that explains as much: unfair
		}
		f.Rivals = append(f.Rivals, cause.Rival{SMILES: c.SMILES, Name: c.Name, Lacks: lacks})
		const enough = 6
		if len(f.Rivals) == enough {
			break
		}
	}
	if len(f.Rivals) == 0 {
		return nil, nil
	}
	q := &practice.Question{ID: "unknown", Marks: 3, Facts: f, Key: practice.Structure{Mol: s.mol},
		Ask: fmt.Sprintf("The spectrum is that of a compound %s. Which structure explains it?", s.formula.Unicode())}
	if s.request.Level == 1 {
		q.Marks, q.Key = 1, s.byName(f.Rivals)
		q.Ask = "Which compound explains the spectrum?"
	}
	const told = 4
	for _, p := range s.spectrum.AtLeast(10).Strongest(told) {
		if mz := int(math.Round(p.MZ)); mz != s.mass() {
			if text := s.route(mz); text != "" {
				q.Solution = append(q.Solution, text)
			}
		}
	}
	q.Solution = append(q.Solution, fmt.Sprintf("It is %s.", s.Name))
	for _, r := range f.Rivals {
		q.Solution = append(q.Solution, fmt.Sprintf("%s leaves m/z %d unexplained.", r.Name, r.Lacks[0]))
	}
	return q, nil
}

// lacks are the strong peaks of the subject that another structure doesn't
// explain.
func (s *subject) lacks(ctx context.Context, c Compound, m *mol.Mol) ([]int, error) {
	other, err := newSubject(ctx, c, m, s.request)
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	if err != nil {
		return nil, nil
	}
	const strong, shown = 15, 1.5 // % of the base peak
	var out []int
	for _, p := range s.spectrum.AtLeast(strong).Strongest(8) {
		if mz := int(math.Round(p.MZ)); other.spectrum.Relative(mz) < shown {
			out = append(out, mz)
		}
	}
	return out, nil
}

// byName offers the compound beside isomers and one that is two hydrogens off.
func (s *subject) byName(rivals []cause.Rival) practice.Choice {
	options := []practice.Option{{Text: s.Name, Right: true, Because: "It explains every strong peak."}}
	const isomers = 3
	for _, r := range rivals[:min(isomers, len(rivals))] {
		options = append(options, practice.Option{Text: r.Name, Cause: cause.Unchecked, Because: fmt.Sprintf("It is an isomer, but leaves m/z %d unexplained.", r.Lacks[0])})
	}
	two := chem.MustFormula("H2")
	for _, c := range s.request.Compounds {
		m, err := smiles.Parse(c.SMILES)
		if err != nil {
			continue
		}
		f := m.Formula()
		if less, ok := s.formula.Minus(two); f == s.formula.Plus(two) || ok && f == less {
			options = append(options, practice.Option{Text: c.Name, Cause: cause.MassDiffers, Because: fmt.Sprintf("Its molecular ion would stand at m/z %d.", f.NominalMass())})
			break
		}
	}
	slices.SortStableFunc(options, func(a, b practice.Option) int { return strings.Compare(a.Text, b.Text) })
	return practice.Choice{Options: practice.Letters(options)}
}
