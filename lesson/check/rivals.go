package check

import (
	"context"
	"encoding/json"
	"fmt"
	"strings"

	"ionwright/lesson/cache"
	"ionwright/lesson/diag"
	"ionwright/lesson/load"
	"ionwright/practice/rival"
)

// Rivals are the structures that fit an unknown of the lesson as well as its
// answer does.
type Rivals struct {
	Name     string // of the compound
	Accepted string // the author's reason for accepting them
	Same     int    // how many can't be told apart
	Close    int    // how many are hard to tell apart
	Says     string // the outcome, in a sentence
	Rows     []RivalRow
	Facts    []string // each list of facts that would leave one answer
	Notes    []string // what wasn't looked at
}

// RivalRow is one rival.
type RivalRow struct {
	SMILES, Verdict string
	Peaks           []string // that decide
}

// rivals looks for the rivals of every unknown. An error is only ever the
// context's.
func (c *checker) rivals() error {
	for _, compound := range c.report.Lesson.Compounds {
		s := compound.Source
		if s.Unknown.IsZero() {
			continue
		}
		found, err := rivalsOf(c.ctx, compound)
		if c.ctx.Err() != nil {
			return c.ctx.Err()
		}
		if err != nil {
			c.add(diag.New(diag.UnknownUnchecked, s.Unknown.Place(), "whether %s is the only answer can't be said: %v", compound.Key, err))
			continue
		}
		found.Name, found.Accepted = compound.Name, s.Accept.Trimmed().Value
		c.report.Rivals = append(c.report.Rivals, found)
		if found.Same == 0 || found.Accepted != "" {
			continue
		}
		d := diag.New(diag.AmbiguousUnknown, s.Unknown.Place(), "%s, given by %s: %s", compound.Key, s.Unknown.Value, found.Says)
		for _, row := range found.Rows {
			if row.Verdict == rival.Same.String() {
				d = d.Noted("%s %s", row.SMILES, row.Verdict)
			}
		}
		if len(found.Facts) > 0 {
			d = d.Suggesting("tell students besides: %s; or accept the rivals with a reason, accept: ...", found.Facts[0])
		} else {
			d = d.Suggesting("accept the rivals with a reason, accept: ..., or choose another compound")
		}
		c.add(d)
	}
	return nil
}

// rivalsOf looks for the rivals of a compound, or takes what an earlier look
// at the same spectrum, structure and information found.
func rivalsOf(ctx context.Context, compound *load.Compound) (*Rivals, error) {
	p := rival.Problem{Answer: compound.Mol, Spectrum: compound.Spectrum,
		FormulaGiven: compound.Source.Unknown.Value == "formula", MassGiven: compound.Source.Unknown.Value == "mass"}
	if !compound.Measured {
		p.Spectrum.Peaks = nil // the one computed for the answer
	}
	for _, g := range compound.Source.Known {
		p.Groups = append(p.Groups, g.Trimmed().Value)
	}
	kept := cache.Of(ctx)
	key := kept.Key("rivals", compound.SMILES, compound.Source.Unknown.Value, p.Spectrum.Notation(), strings.Join(p.Groups, "\n"))
	if text, ok := kept.Get(key); ok {
		var r Rivals
		if json.Unmarshal(text, &r) == nil {
			return &r, nil
		}
	}
	found, err := rival.Find(ctx, p, rival.Options{})
	if err != nil {
		return nil, err
	}
	r := rivalsIn(found)
	if text, err := json.Marshal(r); err == nil {
		kept.Put(key, text)
	}
	return r, nil
}

func rivalsIn(found *rival.Result) *Rivals {
	r := &Rivals{Same: found.Same, Close: found.Close, Notes: found.Notes, Says: "no structure was found that would be hard to tell apart"}
	switch found.Level() {
	case rival.Same:
		r.Says = fmt.Sprintf("%d other structures can't be told apart by the spectrum", found.Same)
		if found.Same == 1 {
			r.Says = "another structure can't be told apart by the spectrum"
		}
	case rival.Close:
		r.Says = fmt.Sprintf("%d other structures are hard to tell apart", found.Close)
		if found.Close == 1 {
			r.Says = "another structure is hard to tell apart"
		}
	}
	const most = 12
	for _, x := range found.Rivals[:min(most, len(found.Rivals))] {
		row := RivalRow{SMILES: x.SMILES, Verdict: x.Verdict.String()}
		for _, p := range x.Deciding {
			row.Peaks = append(row.Peaks, p.Sentence())
		}
		r.Rows = append(r.Rows, row)
	}
	for _, facts := range [][]rival.Fact{found.Facts, found.CloseFacts} {
		var words []string
		for _, f := range facts {
			words = append(words, f.Says)
		}
		if text := strings.Join(words, ", and "); text != "" && (len(r.Facts) == 0 || r.Facts[0] != text) {
			r.Facts = append(r.Facts, text)
		}
	}
	return r
}
