package reading

import (
	"bufio"
	_ "embed"
	"fmt"
	"strconv"
	"strings"
	"sync"

	"ionwright/spectrum"
)

// clues.tsv holds for each key of a clue how many of the spectra of the fit
// show it and in which share of them what it suggests first is true. Lines
// that start with # are comments. The fit writes it.
//
//go:embed clues.tsv
var clueShares string

// ClueShare is how often a clue's first suggestion was true.
type ClueShare struct {
	Key     string
	Count   float64 // structures with the clue
	Correct float64 // of them, those of which it is true
}

var shares = sync.OnceValues(func() (map[string]ClueShare, error) { return parseShares(clueShares) })

func parseShares(text string) (map[string]ClueShare, error) {
	out := map[string]ClueShare{}
	lines := bufio.NewScanner(strings.NewReader(text))
	for n := 1; lines.Scan(); n++ {
		line := lines.Text()
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		fields := strings.Split(line, "\t")
		if len(fields) != 3 {
			return nil, fmt.Errorf("clues.tsv: line %d has %d columns, want key, count and share", n, len(fields))
		}
		count, err1 := strconv.ParseFloat(fields[1], 64)
		correct, err2 := strconv.ParseFloat(fields[2], 64)
		if err1 != nil || err2 != nil || !(count >= 0) || !(correct >= 0) || correct > count {
			return nil, fmt.Errorf("clues.tsv: line %d: %q and %q aren't a count and a smaller count", n, fields[1], fields[2])
		}
		out[fields[0]] = ClueShare{fields[0], count, correct}
	}
	return out, lines.Err()
}

// kindKey is the key of a whole family, the fallback for rare cases.
func kindKey(k Kind) string { return "all " + k.String() }

// calibrated sets the probability of a clue that has none of its own: the
// share in which such clues were true, drawn towards the family's share where
// few were seen, times the probability of the molecular ion if the clue
// presumes it.
func calibrated(c Clue, d *desk) Clue {
	if c.Probability == 0 && c.holds != nil {
		table, err := shares()
		if err != nil {
			d.doubts = append(d.doubts, err.Error())
			return c
		}
		const few = 6
		family := 0.5
		if s, ok := table[kindKey(c.Kind)]; ok && s.Count > 0 {
			family = s.Correct / s.Count
		}
		s := table[c.Key]
		c.Probability = (s.Correct + few*family) / (s.Count + few)
		if c.conditional {
			c.Probability *= d.molP
		}
	}
	return c
}

// Check is a clue of a known compound and whether it was right.
type Check struct {
	Key   string
	Holds bool
}

// Checks reads a spectrum whose compound is known, its nominal mass given, and
// tells for each clue without a probability of its own whether what it
// suggests first is true; once under the clue's key and once under its
// family's. The fit counts them.
func Checks(s spectrum.Spectrum, truth Truth) []Check {
	d := newDesk(s, Given{NominalMass: truth.Formula.NominalMass()}, noFormulas)
	if d.view.Count == 0 {
		return nil
	}
	var out []Check
	for _, rule := range rules {
		for _, c := range rule.read(d) {
			if holds, known := c.Holds(truth); known && c.Probability == 0 {
				out = append(out, Check{c.Key, holds}, Check{kindKey(rule.Kind), holds})
			}
		}
	}
	return out
}
