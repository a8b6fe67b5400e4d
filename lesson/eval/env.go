// Package eval computes the expressions of a lesson: the values in the prose,
// claims and answers. The language is CEL, the Common Expression Language,
// with the functions of [Functions] over the lesson's compounds and
// instruments. For most uses call [New], [Env.Compile] and [Expr.Eval].
//
// It is also the one place where numbers are formatted for students.
package eval

import (
	"context"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"

	"cel.dev/cel-go/cel"
	celast "cel.dev/cel-go/common/ast"
	"cel.dev/cel-go/common/types"
	"cel.dev/cel-go/common/types/ref"
	"cel.dev/cel-go/ext"

	"ionwright/lesson/diag"
	"ionwright/lesson/load"
	"ionwright/lesson/source"
)

const (
	maxCost       = 200_000 // CEL's own measure; the longest sensible expression stays below 1,000
	checkInterval = 100     // steps of a comprehension between looks at the context
)

// Env is what the expressions of one lesson can name. It is safe for
// concurrent use.
type Env struct {
	cel     *cel.Env
	vars    map[string]any
	figures map[string]int
	names   []string        // of compounds, instruments and functions
	missing map[string]bool // compounds that the lesson names but that couldn't be loaded
}

// New makes the environment of a lesson whose figures have the given numbers.
// It fails only on a mistake in the list of functions.
func New(l *load.Lesson, figures map[string]int) (*Env, error) {
	e := &Env{vars: map[string]any{}, figures: figures, missing: map[string]bool{}}
	options := []cel.EnvOption{
		ext.NativeTypes(reflect.TypeFor[Compound](), reflect.TypeFor[Instrument](), reflect.TypeFor[Peak](),
			reflect.TypeFor[Ion](), reflect.TypeFor[Loss](), ext.ParseStructTags(true)),
		// So that a whole number can be compared with a computed one.
		cel.CrossTypeNumericComparisons(true),
		ext.Math(),
	}
	for _, c := range l.Compounds {
		e.vars[c.Key] = &Compound{Name: c.Name, of: c}
		options = append(options, cel.Variable(c.Key, celTypes["compound"]))
	}
	for _, i := range l.Instruments {
		e.vars[i.Key] = &Instrument{Name: i.Name, of: i}
		options = append(options, cel.Variable(i.Key, celTypes["instrument"]))
	}
	for _, c := range l.Source.Compounds {
		e.missing[c.Key.Value] = e.vars[c.Key.Value] == nil
	}
	for name := range e.vars {
		e.names = append(e.names, name)
	}
	for _, f := range Functions() {
		options = append(options, f.option())
		e.names = append(e.names, f.Name)
	}
	slices.Sort(e.names)
	env, err := cel.NewEnv(options...)
	if err != nil {
		return nil, fmt.Errorf("declaring the functions of lessons: %w", err)
	}
	e.cel = env
	return e, nil
}

// Expr is a compiled expression.
type Expr struct {
	Source source.Text
	env    *Env
	ast    *cel.Ast
	prog   cel.Program
	kind   Kind
	// identifies is true where the expression uses what an ion or loss is, and
	// not only where it stands.
	identifies bool
}

// Compile reads an expression. What is wrong with it is reported at its place,
// except for compounds that couldn't be loaded: then there is neither an
// expression nor a report.
func (e *Env) Compile(t source.Text) (*Expr, diag.List) {
	ast, issues := e.cel.Compile(t.Value)
	if issues.Err() != nil {
		return nil, e.compileErrors(t, issues)
	}
	x := &Expr{Source: t, env: e, ast: ast}
	var err error
	if x.prog, err = e.program(ast); err != nil {
		return nil, diag.List{diag.New(diag.BadExpression, t.Place(), "the expression %q can't be computed: %v", trim(t.Value), err)}
	}
	x.kind = kindOf(ast.NativeRep(), ast.NativeRep().Expr())
	x.identifies = identifies(celast.NavigateAST(ast.NativeRep()))
	return x, nil
}

func (e *Env) program(ast *cel.Ast) (cel.Program, error) {
	return e.cel.Program(ast, cel.CostLimit(maxCost), cel.InterruptCheckFrequency(checkInterval))
}

// Result is a computed value, how it is printed, and what it came from.
type Result struct {
	Value any // int64, float64, string, bool, []any, Peak, Ion, Loss, *Compound or *Instrument
	Kind  Kind
	Text  Printed
	Trace Trace
}

