package eval

import (
	"context"
	"testing"

	"ionwright/lesson/source"
)

// FuzzExpression computes whatever is typed; nothing may panic or hang, and
// every failure has words.
func FuzzExpression(f *testing.F) {
	for _, fn := range Functions() {
		f.Add(fn.Example)
	}
	f.Add("[1,2].map(x, peak(ketone, x)).filter(p, p.intensity > 1).size() > 0 ? 'a' : 'b'")
	f.Add("field(1e308, 1e308, 1e-308) / 0.0 > -1 && {'a': bench}.a.name.matches('(a*)*')")
	f.Fuzz(func(t *testing.T, expr string) {
		e := fuzzEnv(t)
		x, diags := e.Compile(source.Text{Value: expr})
		if x == nil {
			for _, d := range diags {
				if d.Message == "" || d.Code == "" {
					t.Errorf("a diagnostic without words: %+v", d)
				}
			}
			if len(diags) == 0 {
				t.Error("neither an expression nor a reason")
			}
			return
		}
		r, d, err := x.Eval(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		if d != nil {
			if d.Message == "" {
				t.Error("a failure without words")
			}
			return
		}
		r.Agrees("43")
		if held, ok := r.Bool(); ok && !held {
			if _, err := x.WhyFalse(context.Background()); err != nil {
				t.Fatal(err)
			}
		}
	})
}
