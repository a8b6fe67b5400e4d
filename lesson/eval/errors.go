package eval

import (
	"errors"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"cel.dev/cel-go/cel"
	"cel.dev/cel-go/common"
	"cel.dev/cel-go/common/types"

	"ionwright/lesson/diag"
	"ionwright/lesson/source"
)

var (
	undeclared = regexp.MustCompile(`undeclared reference to '([^']+)'`)
	noField    = regexp.MustCompile(`undefined field '([^']+)'`)
	overload   = regexp.MustCompile(`found no matching overload for '([^']+)' applied to '(.*)'`)
)

// compileErrors translates CEL's findings: the first of each place, in the
// lesson's words.
func (e *Env) compileErrors(t source.Text, issues *cel.Issues) diag.List {
	var list diag.List
	for _, issue := range issues.Errors() {
		if m := undeclared.FindStringSubmatch(issue.Message); m != nil && e.missing[m[1]] {
			continue // reported where it is defined
		}
		from, to := word(t.Value, offsetOf(t.Value, issue.Location))
		at := t.Span(from, to)
		if len(list) > 0 && (list[len(list)-1].Span == at || strings.Contains(issue.Message, "Syntax error")) {
			continue // what follows from the first
		}
		list.Add(e.compileError(t, at, to, issue.Message))
	}
	return list
}

func (e *Env) compileError(t source.Text, at diag.Span, end int, message string) diag.Diagnostic {
	if m := undeclared.FindStringSubmatch(message); m != nil {
		what := "compound or instrument"
		if strings.HasPrefix(strings.TrimSpace(t.Value[end:]), "(") {
			what = "function"
		}
		d := diag.New(diag.UnknownName, at, "there is no %s %q", what, m[1])
		if near, ok := diag.Nearest(m[1], e.names); ok {
			return d.Suggesting("did you mean %q?", near)
		}
		return d.Suggesting("expressions know %s", diag.Quoted(e.names, 60))
	}
	if m := noField.FindStringSubmatch(message); m != nil {
		var fields []string
		for _, of := range fieldKinds {
			for name := range of {
				fields = append(fields, name)
			}
		}
		d := diag.New(diag.UnknownName, at, "the value has no field %q", m[1])
		if near, ok := diag.Nearest(m[1], fields); ok {
			return d.Suggesting("did you mean %q?", near)
		}
		return d.Suggesting("a peak has mz and intensity, an ion mz, formula, exactMass, oddElectron and route, a loss mass and formula")
	}
	if m := overload.FindStringSubmatch(message); m != nil {
		name, operands := operator(m[1]), strings.ReplaceAll(m[2], "eval.", "")
		d := diag.New(diag.BadExpression, at, "%q can't be applied to %s", name, operands)
		if hint := e.operandHint(name, operands); hint != "" {
			d = d.Suggesting("%s", hint)
		}
		return d
	}
	if strings.Contains(message, "token recognition error at: '='") || strings.Contains(message, "token recognition error at: '= ") {
		return diag.New(diag.BadExpression, at, "the expression %q has a single equals sign", trim(t.Value)).Suggesting("compare with two: ==")
	}
	return diag.New(diag.BadExpression, at, "the expression %q isn't understood: %s", trim(t.Value), plainSyntax(message))
}

// operandHint says what an operator or function takes in place of what it was
// given; empty where nothing helpful can be said.
func (e *Env) operandHint(name, operands string) string {
	for _, whole := range []struct{ typed, hint string }{
		{"Peak", "a peak has the fields mz and intensity: write for example basePeak(...).mz"},
		{"Ion", "an ion has the fields mz, formula and exactMass: write for example ion(...).formula"},
		{"Loss", "a loss has the fields mass and formula: write for example loss(...).mass"},
	} {
		if strings.Contains(operands, whole.typed) {
			return whole.hint
		}
	}
	i := slices.IndexFunc(Functions(), func(f Function) bool { return f.Name == name })
	switch {
	case i >= 0 && strings.Contains(operands, "string") && Functions()[i].takes("compound"):
		return "name the compound by its key, without quotes: " + Functions()[i].Signature(Functions()[i].Forms[0])
	case i >= 0:
		var forms []string
		for _, form := range Functions()[i].Forms {
			forms = append(forms, Functions()[i].Signature(form))
		}
		return "write " + strings.Join(forms, " or ")
	case strings.Contains(operands, "int") && strings.Contains(operands, "double"):
		return "a whole number and a decimal one don't mix in arithmetic: write double(...) around the whole one"
	}
	return ""
}

// takes reports that a form of the function has an argument of a type.
func (f Function) takes(typed string) bool {
	return slices.ContainsFunc(f.Forms, func(form Form) bool {
		return slices.ContainsFunc(form, func(p Param) bool { return p.Type == typed })
	})
}

// plainSyntax shortens a parser's message to what an author can use.
func plainSyntax(message string) string {
	message, _, _ = strings.Cut(strings.ReplaceAll(message, "eval.", ""), " expecting ")
	if strings.Contains(message, "'<EOF>'") {
		return "it ends where something more is needed"
	}
	return strings.TrimPrefix(message, "Syntax error: ")
}

// operator is CEL's internal name of an operator as it is written.
func operator(name string) string {
	return strings.Trim(strings.ReplaceAll(name, "@", ""), "_")
}

// offsetOf is the byte offset of a place that CEL names: 1-based lines,
// 0-based columns in characters.
func offsetOf(s string, at common.Location) int {
	offset := 0
	for line := at.Line(); line > 1; line-- {
		i := strings.IndexByte(s[offset:], '\n')
		if i < 0 {
			return len(s)
		}
		offset += i + 1
	}
	for col := at.Column(); col > 0 && offset < len(s) && s[offset] != '\n'; col-- {
		_, size := utf8.DecodeRuneInString(s[offset:])
		offset += size
	}
	return offset
}

// word widens a place to the name there. CEL places a call at its opening
// parenthesis and a field at its dot.
func word(s string, at int) (from, to int) {
	at = min(at, len(s))
	if at < len(s) && s[at] == '.' {
		from, to = at+1, at+1
		for to < len(s) && isNameByte(s[to]) {
			to++
		}
		return from, to
	}
	from, to = at, at
	if at < len(s) && (s[at] == '(' || isNameByte(s[at])) || at == len(s) {
		for from > 0 && isNameByte(s[from-1]) {
			from--
		}
		for to < len(s) && isNameByte(s[to]) {
			to++
		}
	}
	if from == to && to < len(s) {
		_, size := utf8.DecodeRuneInString(s[to:])
		to += size
	}
	return from, to
}

func isNameByte(c byte) bool {
	return c == '_' || '0' <= c && c <= '9' || 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z'
}

// runtimeError translates a failure of the computation, at the call that
// failed.
func runtimeError(t source.Text, ast *cel.Ast, err error) diag.Diagnostic {
	at := t.Place()
	var failed *types.Err
	if errors.As(err, &failed) {
		if where := ast.NativeRep().SourceInfo().GetStartLocation(failed.NodeID()); failed.NodeID() > 0 && where.Line() > 0 {
			at = t.Span(word(t.Value, offsetOf(t.Value, where)))
		}
	}
	var f *failure
	if errors.As(err, &f) {
		d := diag.New(f.code, at, "%s", f.message)
		if f.suggestion != "" {
			d = d.Suggesting("%s", f.suggestion)
		}
		return d
	}
	message := err.Error()
	if strings.Contains(message, "cost limit exceeded") {
		message = "it takes too long to compute"
	}
	return diag.New(diag.BadExpression, at, "the expression %q can't be computed: %s", trim(t.Value), message)
}
