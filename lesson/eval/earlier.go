package eval

import (
	"fmt"
	"maps"

	"cel.dev/cel-go/cel"
)

// Earlier is the name by which an expression calls a student's answer to an
// earlier question.
const Earlier = "earlier"

// WithEarlier returns an environment in which expressions can also name
// Earlier, a decimal number with the value x.
func (e *Env) WithEarlier(x float64) (*Env, error) {
	extended, err := e.cel.Extend(cel.Variable(Earlier, cel.DoubleType))
	if err != nil {
		return nil, fmt.Errorf("declaring %q: %w", Earlier, err)
	}
	out := *e
	out.cel = extended
	out.vars = maps.Clone(e.vars)
	out.vars[Earlier] = x
	return &out, nil
}
