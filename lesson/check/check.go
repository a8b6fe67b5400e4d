// Package check computes everything a lesson says and finds what is wrong
// with it: claims that don't hold, ideas without a question, figures nobody
// mentions, clues without their alternatives. For most uses call [Check].
//
// The report it gives is what a pack is built from; the package prints
// nothing.
package check

import (
	"context"
	"io/fs"

	"github.com/yuin/goldmark/ast"

	"ionwright/lesson/diag"
	"ionwright/lesson/eval"
	"ionwright/lesson/load"
	"ionwright/lesson/source"
	"ionwright/practice"
)

// Report is a checked lesson with everything in it computed.
type Report struct {
	Source *source.Lesson
	Lesson *load.Lesson
	// Values and Checked hold the results of the computed prose.
	Values  map[*source.Value]eval.Result
	Checked map[*source.Checked]eval.Result
	// The lesson's parts in reading order; numbers begin with 1.
	Claims    []*Claim
	Figures   []*Figure
	Questions []*Question
	Rivals    []*Rivals // of each unknown
	Diags     diag.List
}

// Claim is a claim that was computed.
type Claim struct {
	Source *source.Claim
	Number int
	Holds  bool
	Parts  []eval.Part // what its comparisons came to
	From   []string    // what they came from
}

// Figure is a figure, a structure, a sweep, a drawing of paths, a mechanism or
// a map.
type Figure struct {
	ID        string
	Number    int
	Spectrum  *source.Figure // one of Spectrum, Structure, Sweep, Paths, Mechanism and Map is set
	Structure *source.Structure
	Sweep     *source.Sweep
	Paths     *source.Paths
	Mechanism *source.Mechanism
	Map       *source.Map
	Compound  *load.Compound   // of all but paths
	With      *load.Instrument // of a sweep and of paths
	MZ        []int            // labelled peaks of a figure; ions of paths; the peak of a mechanism
	Against   *load.Compound   // of a figure: whose spectrum hangs below; nil: none
	Beside    []int            // of a figure: the peaks with their ions drawn beside them
	Losses    [][2]int         // of a figure: the m/z with a bracket between them
	Zoom      [2]int           // of a figure: the part shown close up; zero: none
	Short     []string         // of a structure: the groups that are abbreviated
	From, To  int              // m/z range of a sweep; 0: the whole spectrum
}

// Question is a question with its computed answer.
type Question struct {
	Source *source.Question
	Number int
	Answer eval.Result // of the expression "answer", where the kind has one
	// Practice is the question as it is set, solved and marked; nil where it
	// couldn't be computed, which is reported.
	Practice *practice.Question
}

// Practice is the lesson's questions as they are set, solved and marked.
func (r *Report) Practice() []*practice.Question {
	var out []*practice.Question
	for _, q := range r.Questions {
		if q.Practice != nil {
			out = append(out, q.Practice)
		}
	}
	return out
}

// Check reads, loads and computes the lesson in fsys. The report is nil where
// the source can't be read at all; otherwise it holds what could be computed,
// and its Diags say what couldn't and what is wrong. An error is only ever
// the context's or a mistake in the program.
func Check(ctx context.Context, fsys fs.FS) (*Report, diag.List, error) {
	src, diags := source.Parse(fsys)
	if src == nil {
		return nil, diags, nil
	}
	l, more, err := load.Load(ctx, fsys, src)
	if err != nil {
		return nil, nil, err
	}
	r := &Report{
		Source: src, Lesson: l, Diags: append(diags, more...),
		Values: map[*source.Value]eval.Result{}, Checked: map[*source.Checked]eval.Result{},
	}
	c := &checker{ctx: ctx, report: r, outline: outlineOf(src), figures: map[string]bool{}, listed: map[listing]bool{}}
	c.collect()
	if c.env, err = eval.New(l, c.figureNumbers()); err != nil {
		return nil, nil, err
	}
	if err := c.computeAll(); err != nil {
		return nil, nil, err
	}
	c.rights()
	c.structure()
	c.warn()
	c.prose()
	c.recall()
	c.reading()
	if err := c.rivals(); err != nil {
		return nil, nil, err
	}
	if err := c.audiences(fsys); err != nil {
		return nil, nil, err
	}
	r.Diags.Sort()
	return r, r.Diags, nil
}

