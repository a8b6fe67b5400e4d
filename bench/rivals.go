package main

import (
	"context"
	"fmt"
	"io"
	"runtime"
	"strings"
	"text/tabwriter"
	"time"

	"ionwright/internal/witness"
	"ionwright/mol"
	"ionwright/mol/smarts"
	"ionwright/mol/smiles"
	"ionwright/practice/rival"
	"ionwright/reading/infer"
	"ionwright/spectrum"
)

// unknown is a compound of a first course with what students are told besides
// its formula and spectrum.
type unknown struct{ smiles, group string }

// unknowns have four to nine carbon atoms and a measured spectrum each.
var unknowns = []unknown{
	{"CCCC(C)=O", "ketone"}, {"CCC(=O)CC", "ketone"}, {"CCCCC=O", "aldehyde"}, {"CCCCC(C)=O", "ketone"}, {"CC(=O)CC(C)C", "ketone"},
	{"CCC(C)O", "alcohol"}, {"CCCCO", "alcohol"}, {"CCCC(C)O", "alcohol"}, {"CCC(O)CC", "alcohol"}, {"CCOCC", "ether"},
	{"CCCCN", "primary amine"}, {"CCNCC", "aliphatic amine"}, {"CCC(=O)OC", "ester"}, {"CCCC(=O)OC", "ester"}, {"CCCOC(C)=O", "ester"},
	{"CCCC(=O)O", "carboxylic acid"}, {"CCc1ccccc1", ""}, {"Cc1ccc(C)cc1", ""}, {"Cc1ccc(O)cc1", "phenol"}, {"COc1ccccc1", "ether"},
	{"CCCc1ccccc1", ""}, {"CC(C)c1ccccc1", ""}, {"CC(=O)c1ccccc1", "ketone"}, {"CCCCCl", ""}, {"CCCCCC", ""},
	{"CCCCCC=O", "aldehyde"}, {"CCOC(=O)CC", "ester"}, {"CCCCOCCCC", "ether"},
}

// rivalRecall prints for each unknown how long its rivals take with the usual
// limits, and which rivals these miss: those found when neither clues nor the
// quick look narrow the search and every structure is computed, or an even
// sample where there are many. A rival missed either speaks against a clue that
// the peaks were taken to give beyond doubt, or the quick look passed it over.
// Where clues narrowed the search, the last column tells what the quick look by
// itself would have kept of the rivals that agree with them.
func rivalRecall(ctx context.Context, out io.Writer) error {
	measured, err := measuredUnknowns()
	if err != nil {
		return err
	}
	fmt.Fprintf(out, "rivals: formula, group and measured spectrum given, %d cores; then all structures computed, or an even sample, without clues and quick look\n", runtime.NumCPU())
	table := tabwriter.NewWriter(out, 16, 0, 2, ' ', 0)
	fmt.Fprintln(table, "answer\tgroup\tseconds\tcomputed\tsame\tclose\tpassed over\tall\tsame or close\tagainst clues\tpassed over\tkept by the quick look alone\tsuch as\t")
	var sum missed
	longest := 0.0
	for _, u := range unknowns {
		given, ok := measured[u.smiles]
		if !ok {
			fmt.Fprintf(table, "%s\t%s\tno measured spectrum\n", u.smiles, u.group)
			continue
		}
		p, err := u.problem(given)
		if err != nil {
			return err
		}
		start := time.Now()
		usual, err := rival.Find(ctx, p, rival.Options{})
		if err != nil {
			return err
		}
		seconds := time.Since(start).Seconds()
		longest = max(longest, seconds)
		whole, kept := usual, ""
		if !usual.Complete || len(usual.Clues) > 0 {
			const sample = 600
			if whole, err = rival.Find(ctx, p, rival.Options{Most: 2 * sample, Look: sample, WithoutClues: true}); err != nil {
				return err
			}
			alone, err := rival.Find(ctx, p, rival.Options{WithoutClues: true})
			if err != nil {
				return err
			}
			n := 0
			for _, r := range usual.Rivals[:usual.Same+usual.Close] {
				if named(alone, r.SMILES) {
					n++
				}
			}
			kept = fmt.Sprintf("%d of %d", n, usual.Same+usual.Close)
			sum.kept, sum.known = sum.kept+n, sum.known+usual.Same+usual.Close
		}
		one, err := compare(usual, whole)
		if err != nil {
			return err
		}
		sum.there, sum.clues, sum.quick = sum.there+one.there, sum.clues+one.clues, sum.quick+one.quick
		fmt.Fprintf(table, "%s\t%s\t%.1f\t%d\t%d\t%d\t%d\t%.0f\t%.0f\t%.0f\t%.0f\t%s\t%s\n", u.smiles, u.group, seconds, usual.Computed, usual.Same, usual.Close, usual.Passed,
			float64(whole.Formulas[0].Structures)/whole.Formulas[0].Share, one.there, one.clues, one.quick, kept, strings.Join(one.such, " "))
		if err := table.Flush(); err != nil {
			return err
		}
	}
	fmt.Fprintf(out, "of about %.0f rivals that can't or hardly be told apart, %.0f are against a clue taken as sure and %.0f are passed over in the quick look after these; of %d that agree with the clues, where clues were taken, the quick look alone keeps %d; the longest search took %.1f s\n",
		sum.there, sum.clues, sum.quick, sum.known, sum.kept, longest)
	return table.Flush()
}