// Trace says what an evaluation looked at.
type Trace struct {
	Origins       []string // sentences: the peaks and structures it came from
	Assigned      []int    // m/z that were given one formula
	Lost          []int    // nominal losses that were given one formula
	ListedIons    []int    // m/z all of whose common assignments were listed
	ListedLosses  []int
	MolecularIons []*load.Compound // whose molecular ion's peak was looked at
	Figures       []string         // that were referred to
}

// Bool is the value as true or false, and false in ok for any other type.
func (r Result) Bool() (value, ok bool) { value, ok = r.Value.(bool); return }

// Number is the value as a number, and false in ok for any other type.
func (r Result) Number() (x float64, ok bool) {
	switch v := r.Value.(type) {
	case int64:
		return float64(v), true
	case float64:
		return v, true
	}
	return 0, false
}

// Eval computes the expression. When it fails, the diagnostic says at which
// place of the source; an error is only ever the context's.
func (x *Expr) Eval(ctx context.Context) (Result, *diag.Diagnostic, error) {
	e := x.env
	r := &run{figureNumbers: e.figures}
	bound := map[string]cel.LateBoundFunction{}
	for _, f := range Functions() {
		bound[f.Name] = func(overload string, values ...ref.Val) ref.Val {
			v, err := f.call(r, overload, nativeArgs(values))
			if err != nil {
				return types.WrapErr(asFailure(f.Name, err))
			}
			return e.cel.CELTypeAdapter().NativeToValue(v)
		}
	}
	vars, err := cel.FunctionVars(e.vars, bound)
	if err != nil {
		return Result{}, nil, fmt.Errorf("binding the functions of lessons: %w", err)
	}
	value, _, err := x.prog.ContextEval(ctx, vars)
	if ctx.Err() != nil {
		return Result{}, nil, ctx.Err()
	}
	if err != nil {
		d := runtimeError(x.Source, x.ast, err)
		return Result{}, &d, nil
	}
	if !x.identifies {
		r.assigned, r.lost = nil, nil
	}
	v := native(value)
	return Result{Value: v, Kind: x.kind, Text: Print(x.kind, v), Trace: Trace{
		Origins: r.origins(), Assigned: r.assigned, Lost: r.lost, ListedIons: r.listedIons, ListedLosses: r.listedLosses,
		MolecularIons: r.molecularIons, Figures: r.figures,
	}}, nil, nil
}

func nativeArgs(values []ref.Val) args {
	out := make(args, len(values))
	for i, v := range values {
		out[i] = native(v)
	}
	return out
}

// asFailure puts the function's name before an error that has none.
func asFailure(name string, err error) error {
	var f *failure
	if errors.As(err, &f) {
		return f
	}
	return &failure{code: diag.BadExpression, message: name + ": " + err.Error()}
}

// kindOf says how the value of an expression is printed, from its form: the
// kind of the function called or of the field read.
func kindOf(ast *celast.AST, x celast.Expr) Kind {
	switch x.Kind() {
	case celast.SelectKind:
		of := strings.TrimPrefix(ast.GetType(x.AsSelect().Operand().ID()).TypeName(), "eval.")
		return fieldKinds[of][x.AsSelect().FieldName()]
	case celast.CallKind:
		call := x.AsCall()
		switch call.FunctionName() {
		case "_?_:_":
			return kindOf(ast, call.Args()[1])
		case "_+_", "_-_":
			if a, b := kindOf(ast, call.Args()[0]), kindOf(ast, call.Args()[1]); a == b || b == Plain {
				return a
			}
			return kindOf(ast, call.Args()[1])
		}
		i := slices.IndexFunc(Functions(), func(f Function) bool { return f.Name == call.FunctionName() })
		if i >= 0 {
			return Functions()[i].Kind
		}
	}
	return Plain
}

// identifies reports whether an expression calls ion or loss and uses more of
// the result than its m/z or mass.
func identifies(root celast.NavigableExpr) bool {
	for _, e := range celast.MatchDescendants(root, celast.KindMatcher(celast.CallKind)) {
		if name := e.AsCall().FunctionName(); name != "ion" && name != "loss" {
			continue
		}
		parent, ok := e.Parent()
		if !ok || parent.Kind() != celast.SelectKind {
			return true
		}
		if field := parent.AsSelect().FieldName(); field != "mz" && field != "mass" {
			return true
		}
	}
	return false
}

func trim(s string) string { return strings.TrimSpace(s) }
