package lesson_test

import (
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"ionwright/internal/witness"
	"ionwright/lesson/diag"
	"ionwright/lesson/eval"
	"ionwright/lesson/example"
	"ionwright/lesson/load"
	"ionwright/lesson/source"
)

var update = flag.Bool("update", false, "write the generated documentation anew")

// generated compares a file of docs with what the program says, or writes it.
func generated(t *testing.T, name, text string) {
	t.Helper()
	path := filepath.Join(witness.Root(), "docs", name)
	if *update {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	have, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if string(have) != text {
		t.Errorf("docs/%s isn't what the program says; run go test ./lesson -run %s -update", name, t.Name())
	}
}

// bottles computes expressions over the example lesson.
func bottles(t *testing.T) func(expr string) string {
	t.Helper()
	src, diags := source.Parse(example.Bottles())
	if len(diags) > 0 {
		t.Fatal(diags)
	}
	l, diags, err := load.Load(context.Background(), example.Bottles(), src)
	if err != nil || len(diags) > 0 {
		t.Fatal(diags, err)
	}
	env, err := eval.New(l, map[string]int{"spectrum3": 3})
	if err != nil {
		t.Fatal(err)
	}
	return func(expr string) string {
		x, diags := env.Compile(source.Text{Value: expr})
		if x == nil {
			t.Fatalf("%s: %v", expr, diags)
		}
		r, d, err := x.Eval(context.Background())
		if err != nil || d != nil {
			t.Fatalf("%s: %v, %v", expr, d, err)
		}
		return r.Text.String()
	}
}

// TestFunctionsDocument tests the example of every function and generates
// docs/functions.md.
func TestFunctionsDocument(t *testing.T) {
	compute := bottles(t)
	var b strings.Builder
	b.WriteString("# Functions of the lesson source\n\n" +
		"Generated from the program's own list; each example is computed over the example lesson by a test.\n\n" +
		"Values in the prose, claims and answers are written in CEL, the Common Expression Language (cel.dev): numbers, text in quotes,\n" +
		"`+ - * / %`, `== != < <= > >=`, `&& || !`, `condition ? this : that`, lists such as `[43, 57]`, `x in list`, `size(list)`,\n" +
		"`list.all(x, ...)`, `list.exists(x, ...)` and the `math` functions. Whole numbers and decimals are compared as they are; in\n" +
		"arithmetic write `double(...)` around a whole number that meets a decimal one.\n\n" +
		"The names in the examples are compounds (`bottle3`, `bottle5`, `bottle8`) and the instrument (`marigold`) of the example lesson.\n")
	for _, f := range eval.Functions() {
		fmt.Fprintf(&b, "\n## %s\n\n", f.Name)
		for _, form := range f.Forms {
			fmt.Fprintf(&b, "`%s` %s\n\n", f.Signature(form), typesOf(form, f.Result))
		}
		b.WriteString(f.Doc + "\n")
		if f.Example == "" {
			t.Errorf("%s has no example", f.Name)
			continue
		}
		if got := compute(f.Example); got != f.Prints {
			t.Errorf("%s prints %q, and its documentation says %q", f.Example, got, f.Prints)
		}
		fmt.Fprintf(&b, "\n    {{ %s }}   prints: %s\n", f.Example, strings.ReplaceAll(f.Prints, "\u00a0", " "))
	}
	generated(t, "functions.md", b.String())
}

// typeNames are the types as the documentation words them.
var typeNames = map[string]string{
	"number": "a number", "whole number": "a whole number", "decimal": "a number", "text": "text", "truth": "true or false",
	"texts": "a list of texts", "numbers": "a list of whole numbers", "instrument": "an instrument",
}

func typeName(name string) string {
	if words, ok := typeNames[name]; ok {
		return words
	}
	return "a " + name
}

// typesOf says in words what a form takes and gives.
func typesOf(form eval.Form, result string) string {
	var parts []string
	for _, p := range form {
		if p.Name != p.Type {
			parts = append(parts, p.Name+" is "+typeName(p.Type))
		}
	}
	text := "gives " + typeName(result)
	if len(parts) > 0 {
		text += ", where " + strings.Join(parts, ", ")
	}
	return text
}

var annotation = regexp.MustCompile(`⟦([a-z-]+) "(?:[^"\\]|\\.)*"⟧`)

// TestDiagnosticsDocument generates docs/diagnostics.md. That every example
// triggers its code is tested in lesson/check.
func TestDiagnosticsDocument(t *testing.T) {
	var b strings.Builder
	b.WriteString("# What can be found in a lesson\n\n" +
		"Generated from the program's own list. Every message ends with one of these codes in brackets. Errors stop the build; warnings don't.\n" +
		"In the examples, `[CODE]` stands before the place that the message points at.\n")
	for _, info := range diag.Codes() {
		fmt.Fprintf(&b, "\n## %s (%s)\n\n%s\n\n", info.Code, info.Severity, info.Summary)
		text := annotation.ReplaceAllString(info.Example, "[$1]")
		if lines := strings.Split(text, "\n"); len(lines) > 60 {
			text = strings.Join(lines[:30], "\n") + "\n...\n"
		}
		for line := range strings.Lines(text) {
			b.WriteString(strings.TrimRight("    "+strings.ToValidUTF8(line, "?"), " \n") + "\n")
		}
	}
	b.WriteString("\n# What can be found in a text that isn't a lesson\n")
	for _, info := range diag.ForeignCodes() {
		fmt.Fprintf(&b, "\n## %s (%s)\n\n%s\n\n    %s", info.Code, info.Severity, info.Summary, annotation.ReplaceAllString(info.Example, "[$1]"))
	}
	generated(t, "diagnostics.md", b.String())
}
