package fit

import (
	"context"
	"fmt"
	"io"
	"maps"
	"slices"

	"ionwright/reading"
)

// leastCount is how many structures must show a clue for a row of its own.
const leastCount = 8

// Clues counts in which share of the samples what each clue suggests first is
// true.
func Clues(ctx context.Context, samples []Sample) ([]reading.ClueShare, error) {
	count, correct := map[string]float64{}, map[string]float64{}
	for _, s := range samples {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		for _, check := range reading.Checks(s.Spectrum, reading.Truth{Formula: s.Formula, Groups: s.Groups}) {
			count[check.Key] += s.Weight
			if check.Holds {
				correct[check.Key] += s.Weight
			}
		}
	}
	var out []reading.ClueShare
	for _, key := range slices.Sorted(maps.Keys(count)) {
		if count[key] >= leastCount {
			out = append(out, reading.ClueShare{Key: key, Count: count[key], Correct: correct[key]})
		}
	}
	return out, nil
}

// WriteClues writes the shares in the form that package reading embeds, with
// comment lines on top.
func WriteClues(w io.Writer, comments []string, shares []reading.ClueShare) error {
	for _, c := range comments {
		if _, err := fmt.Fprintf(w, "# %s\n", c); err != nil {
			return err
		}
	}
	for _, s := range shares {
		if _, err := fmt.Fprintf(w, "%s\t%.1f\t%.1f\n", s.Key, s.Count, s.Correct); err != nil {
			return err
		}
	}
	return nil
}
