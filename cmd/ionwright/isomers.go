package main

import (
	"context"
	"errors"
	"fmt"
	"regexp"
	"runtime"
	"strconv"
	"strings"
	"time"

	"ionwright/chem"
	"ionwright/isomer"
	"ionwright/lesson/diag"
	"ionwright/mol/groups"
	"ionwright/mol/smarts"
)

type isomersIn struct {
	Formula string `json:"formula"`
}

type isomersLine struct {
	Count  uint64   `json:"count"`
	SMILES []string `json:"smiles,omitzero"`
}

// isomersResult is what "isomers --json" writes.
type isomersResult struct {
	Formula string `json:"formula"`
	// Count is how many there are; with a limit, how many were listed.
	Count uint64 `json:"count"`
	// LowestValences is how many have every atom at its lowest valence.
	LowestValences uint64         `json:"lowestValences,omitzero"`
	Complete       bool           `json:"complete"`
	Resume         string         `json:"resume,omitempty"` // where to go on
	SMILES         []string       `json:"smiles,omitzero"`
	Stereoisomers  map[string]int `json:"stereoisomers,omitempty"` // by SMILES
	Stereo         int            `json:"stereo,omitempty"`        // their sum
}

// repeated is a flag that may stand several times.
type repeated []string

func (r *repeated) String() string     { return strings.Join(*r, ", ") }
func (r *repeated) Set(s string) error { *r = append(*r, s); return nil }

// mostListed is how many isomers an answer in JSON holds at most.
const mostListed = 5_000_000

type isomersFlags struct {
	count, stereo bool
	limit         int
	workers       int
	resume        string
	options       isomer.Options
}

func runIsomers(ctx context.Context, c *call) error {
	var f isomersFlags
	var with, without repeated
	var rings, sizes string
	c.flags.BoolVar(&f.count, "count", false, "count only")
	c.flags.IntVar(&f.limit, "limit", 0, "end after `N` isomers")
	c.flags.BoolVar(&f.options.LowestValences, "lowest", false, "lowest valences only: no nitro, N-oxide, sulfone and other groups drawn with charges or more bonds")
	c.flags.BoolVar(&f.options.Kekule, "kekule", false, "keep the Kekule forms of an aromatic system apart, as published counts do")
	c.flags.StringVar(&rings, "rings", "", "`NUMBER` of rings: 1, 0-2 or 1-")
	c.flags.StringVar(&sizes, "ring-sizes", "", "`SIZES` that rings may have: 6, 5-7 or 5-")
	c.flags.Var(&with, "with", "a group by `NAME` or SMARTS, at least once or as often as it says: alcohol, ketone=0, methyl=2-3 (may be repeated)")
	c.flags.Var(&without, "without", "leave out the unstable pattern of that `NAME`, or all (may be repeated; --without list lists them)")
	c.flags.BoolVar(&f.stereo, "stereo", false, "count the stereoisomers of each")
	c.flags.IntVar(&f.workers, "workers", runtime.NumCPU(), "`CORES` to use")
	c.flags.StringVar(&f.resume, "resume", "", "go on at the `TOKEN` that a stopped run gave")
	streamed := c.flags.Bool("stream", false, "read {\"id\",\"formula\"} a line")
	args, err := c.parse(0, 1)
	if err != nil {
		return err
	}
	if len(without) == 1 && without[0] == "list" {
		for _, i := range isomer.Instabilities() {
			c.print("%-55s %-35s %s", i.Name, i.Example, i.Why)
		}
		return nil
	}
	f.options.Without = without
	if f.options.Rings, err = rangeOf(rings); err != nil {
		return err
	}
	if f.options.RingSizes, err = rangeOf(sizes); err != nil {
		return err
	}
	for _, text := range with {
		o, err := occurs(text)
		if err != nil {
			return err
		}
		f.options.Occurs = append(f.options.Occurs, o)
	}
	if *streamed {
		return stream(ctx, c, func(ctx context.Context, in isomersIn) (any, error) {
			r, err := isomers(ctx, c, in.Formula, f, nil)
			return isomersLine{r.Count, r.SMILES}, err
		})
	}
	if len(args) == 0 {
		return wrongUsage("a formula is missing")
	}
	var each func(string)
	if !c.json && !f.count {
		each = func(text string) { c.print("%s", text) }
	}
	r, err := isomers(ctx, c, args[0], f, each)
	if r.Resume != "" && !errors.Is(err, errLimit) {
		fmt.Fprintf(c.errOut, "stopped after %d isomers\nhint: go on with --resume %s\n", r.Count, r.Resume)
	}
	if err != nil && !errors.Is(err, errLimit) && r.Resume == "" {
		return err
	}
	if c.json {
		if err := c.printJSON(r); err != nil {
			return err
		}
	} else {
		c.print("%s", r.sentence())
	}
	if err != nil && !errors.Is(err, errLimit) {
		return errReported
	}
	return nil
}

