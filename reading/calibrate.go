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

// wrongKey is the key of the share of clues of a family that were true though
// the molecular ion they presume was wrong.
func wrongKey(c Clue) string {
	key := "wrong molecular ion: " + c.Kind.String()
	if c.OnlyAtoms {
		key += ", atoms"
	}
	return key
}

// calibrated sets the probability of a clue that has none of its own: the
// share in which such clues were true, drawn towards the family's share where
// few were seen. For a clue that presumes the molecular ion, that counts as far
// as the ion is probable, and the rest as such clues fare with a wrong one.
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
			wrong := 0.5 * c.Probability
			if s, ok := table[wrongKey(c)]; ok && s.Count > 0 {
				wrong = min(c.Probability, s.Correct/s.Count)
			}
			c.Probability = d.molP*c.Probability + (1-d.molP)*wrong
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
// family's. It reads it again with the likeliest wrong mass, for what the
// clues that presume a mass are worth then. The fit counts them.
func Checks(s spectrum.Spectrum, truth Truth) []Check {
	mass := truth.Formula.NominalMass()
	var out []Check
	each(s, mass, func(c Clue) {
		if holds, known := c.Holds(truth); known && c.Probability == 0 {
			out = append(out, Check{c.Key, holds}, Check{kindKey(c.Kind), holds})
		}
	})
	for _, ion := range newDesk(s, Given{}, noFormulas).candidates {
		if ion.MZ == mass {
			continue
		}
		each(s, ion.MZ, func(c Clue) {
			if holds, known := c.Holds(truth); known && c.Probability == 0 && c.conditional {
				out = append(out, Check{wrongKey(c), holds})
			}
		})
		break
	}
	return out
}

// each calls see with every clue of a spectrum read with a given mass, before
// it is calibrated.
func each(s spectrum.Spectrum, mass int, see func(Clue)) {
	d := newDesk(s, Given{NominalMass: mass}, noFormulas)
	if d.view.Count == 0 {
		return
	}
	for _, rule := range rules {
		for _, c := range rule.read(d) {
			c.Kind = rule.Kind
			see(c)
		}
	}
}