// missed are numbers of rivals that can't or hardly be told apart.
type missed struct {
	there        float64
	clues, quick float64  // missed, by why
	kept, known  int      // of those that agree with the clues: by the quick look alone, and all
	such         []string // a few of the missed ones
}

func compare(usual, whole *rival.Result) (missed, error) {
	weight := 1 / whole.Formulas[0].Share
	var m missed
	for _, r := range whole.Rivals[:whole.Same+whole.Close] {
		m.there += weight
		if named(usual, r.SMILES) {
			continue
		}
		against, err := againstClues(usual, r.Mol)
		if err != nil {
			return m, err
		}
		if against {
			m.clues += weight
		} else {
			m.quick += weight
		}
		const few = 3
		if len(m.such) < few {
			m.such = append(m.such, fmt.Sprintf("%s (%.2f)", r.SMILES, r.Likeness))
		}
	}
	return m, nil
}

func againstClues(usual *rival.Result, m *mol.Mol) (bool, error) {
	for _, clue := range usual.Clues {
		name, absent := strings.CutPrefix(clue, "no ")
		for _, g := range infer.Groups {
			if g.Name() != name {
				continue
			}
			p, err := smarts.Compile(g.SMARTS())
			if err != nil {
				return false, err
			}
			if p.Match(m) == absent {
				return true, nil
			}
		}
	}
	return false, nil
}

func (u unknown) problem(s spectrum.Spectrum) (rival.Problem, error) {
	m, err := smiles.Parse(u.smiles)
	if err != nil {
		return rival.Problem{}, err
	}
	p := rival.Problem{Answer: m, Spectrum: s, FormulaGiven: true}
	if u.group != "" {
		p.Groups = []string{u.group}
	}
	return p, nil
}

func named(r *rival.Result, text string) bool {
	for _, x := range r.Rivals {
		if x.SMILES == text && x.Verdict > rival.Apart {
			return true
		}
	}
	return false
}

// measuredUnknowns finds the first measured spectrum at the usual energy of each unknown.
func measuredUnknowns() (map[string]spectrum.Spectrum, error) {
	records, err := sharedRecords("train.jsonl.gz")
	if err != nil {
		return nil, err
	}
	by := map[string]witness.Record{}
	for _, r := range records {
		const least, most = 60, 80 // eV
		if m, err := smiles.Parse(r.SMILES); err == nil && r.EV >= least && r.EV <= most {
			key := smiles.Canonical(m)
			if _, have := by[key]; !have {
				by[key] = r
			}
		}
	}
	out := map[string]spectrum.Spectrum{}
	for _, u := range unknowns {
		m, err := smiles.Parse(u.smiles)
		if err != nil {
			return nil, err
		}
		if r, have := by[smiles.Canonical(m)]; have {
			var s spectrum.Spectrum
			for _, p := range r.Peaks {
				s.Peaks = append(s.Peaks, spectrum.Peak{MZ: p[0], Intensity: p[1]})
			}
			out[u.smiles] = s
		}
	}
	return out, nil
}