// sentence says how many isomers there are.
func (r isomersResult) sentence() string {
	text := fmt.Sprintf("%s: %d isomers", r.Formula, r.Count)
	if r.Count == 1 {
		text = fmt.Sprintf("%s: 1 isomer", r.Formula)
	}
	if !r.Complete {
		text += " and there are more; go on with --resume " + r.Resume
	}
	if r.LowestValences != 0 && r.LowestValences != r.Count {
		text += fmt.Sprintf(", of which %d have every atom at its lowest valence", r.LowestValences)
	}
	if r.Stereo > 0 {
		text += fmt.Sprintf(", %d with stereoisomers", r.Stereo)
	}
	return text
}

var errLimit = errors.New("the limit is reached")

// isomers counts or lists the isomers of a formula; each, where it isn't nil,
// gets them one by one in place of the list.
func isomers(ctx context.Context, c *call, formula string, f isomersFlags, each func(string)) (isomersResult, error) {
	parsed, err := chem.ParseFormula(formula)
	if err != nil {
		return isomersResult{}, err
	}
	s, err := isomer.New(parsed, f.options)
	if err != nil {
		return isomersResult{}, err
	}
	r := isomersResult{Formula: parsed.String()}
	if f.count && f.limit == 0 && !f.stereo && f.resume == "" {
		if r.Count, err = s.Count(ctx, f.workers); err != nil {
			return r, err
		}
		r.Complete = true
		if !f.options.LowestValences {
			plain := f.options
			plain.LowestValences = true
			if s, err = isomer.New(parsed, plain); err == nil {
				r.LowestValences, err = s.Count(ctx, f.workers)
			}
		}
		return r, err
	}
	runner := isomer.Runner{Workers: f.workers}
	if f.resume != "" {
		if runner.From, err = s.ParseToken(f.resume); err != nil {
			return r, err
		}
	}
	if !f.count && each == nil {
		r.SMILES = []string{}
	}
	type made struct {
		text   string
		stereo int
		err    error
	}
	newWork := func() func(*isomer.Structure) (made, bool) {
		return func(st *isomer.Structure) (made, bool) {
			m := st.Mol()
			one := made{text: st.SMILES()}
			if f.stereo {
				one.stereo, one.err = isomer.Stereoisomers(m)
			}
			return one, true
		}
	}
	progress := newProgress(c, time.Now())
	at := runner.From
	err = isomer.Run(ctx, s, runner, newWork, func(one made, after isomer.Position) error {
		if one.err != nil {
			return one.err
		}
		r.Count++
		at = after
		text := one.text
		if f.stereo {
			r.Stereo += one.stereo
			text += fmt.Sprintf("\t%d", one.stereo)
		}
		switch {
		case f.count:
		case each != nil:
			each(text)
		case len(r.SMILES) == mostListed:
			return fmt.Errorf("there are more than %d isomers: count them, set a limit, or list them without JSON", mostListed)
		default:
			r.SMILES = append(r.SMILES, one.text)
			if f.stereo {
				if r.Stereoisomers == nil {
					r.Stereoisomers = map[string]int{}
				}
				r.Stereoisomers[one.text] = one.stereo
			}
		}
		progress.tell(fmt.Sprintf("%d isomers", r.Count))
		if f.limit > 0 && r.Count == uint64(f.limit) {
			return errLimit
		}
		return nil
	})
	progress.end()
	r.Complete = err == nil
	if errors.Is(err, errLimit) || err != nil && ctx.Err() != nil {
		r.Resume = s.Token(at)
	}
	return r, err
}

var rangeForm = regexp.MustCompile(`^(\d{1,4})(-(\d{0,4}))?$`)

// rangeOf reads 2, 1-3 or 1-; nothing is nil.
func rangeOf(text string) (*isomer.Range, error) {
	if text == "" {
		return nil, nil
	}
	m := rangeForm.FindStringSubmatch(text)
	if m == nil {
		return nil, wrongUsage("%q isn't a number or a range such as 1-3 or 2-", text)
	}
	least, _ := strconv.Atoi(m[1])
	r := isomer.Range{Least: least, Most: least}
	if m[2] != "" {
		r.Most = -1
		if m[3] != "" {
			r.Most, _ = strconv.Atoi(m[3])
		}
	}
	return &r, nil
}

var occursForm = regexp.MustCompile(`^(.*?)=(\d{1,4}(?:-\d{0,4})?)$`)

// occurs reads a group by its name or SMARTS with how often it may occur.
func occurs(text string) (isomer.Occurs, error) {
	name, times := text, &isomer.Range{Least: 1, Most: -1}
	if m := occursForm.FindStringSubmatch(text); m != nil {
		r, err := rangeOf(m[2])
		if err != nil {
			return isomer.Occurs{}, err
		}
		name, times = m[1], r
	}
	if p, ok := groups.Pattern(name); ok {
		return isomer.Occurs{Pattern: p, Range: *times}, nil
	}
	p, err := smarts.Compile(name)
	if err != nil {
		var names []string
		for _, g := range groups.All() {
			names = append(names, g.Name)
		}
		if near, ok := diag.Nearest(name, names); ok {
			return isomer.Occurs{}, wrongUsage("%q is no group and no SMARTS; did you mean %q?", name, near)
		}
		return isomer.Occurs{}, wrongUsage("%q is no group, and as SMARTS: %v", name, err)
	}
	return isomer.Occurs{Pattern: p, Range: *times}, nil
}
