package check

import (
	"math"
	"slices"
	"strings"

	"ionwright/chem"
	"ionwright/lesson/diag"
	"ionwright/lesson/eval"
	"ionwright/lesson/load"
	"ionwright/lesson/source"
	"ionwright/practice"
	"ionwright/practice/answer"
	"ionwright/practice/cause"
)

// peaksKey is a list of m/z.
func (c *checker) peaksKey(q *Question) (practice.Key, error) {
	b := q.Source
	compound := c.compound(b.About)
	if b.About.IsZero() {
		c.add(diag.New(diag.MissingKey, b.Place(), "this question needs \"about\": the compound whose peaks are picked"))
	}
	r, ok, err := c.compute(b.Answer)
	if err != nil || !ok {
		return nil, err
	}
	q.Answer = r
	var key practice.Peaks
	list, isList := r.Value.([]any)
	for _, v := range list {
		x, ok := eval.Result{Value: v}.Number()
		if !ok || x != math.Trunc(x) || x < 1 {
			isList = false
			break
		}
		key.MZ = append(key.MZ, int(x))
	}
	if !isList || len(key.MZ) == 0 {
		c.add(diag.New(diag.QuestionAnswer, b.Answer.Place(), "the answer %q must be a list of m/z, but is %s", b.Answer.Value, r.Text.Message()).
			Suggesting("write for example [43, 58], or strongest(...)"))
		return nil, nil
	}
	if compound == nil {
		return nil, nil
	}
	for _, mz := range key.MZ {
		if compound.Spectrum.Relative(mz) == 0 {
			c.add(diag.New(diag.NoPeak, b.Answer.Place(), "the spectrum of %s (%s) has no peak at m/z %d", compound.Key, compound.Origin(), mz).
				Suggesting("ask for peaks that it has"))
			return nil, nil
		}
	}
	return key, nil
}

// alsoRight is the share of a peak's strongest ion from which another ion at
// the same m/z is as good an assignment.
const alsoRight = 0.1

// ionsAt are the ions that the engine gives a peak, strongest first.
func ionsAt(compound *load.Compound, mz int) []chem.Formula {
	if compound == nil || compound.Prediction == nil {
		return nil
	}
	var out []chem.Formula
	all := compound.Prediction.At(mz)
	for _, ion := range all {
		if ion.Abundance >= alsoRight*all[0].Abundance && !slices.Contains(out, ion.Formula) {
			out = append(out, ion.Formula)
		}
	}
	return out
}

func (c *checker) assignKey(b *source.Question) practice.Key {
	compound := c.compound(b.About)
	if compound == nil || len(b.Peaks) == 0 {
		return nil
	}
	var key practice.Assign
	for _, t := range b.Peaks {
		mz, ok := c.wholeMZ(t)
		if !ok {
			return nil
		}
		ions := ionsAt(compound, mz)
		if len(ions) == 0 {
			c.add(diag.New(diag.NoIon, t.Place(), "the engine knows no ion of %s at m/z %d", compound.Key, mz).
				Suggesting("ask about peaks that have a route"))
			return nil
		}
		key.Rows = append(key.Rows, practice.Assigned{MZ: mz, Ions: ions})
	}
	return key
}

// phases are the words for the parts of reading a spectrum.
var phases = []struct {
	name  string
	phase cause.Phase
}{{"constrain", cause.Constrain}, {"predict", cause.Predict}, {"check", cause.Verify}}

func (c *checker) orderKey(b *source.Question) practice.Key {
	const most = 26
	if n := len(b.Steps); n < 2 || n > most {
		if n > 0 {
			c.add(diag.New(diag.QuestionAnswer, b.Place(), "this question puts %d steps in order; there must be 2 to %d", n, most))
		}
		return nil
	}
	var steps []practice.Step
	for _, s := range b.Steps {
		step := practice.Step{Text: c.words(s.Says)}
		if !s.Phase.IsZero() {
			i := slices.IndexFunc(phases[:], func(p struct {
				name  string
				phase cause.Phase
			}) bool {
				return p.name == s.Phase.Value
			})
			if i < 0 {
				c.add(diag.New(diag.UnknownName, s.Phase.Place(), "there is no phase %q", s.Phase.Value).
					Suggesting("the phases are constrain, predict and check"))
				return nil
			}
			step.Phase = phases[i].phase
		}
		if slices.ContainsFunc(steps, func(other practice.Step) bool { return other.Text == step.Text }) {
			c.add(diag.New(diag.QuestionAnswer, b.Place(), "the step %q stands here twice, so no order is right", step.Text))
			return nil
		}
		steps = append(steps, step)
	}
	return practice.Order{Steps: practice.Shuffled(steps)}
}

func (c *checker) reasonsKey(b *source.Question) practice.Key {
	if len(b.Clues) == 0 {
		return nil // reported as missing
	}
	key := practice.Reasons{Needs: b.Needs}
	for _, clue := range b.Clues {
		key.Clues = append(key.Clues, practice.Clue{Says: c.words(clue.Says), Any: phrases(clue.Any)})
	}
	if key.Needs == 0 {
		key.Needs = len(key.Clues)
	}
	for _, row := range b.Reject {
		if len(row.Any) > 0 {
			key.Reject = append(key.Reject, practice.Rejected{Any: phrases(row.Any), Because: c.words(row.Because), Cause: c.mistake(row.Mistake)})
		}
	}
	if key.Needs > len(key.Clues) {
		c.add(diag.New(diag.QuestionScheme, b.Place(), "this question needs %d reasons, but has %d clues", key.Needs, len(key.Clues)))
		return nil
	}
	for i, clue := range key.Clues {
		if len(clue.Any) == 0 {
			c.add(diag.New(diag.QuestionScheme, b.Clues[i].Says.Text.Place(), "no phrase is given by which this clue would be recognised").
				Suggesting("write any: [a phrase, another way to say it]"))
			return nil
		}
	}
	return key
}

func phrases(list []source.Text) []string {
	var out []string
	for _, t := range list {
		if len(answer.Words(t.Value)) > 0 {
			out = append(out, t.Value)
		}
	}
	return out
}

func (c *checker) arrowsKey(b *source.Question) (practice.Key, error) {
	drawn := b.Drawn
	if len(b.Arrows) == 0 || drawn.IsZero() {
		c.add(diag.New(diag.MissingKey, b.Place(), "this question needs \"drawn\", a structure, and \"arrows\""))
		return nil, nil
	}
	m := c.structureAt(drawn)
	if m == nil {
		return nil, nil
	}
	var way []answer.Arrow
	for _, t := range b.Arrows {
		a, err := answer.ParseArrow(t.Value)
		if err != nil {
			c.add(diag.New(diag.QuestionAnswer, t.Place(), "%s", strings.TrimPrefix(err.Error(), "reading ")))
			return nil, nil
		}
		for _, n := range []int{a.From.A, a.From.B, a.To.A, a.To.B} {
			if n > m.NumAtoms() {
				c.add(diag.New(diag.QuestionAnswer, t.Place(), "the arrow %q names atom %d, and %q has %d atoms", t.Value, n, drawn.Value, m.NumAtoms()))
				return nil, nil
			}
		}
		way = append(way, a)
	}
	return practice.Arrows{Drawn: m, Ways: [][]answer.Arrow{way}}, nil
}
