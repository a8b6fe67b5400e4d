package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"runtime"
	"slices"
	"strings"
	"text/tabwriter"

	"ionwright/internal/witness"
	"ionwright/mol"
	"ionwright/mol/groups"
	"ionwright/mol/smarts"
	"ionwright/mol/smiles"

	"golang.org/x/sys/unix"
)

// smartsPatterns are what the topic "smarts" measures: the groups that a
// reading calls, and others of the table, of more atoms and with environments.
func smartsPatterns() []string {
	var texts []string
	for _, g := range groups.Called() {
		texts = append(texts, g.SMARTS)
	}
	for _, g := range groups.All() {
		if len(texts) < 50 && !slices.Contains(texts, g.SMARTS) && len(g.SMARTS) > 20 {
			texts = append(texts, g.SMARTS)
		}
	}
	return texts
}

// rdkitSpeed parses molecules and patterns, then prints the seconds of
// processor time of three passes of each task, and the hits, so that both sides are known to do the
// same work.
const rdkitSpeed = `
import json, sys, time
from rdkit import Chem, RDLogger
RDLogger.DisableLog('rdApp.*')
given = json.load(sys.stdin)
molecules = [Chem.MolFromSmiles(s) for s in given['smiles']]
patterns = [Chem.MolFromSmarts(p) for p in given['patterns']]
out = {'version': Chem.rdBase.rdkitVersion, 'occurs': [], 'places': []}
for _ in range(3):
    start = time.process_time()
    hits = 0
    for m in molecules:
        for p in patterns:
            hits += m.HasSubstructMatch(p)
    out['occurs'].append(time.process_time() - start)
    out['occursHits'] = hits
    start = time.process_time()
    hits = 0
    for m in molecules:
        for p in patterns:
            hits += len(m.GetSubstructMatches(p))
    out['places'].append(time.process_time() - start)
    out['placesHits'] = hits
print(json.dumps(out))
`

// smartsSpeed prints how many pairs of molecule and pattern a second are
// matched, beside RDKit, on one core each.
func smartsSpeed(ctx context.Context, out io.Writer) error {
	records, err := sharedRecords("train.jsonl.gz")
	if err != nil {
		return err
	}
	var texts []string
	var molecules []*mol.Mol
	for _, r := range records {
		m, err := smiles.Parse(r.SMILES)
		if err != nil {
			return err
		}
		texts, molecules = append(texts, r.SMILES), append(molecules, m)
	}
	patterns := smartsPatterns()
	ours, err := ourSmartsSpeed(molecules, patterns)
	if err != nil {
		return err
	}
	fmt.Fprintf(out, "%d patterns over %d molecules, one core, processor time, median of the passes\n", len(patterns), len(molecules))
	var theirs struct {
		Version                string
		Occurs, Places         []float64
		OccursHits, PlacesHits int
	}
	script, ok := witness.PythonCommand("rdkit", rdkitSpeed)
	if ok {
		stdin, err := json.Marshal(map[string][]string{"smiles": texts, "patterns": patterns})
		if err != nil {
			return err
		}
		script.Stdin = strings.NewReader(string(stdin))
		answer, err := script.Output()
		if err != nil {
			return fmt.Errorf("running RDKit: %w", err)
		}
		if err := json.Unmarshal(answer, &theirs); err != nil {
			return err
		}
		fmt.Fprintf(out, "beside RDKit %s, called from Python\n", theirs.Version)
	} else {
		fmt.Fprintln(out, "RDKit is absent")
	}
	table := tabwriter.NewWriter(out, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(table, "work\thits\tpairs/s\tallocations\tRDKit hits\tRDKit pairs/s\tratio\t")
	pairs := float64(len(patterns) * len(molecules))
	for _, row := range ours {
		fmt.Fprintf(table, "%s\t%d\t%.0f\t%d\t", row.work, row.hits, pairs/row.seconds, row.allocations)
		seconds, hits := theirs.Occurs, theirs.OccursHits
		if row.places {
			seconds, hits = theirs.Places, theirs.PlacesHits
		}
		if len(seconds) > 0 {
			fmt.Fprintf(table, "%d\t%.0f\t%.1f\t", hits, pairs/median(seconds), median(seconds)/row.seconds)
		}
		fmt.Fprintln(table)
	}
	return table.Flush()
}

// A smartsPass is one row of the table.
type smartsPass struct {
	work        string
	places      bool // every place counted, not only whether there is one
	hits        int
	seconds     float64
	allocations uint64 // of one pass
}

func ourSmartsSpeed(molecules []*mol.Mol, texts []string) ([]smartsPass, error) {
	set, err := smarts.CompileSet(texts...)
	if err != nil {
		return nil, err
	}
	targets := make([]*smarts.Target, len(molecules))
	for i, m := range molecules {
		targets[i] = smarts.Prepare(m)
	}
	var mt smarts.Matcher
	occurs := func() (hits int) {
		for i := range set.Len() {
			if mt.Match(set.Pattern(i)) {
				hits++
			}
		}
		return hits
	}
	places := func() (hits int) {
		for i := range set.Len() {
			hits += mt.Count(set.Pattern(i))
		}
		return hits
	}
	load := func(i int) { mt.Load(molecules[i]) }
	use := func(i int) { mt.Use(targets[i]) }
	rows := []smartsPass{{work: "occurs"}, {work: "occurs, molecules prepared before"}, {work: "places", places: true}, {work: "places, molecules prepared before", places: true}}
	for r := range rows {
		row := &rows[r]
		turn, count := load, occurs
		if r%2 == 1 {
			turn = use
		}
		if row.places {
			count = places
		}
		var seconds []float64
		for range 7 {
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			start := processorTime()
			row.hits = 0
			for i := range molecules {
				turn(i)
				row.hits += count()
			}
			seconds = append(seconds, processorTime()-start)
			runtime.ReadMemStats(&after)
			row.allocations = after.Mallocs - before.Mallocs
		}
		row.seconds = median(seconds)
	}
	return rows, nil
}

// median returns the middle of the values, or the upper one of two.
func median(values []float64) float64 {
	sorted := slices.Sorted(slices.Values(values))
	return sorted[len(sorted)/2]
}

// processorTime returns the seconds of processor time that this process has
// used: on a busy machine it says more about a program than the wall clock.
func processorTime() float64 {
	var ts unix.Timespec
	if err := unix.ClockGettime(unix.CLOCK_PROCESS_CPUTIME_ID, &ts); err != nil {
		panic(err) // the clock is always there
	}
	return float64(ts.Sec) + float64(ts.Nsec)/1e9
}
