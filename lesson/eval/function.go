package eval

import (
	"fmt"
	"math"
	"strings"

	"cel.dev/cel-go/cel"
	"cel.dev/cel-go/common/types"
	"cel.dev/cel-go/common/types/ref"
	"cel.dev/cel-go/common/types/traits"
)

// Function is a function that a lesson's expressions can call.
type Function struct {
	Name string
	// Forms are the ways to call it: the types of its arguments, with names
	// for the documentation.
	Forms  []Form
	Result string // the type of the result, as CEL and the documentation name it
	Kind   Kind   // how the result is printed
	Doc    string // what it gives, with units, and when it fails
	// Example is an expression over the example lesson, and Prints what
	// students read for it.
	Example, Prints string
	bind            func(r *run, a args) (any, error)
}

// Form is one list of arguments.
type Form []Param

// Param is an argument: its name in the documentation and its type.
type Param struct{ Name, Type string }

// Signature writes the form as documentation: "peak(compound, mz)".
func (f Function) Signature(form Form) string {
	names := make([]string, len(form))
	for i, p := range form {
		names[i] = p.Name
	}
	return f.Name + "(" + strings.Join(names, ", ") + ")"
}

// celTypes are the types by the names that the list of functions uses. A
// number may be written 4000 or 4000.0, so it is checked when the function is
// called.
var celTypes = map[string]*cel.Type{
	"number": cel.DynType, "number or ion": cel.DynType, "whole number": cel.IntType, "text": cel.StringType, "truth": cel.BoolType,
	"decimal":    cel.DoubleType,
	"texts":      cel.ListType(cel.StringType),
	"numbers":    cel.ListType(cel.IntType),
	"compound":   cel.ObjectType("eval.Compound"),
	"instrument": cel.ObjectType("eval.Instrument"),
	"peak":       cel.ObjectType("eval.Peak"),
	"ion":        cel.ObjectType("eval.Ion"),
	"loss":       cel.ObjectType("eval.Loss"),
}

// option declares the function to CEL; its implementation is bound anew for
// every evaluation, so that it can leave its traces there.
func (f Function) option() cel.EnvOption {
	var overloads []cel.FunctionOpt
	for i, form := range f.Forms {
		argTypes := make([]*cel.Type, len(form))
		for j, p := range form {
			argTypes[j] = celTypes[p.Type]
		}
		overloads = append(overloads, cel.Overload(f.overload(i), argTypes, celTypes[f.Result], cel.LateFunctionBinding()))
	}
	return cel.Function(f.Name, overloads...)
}

// overload names one form for CEL.
func (f Function) overload(form int) string { return fmt.Sprintf("%s_%d", f.Name, form) }

// call checks that compounds and instruments are the lesson's own, and not
// empty ones that an expression made up, and computes the function.
func (f Function) call(r *run, overload string, a args) (any, error) {
	for i, form := range f.Forms {
		if f.overload(i) != overload {
			continue
		}
		for j, p := range form {
			c, n := a.compound(j), a.instrument(j)
			if p.Type == "compound" && (c == nil || c.of == nil) || p.Type == "instrument" && (n == nil || n.of == nil) {
				return nil, fmt.Errorf("argument %d isn't %s of the lesson", j+1, article(p.Type))
			}
		}
	}
	return f.bind(r, a)
}

func article(noun string) string {
	if noun == "instrument" {
		return "an " + noun
	}
	return "a " + noun
}

// args are the arguments of a call as plain Go values.
type args []any

func (a args) compound(i int) *Compound     { c, _ := a[i].(*Compound); return c }
func (a args) instrument(i int) *Instrument { c, _ := a[i].(*Instrument); return c }
func (a args) text(i int) string            { s, _ := a[i].(string); return s }

// number is an argument as a finite number.
func (a args) number(i int) (float64, error) {
	switch v := a[i].(type) {
	case int64:
		return float64(v), nil
	case float64:
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return 0, fmt.Errorf("argument %d isn't a finite number", i+1)
		}
		return v, nil
	}
	return 0, fmt.Errorf("argument %d must be a number", i+1)
}

// positive is an argument as a number above zero.
func (a args) positive(i int) (float64, error) {
	x, err := a.number(i)
	if err == nil && x <= 0 {
		return 0, fmt.Errorf("argument %d must be above zero, not %g", i+1, x)
	}
	return x, err
}

// positives are three arguments as numbers above zero.
func (a args) positives() (x, y, z float64, err error) {
	var v [3]float64
	for i := range v {
		if v[i], err = a.positive(i); err != nil {
			return 0, 0, 0, err
		}
	}
	return v[0], v[1], v[2], nil
}

// mz is an argument as a whole m/z that an instrument could record.
func (a args) mz(i int) (int, error) {
	const largest = 10000
	x, err := a.number(i)
	if err != nil {
		return 0, err
	}
	if x != math.Trunc(x) || x < 1 || x > largest {
		return 0, fmt.Errorf("argument %d must be a whole m/z from 1 to %d, not %g", i+1, largest, x)
	}
	return int(x), nil
}

// native turns a CEL value into a plain Go value: int64, float64, string,
// bool, []any, or one of this package's types (Compound and Instrument as
// pointers).
func native(v ref.Val) any {
	switch v := v.(type) {
	case types.Int:
		return int64(v)
	case types.Uint:
		return int64(min(uint64(v), math.MaxInt64))
	case types.Double:
		return float64(v)
	case types.String:
		return string(v)
	case types.Bool:
		return bool(v)
	case traits.Lister:
		var list []any
		for it := v.Iterator(); it.HasNext() == types.True; {
			list = append(list, native(it.Next()))
		}
		return list
	}
	switch x := v.Value().(type) {
	case Compound:
		return &x
	case Instrument:
		return &x
	case *Peak:
		return *x
	case *Ion:
		return *x
	case *Loss:
		return *x
	default:
		return x
	}
}
