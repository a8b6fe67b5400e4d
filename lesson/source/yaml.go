package source

import (
	"errors"
	"fmt"
	"strings"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"

	"ionwright/lesson/diag"
)

const (
	maxYAML   = 64 << 10 // bytes of one YAML text
	yamlDepth = 64       // nested lists; the parser's time grows with their square
)

// shape is what a YAML value looks like.
type shape uint8

const (
	empty shape = iota
	scalar
	sequence
	mapping
)

func (s shape) String() string {
	return [...]string{"nothing", "a single value", "a list", "a set of keys"}[s]
}

// value is a YAML value with places: the plain part of YAML that lessons use,
// without anchors, aliases, tags and merge keys.
type value struct {
	shape   shape
	text    Text    // where it stands; a scalar's content
	items   []value // of a sequence
	entries []entry // of a mapping, in the order of the source
}

type entry struct {
	key   Text
	value value
}

// readYAML parses t. What can't be read is added to diags, and ok is false.
func readYAML(t Text, diags *diag.List) (v value, ok bool) {
	if len(t.Value) > maxYAML {
		diags.Add(diag.New(diag.TooLarge, t.Span(0, 0), "this YAML has %d bytes, more than the %d that are read", len(t.Value), maxYAML))
		return value{}, false
	}
	if at := tooDeep(t.Value); at >= 0 {
		diags.Add(diag.New(diag.BadYAML, t.Span(at, at+1), "lists are nested more than %d deep", yamlDepth))
		return value{}, false
	}
	file, err := parse(t.Value)
	if err != nil {
		diags.Add(yamlError(t, err))
		return value{}, false
	}
	var body ast.Node
	for _, doc := range file.Docs {
		switch {
		case doc.Body == nil:
		case body != nil:
			diags.Add(diag.New(diag.BadYAML, placeOf(t, doc.Body.GetToken()), "a second YAML document starts here").
				Suggesting("keep everything in one document: no line of three hyphens inside"))
			return value{}, false
		default:
			body = doc.Body
		}
	}
	r := yamlReader{text: t, diags: diags}
	v = r.value(body)
	return v, !r.failed
}

// parse calls the YAML parser and turns a panic of it into an error: it is
// handed whatever an author types.
func parse(s string) (file *ast.File, err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("not understood as YAML: %v", p)
		}
	}()
	return parser.ParseBytes([]byte(s), 0)
}

// tooDeep is the offset at which lists nest deeper than yamlDepth, or -1.
// Brackets in strings count too: no lesson has that many.
func tooDeep(s string) int {
	if at := strings.Index(s, strings.Repeat("- ", yamlDepth)); at >= 0 {
		return at
	}
	depth := 0
	for i := 0; i < len(s); i++ {
		switch s[i] {
		case '[', '{':
			if depth++; depth > yamlDepth {
				return i
			}
		case ']', '}':
			depth = max(0, depth-1)
		}
	}
	return -1
}

func yamlError(t Text, err error) diag.Diagnostic {
	var duplicate *yaml.DuplicateKeyError
	var at yaml.Error
	if !errors.As(err, &at) || at.GetToken() == nil {
		return diag.New(diag.BadYAML, t.Place(), "this isn't YAML: %s", firstLine(err.Error()))
	}
	span := placeOf(t, at.GetToken())
	message := firstLine(at.GetMessage())
	if errors.As(err, &duplicate) || strings.Contains(message, "already defined at") {
		return diag.New(diag.Duplicate, span, "the key %q stands here a second time", at.GetToken().Value)
	}
	d := diag.New(diag.BadYAML, span, "this isn't YAML: %s", message)
	if at := strings.IndexByte(t.Value, '\t'); at >= 0 && strings.TrimSpace(lineBefore(t.Value, at)) == "" {
		return diag.New(diag.BadYAML, t.Span(at, at+1), "this isn't YAML: a line is indented with a tab").Suggesting("indent with spaces")
	}
	if strings.Contains(t.Value, ": {{") {
		d = d.Suggesting("a value that begins with a brace stands in quotes: '{{ ... }}'")
	}
	if strings.Contains(message, "mapping value is not allowed") || strings.Contains(message, "reserved character") {
		d = d.Suggesting("put a value with a colon, a brace or another special character in single quotes")
	}
	return d
}

// lineBefore is what stands on the line of a place before it.
func lineBefore(s string, at int) string { return s[strings.LastIndexByte(s[:at], '\n')+1 : at] }

func firstLine(s string) string {
	line, _, _ := strings.Cut(s, "\n")
	return line
}

func placeOf(t Text, tk *token.Token) diag.Span {
	start := tokenOffset(t, tk)
	return t.Span(start, min(start+len(firstLine(tk.Value)), len(t.Value)))
}

func tokenOffset(t Text, tk *token.Token) int {
	return t.offsetOf(tk.Position.Line, tk.Position.Column)
}

type yamlReader struct {
	text   Text
	diags  *diag.List
	failed bool
}

func (r *yamlReader) value(n ast.Node) value {
	if n == nil {
		return value{text: r.text.Sub(0, 0)}
	}
	start := tokenOffset(r.text, n.GetToken())
	at := func(from int) Text { return r.text.Sub(from, from) }
	switch n := n.(type) {
	case *ast.NullNode:
		return value{text: at(start)}
	case *ast.StringNode:
		if q := n.Token.Type; q == token.SingleQuoteType || q == token.DoubleQuoteType {
			start++
		}
		return value{shape: scalar, text: r.text.align(n.Value, start)}
	case *ast.LiteralNode:
		body := r.text.offsetOf(n.Start.Position.Line+1, 1)
		return value{shape: scalar, text: r.text.align(n.Value.Value, body)}
	case *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.InfinityNode, *ast.NanNode:
		return value{shape: scalar, text: r.text.align(n.GetToken().Value, start)}
	case *ast.SequenceNode:
		v := value{shape: sequence, text: at(start)}
		for _, item := range n.Values {
			v.items = append(v.items, r.value(item))
		}
		return v
	case *ast.MappingNode:
		v := value{shape: mapping, text: at(start)}
		for i, pair := range n.Values {
			if i == 0 && !n.IsFlowStyle {
				v.text = at(tokenOffset(r.text, pair.Key.GetToken()))
			}
			v.entries = append(v.entries, r.pair(pair))
		}
		return v
	case *ast.MappingValueNode:
		return value{shape: mapping, text: at(tokenOffset(r.text, n.Key.GetToken())), entries: []entry{r.pair(n)}}
	}
	r.failed = true
	r.diags.Add(diag.New(diag.BadYAML, placeOf(r.text, n.GetToken()), "%s isn't used in lessons", strings.ToLower(n.Type().String())).
		Suggesting("write the value out; put it in single quotes if it begins with a special character"))
	return value{text: at(start)}
}

func (r *yamlReader) pair(n *ast.MappingValueNode) entry {
	key := r.value(n.Key)
	if key.shape != scalar && !r.failed {
		r.failed = true
		r.diags.Add(diag.New(diag.BadYAML, key.text.Place(), "a key must be a plain word"))
	}
	return entry{key: key.text, value: r.value(n.Value)}
}
