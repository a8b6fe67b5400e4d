package eval

import (
	"context"
	"slices"
	"strings"

	"cel.dev/cel-go/cel"
	celast "cel.dev/cel-go/common/ast"
	"cel.dev/cel-go/common/operators"

	"ionwright/lesson/source"
)

// Falsehood says why a statement is false: the part that is, what it claims
// and what is computed in its place, and where that came from.
type Falsehood struct {
	Part              string
	Claimed, Computed string
	Origins           []string
}

// comparisons are the operators with a claimed and a computed side, with what
// is said before the claimed one.
var comparisons = map[string]string{
	operators.Equals: "", operators.NotEquals: "anything but ",
	operators.Less: "less than ", operators.LessEquals: "at most ",
	operators.Greater: "more than ", operators.GreaterEquals: "at least ",
	operators.In: "one of ",
}

// mirrored are the words for a comparison whose sides are exchanged.
var mirrored = map[string]string{
	operators.Equals: "", operators.NotEquals: "anything but ",
	operators.Less: "more than ", operators.LessEquals: "at least ",
	operators.Greater: "less than ", operators.GreaterEquals: "at most ",
}

// WhyFalse explains an expression that came out false. Of a conjunction it
// explains the first part that is false.
func (x *Expr) WhyFalse(ctx context.Context) (Falsehood, error) {
	info := x.ast.NativeRep().SourceInfo()
	part, err := x.falsePart(ctx, x.ast.NativeRep().Expr())
	if err != nil {
		return Falsehood{}, err
	}
	out := Falsehood{Part: show(part, info)}
	if part.Kind() == celast.CallKind {
		call := part.AsCall()
		if _, ok := comparisons[call.FunctionName()]; ok {
			return x.compared(ctx, out, call)
		}
	}
	r, err := x.part(ctx, part)
	if err != nil {
		return Falsehood{}, err
	}
	out.Claimed, out.Computed, out.Origins = out.Part, "not so", r.Trace.Origins
	return out, nil
}

// Part is a comparison inside of a statement, with what its computed side came
// to.
type Part struct {
	Text     string // the comparison as written
	Computed string
}

// Parts lists the comparisons of a statement that holds, for the record.
func (x *Expr) Parts(ctx context.Context) ([]Part, error) {
	var parts []Part
	var walk func(e celast.Expr) error
	walk = func(e celast.Expr) error {
		if e.Kind() == celast.CallKind && e.AsCall().FunctionName() == operators.LogicalAnd {
			for _, arg := range e.AsCall().Args() {
				if err := walk(arg); err != nil {
					return err
				}
			}
			return nil
		}
		p := Part{Text: show(e, x.ast.NativeRep().SourceInfo()), Computed: "true"}
		if e.Kind() == celast.CallKind {
			if _, ok := comparisons[e.AsCall().FunctionName()]; ok {
				f, err := x.compared(ctx, Falsehood{Part: p.Text}, e.AsCall())
				if err != nil {
					return err
				}
				p.Computed = f.Computed
			}
		}
		parts = append(parts, p)
		return nil
	}
	return parts, walk(x.ast.NativeRep().Expr())
}

// compared computes both sides of a comparison.
func (x *Expr) compared(ctx context.Context, out Falsehood, call celast.CallExpr) (Falsehood, error) {
	info := x.ast.NativeRep().SourceInfo()
	left, right := call.Args()[0], call.Args()[1]
	l, err := x.part(ctx, left)
	if err != nil {
		return out, err
	}
	r, err := x.part(ctx, right)
	if err != nil {
		return out, err
	}
	for _, o := range slices.Concat(l.Trace.Origins, r.Trace.Origins) {
		if !slices.Contains(out.Origins, o) {
			out.Origins = append(out.Origins, o)
		}
	}
	// A number written out is printed as what it is compared with.
	as := func(a, b Result) string {
		if a.Kind == Plain {
			a.Text = Print(b.Kind, a.Value)
		}
		return a.Text.Message()
	}
	name := call.FunctionName()
	switch {
	case constant(right):
		out.Claimed, out.Computed = comparisons[name]+as(r, l), as(l, r)
	case constant(left) && name == operators.In:
		out.Claimed, out.Computed = out.Part, show(right, info)+" is "+as(r, l)
	case constant(left):
		out.Claimed, out.Computed = mirrored[name]+as(l, r), as(r, l)
	default:
		out.Claimed = out.Part
		out.Computed = show(left, info) + " is " + as(l, r) + ", " + show(right, info) + " is " + as(r, l)
	}
	return out, nil
}

// falsePart goes down a conjunction to the first part that is false.
func (x *Expr) falsePart(ctx context.Context, e celast.Expr) (celast.Expr, error) {
	if e.Kind() != celast.CallKind || e.AsCall().FunctionName() != operators.LogicalAnd {
		return e, nil
	}
	for _, arg := range e.AsCall().Args() {
		r, err := x.part(ctx, arg)
		if err != nil {
			return nil, err
		}
		if held, ok := r.Bool(); ok && !held {
			return x.falsePart(ctx, arg)
		}
	}
	return e, nil
}

// part computes a part of the expression by itself. A part that fails to
// compute gives an empty result: it only explains.
func (x *Expr) part(ctx context.Context, e celast.Expr) (Result, error) {
	t := source.Text{Value: show(e, x.ast.NativeRep().SourceInfo())}
	sub, _ := x.env.Compile(t)
	if sub == nil {
		return Result{}, nil
	}
	r, _, err := sub.Eval(ctx)
	return r, err
}

// constant reports whether an expression names nothing of the lesson.
func constant(e celast.Expr) bool {
	is := true
	celast.PreOrderVisit(e, celast.NewExprVisitor(func(e celast.Expr) {
		switch e.Kind() {
		case celast.IdentKind, celast.ComprehensionKind:
			is = false
		case celast.CallKind:
			name := e.AsCall().FunctionName()
			if slices.ContainsFunc(Functions(), func(f Function) bool { return f.Name == name && name != "formula" }) {
				is = false
			}
		}
	}))
	return is
}

// show writes an expression as an author would.
func show(e celast.Expr, info *celast.SourceInfo) string {
	s, err := cel.ExprToString(e, info)
	if err != nil {
		return "this part"
	}
	return strings.Join(strings.Fields(s), " ")
}