// checker is one check under way.
type checker struct {
	ctx     context.Context
	report  *Report
	outline outline
	env     *eval.Env

	figures map[string]bool  // ids referred to
	part    int              // the part of the lesson being computed; anyPart for what students don't read there
	listed  map[listing]bool // the alternatives that are listed
	clues   []clue           // what was given one formula, where
}

// anyPart stands for all parts of the lesson: claims, answers, ideas and hooks
// belong to none.
const anyPart = -1

// listing says that a part of the lesson lists what else an ion or a loss
// could be.
type listing struct {
	part int // the number of headings of level 1 and 2 before it
	loss bool
	mass int // m/z of the ion, or mass of the loss
}

// clue is a place of the lesson at which an ion or loss is given one formula,
// or a molecular ion is spoken of.
type clue struct {
	at    diag.Span
	part  int
	trace eval.Trace
}

func (c *checker) add(d diag.Diagnostic) { c.report.Diags.Add(d) }

// collect numbers the figures, questions and claims and looks up what they
// name.
func (c *checker) collect() {
	r := c.report
	ids := map[string]bool{}
	c.report.Source.Walk(func(_ *source.Prose, n ast.Node) {
		f, ok := n.(*source.Fenced)
		if !ok {
			return
		}
		switch b := f.Block.(type) {
		case *source.Claim:
			r.Claims = append(r.Claims, &Claim{Source: b, Number: len(r.Claims) + 1})
		case *source.Question:
			if c.unique(ids, b.ID) {
				r.Questions = append(r.Questions, &Question{Source: b, Number: len(r.Questions) + 1})
			}
		case *source.Figure:
			if c.unique(ids, b.ID) {
				r.Figures = append(r.Figures, c.figure(b, len(r.Figures)+1))
			}
		case *source.Sweep:
			if c.unique(ids, b.ID) {
				fig := &Figure{ID: b.ID.Value, Number: len(r.Figures) + 1, Sweep: b, Compound: c.compound(b.Ions), With: c.instrument(b.Instrument)}
				fig.From, fig.To = c.sweepRange(b)
				c.counting(b)
				c.reachable(fig.With, b.Field, b.Place())
				r.Figures = append(r.Figures, fig)
			}
		case *source.Paths:
			if c.unique(ids, b.ID) {
				fig := &Figure{ID: b.ID.Value, Number: len(r.Figures) + 1, Paths: b, With: c.instrument(b.Instrument)}
				c.reachable(fig.With, b.Field, b.Place())
				for _, t := range b.Ions {
					if mz, ok := c.wholeMZ(t); ok {
						fig.MZ = append(fig.MZ, mz)
					}
				}
				r.Figures = append(r.Figures, fig)
			}
		case *source.Structure:
			if c.unique(ids, b.ID) {
				r.Figures = append(r.Figures, c.drawnStructure(b, len(r.Figures)+1))
			}
		case *source.Mechanism:
			if c.unique(ids, b.ID) {
				r.Figures = append(r.Figures, c.mechanism(b, len(r.Figures)+1))
			}
		case *source.Map:
			if c.unique(ids, b.ID) {
				r.Figures = append(r.Figures, &Figure{ID: b.ID.Value, Number: len(r.Figures) + 1, Map: b, Compound: c.computed(b.Compound)})
			}
		case *source.InstrumentBlock:
			c.instrument(b.Show)
		}
	})
}

// unique reports ids that are taken; a missing one is reported elsewhere.
func (c *checker) unique(ids map[string]bool, id source.Text) bool {
	if id.IsZero() {
		return false
	}
	if ids[id.Value] {
		c.add(diag.New(diag.Duplicate, id.Place(), "the id %q is taken", id.Value))
		return false
	}
	ids[id.Value] = true
	return true
}

func (c *checker) figureNumbers() map[string]int {
	numbers := map[string]int{}
	for _, f := range c.report.Figures {
		numbers[f.ID] = f.Number
	}
	return numbers
}
