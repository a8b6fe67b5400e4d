package rival

import (
	"context"
	"encoding/json"
	"errors"
	"math"
	"regexp"
	"strconv"
	"testing"
)

var fraction = regexp.MustCompile(`[0-9]+\.[0-9]+(e[-+][0-9]+)?`)

// told is all of a result as text, its numbers to six digits: sums come in no
// fixed order.
func told(t *testing.T, r *Result) string {
	t.Helper()
	text, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	return fraction.ReplaceAllStringFunc(string(text), func(s string) string {
		x, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return strconv.FormatFloat(x, 'g', 6, 64)
	})
}

// TestGoOn stops searches at different places and goes on with what they
// saved: the result is that of a search without a stop, and what was done
// before the stop isn't done again.
func TestGoOn(t *testing.T) {
	p := Problem{Answer: parse(t, "CCCCCC(C)=O"), FormulaGiven: true}
	limits := Options{Workers: 2, Most: 40}
	whole, err := Find(context.Background(), p, limits)
	if err != nil {
		t.Fatal(err)
	}
	for _, stop := range []struct {
		text string
		done int
	}{
		{"structures of C7H14O looked at", 128},
		{"spectra computed", 8},
		{"spectra computed", 24},
		{"spectra computed", 40},
	} {
		ctx, cancel := context.WithCancel(context.Background())
		o := limits
		var saved []byte
		o.Save = func(text []byte) { saved = text }
		o.Progress = func(text string, done, _ int) {
			if text == stop.text && done >= stop.done {
				cancel()
			}
		}
		_, err := Find(ctx, p, o)
		if cancel(); stop.done < limits.Most && !errors.Is(err, context.Canceled) {
			t.Fatalf("stopped at %v: %v", stop, err)
		}
		if saved == nil {
			t.Fatalf("stopped at %v: nothing was saved", stop)
		}
		o = limits
		o.Saved = saved
		least := 1 << 30
		o.Progress = func(text string, done, _ int) {
			if text == stop.text {
				least = min(least, done)
			}
		}
		again, err := Find(context.Background(), p, o)
		if err != nil {
			t.Fatal(err)
		}
		if least <= stop.done {
			t.Errorf("stopped at %v: went on at %d", stop, least)
		}
		if told(t, whole) != told(t, again) {
			t.Errorf("stopped at %v: another result\n%s\n%s", stop, told(t, whole), told(t, again))
		}
	}
}

// TestSavedElsewhere leaves alone what another problem, other limits or nothing
// at all saved.
func TestSavedElsewhere(t *testing.T) {
	p := Problem{Answer: parse(t, "CCC(C)=O"), FormulaGiven: true}
	var saved []byte
	want, err := Find(context.Background(), p, Options{Save: func(text []byte) { saved = text }})
	if err != nil {
		t.Fatal(err)
	}
	other := Problem{Answer: parse(t, "CCCC=O"), FormulaGiven: true}
	alone, err := Find(context.Background(), other, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range [][]byte{saved, []byte("{}"), []byte("no JSON"), saved[:len(saved)/2]} {
		got, err := Find(context.Background(), other, Options{Saved: text})
		if err != nil || told(t, alone) != told(t, got) {
			t.Errorf("saved %.40q: %v; another result", text, err)
		}
	}
	limited, err := Find(context.Background(), p, Options{Saved: saved, Most: 5})
	if err != nil || limited.Computed > 5 || want.Computed <= 5 {
		t.Errorf("with another limit %d structures are computed (%v), without %d", limited.Computed, err, want.Computed)
	}
}

// TestEstimate compares the number of rivals estimated from a sample with the
// number that the whole search finds.
func TestEstimate(t *testing.T) {
	if testing.Short() {
		t.Skip("computes some hundred spectra")
	}
	p := Problem{Answer: parse(t, "CCCCC(C)=O"), FormulaGiven: true}
	whole, err := Find(context.Background(), p, Options{Most: 1000})
	if err != nil {
		t.Fatal(err)
	}
	if !whole.Complete || whole.Same+whole.Close == 0 {
		t.Fatalf("complete: %v, %d same, %d close", whole.Complete, whole.Same, whole.Close)
	}
	part, err := Find(context.Background(), p, Options{Most: 1000, Look: 60})
	if err != nil {
		t.Fatal(err)
	}
	if part.Complete || part.Formulas[0].Share == 1 {
		t.Fatal("no sample was taken")
	}
	estimate, deviation := part.estimate(part.Formulas[0])
	there := float64(whole.Same + whole.Close)
	deviation = max(deviation, math.Sqrt(there/part.Formulas[0].Share)) // where few were found by chance
	if math.Abs(estimate-there) > 3*deviation {
		t.Errorf("estimated %.0f ± %.0f, there are %.0f", estimate, deviation, there)
	}
	t.Logf("estimated %.0f ± %.0f, there are %.0f of %v", estimate, deviation, there, whole.Formulas)
}
