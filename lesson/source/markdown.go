package source

import (
	"bytes"
	"regexp"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"

	"ionwright/lesson/diag"
)

// Prose is a piece of Markdown, parsed: the lesson's body, an included file,
// or a sentence inside a fenced block. Its tree holds, beside CommonMark's own
// nodes, [Value], [Checked] and [Fenced] nodes.
type Prose struct {
	Text Text
	Root ast.Node
}

// Span gives the place of a node's byte range in the lesson's files.
func (p *Prose) Span(from, to int) diag.Span { return p.Text.Span(from, to) }

// Value is a computed value in the prose, written {{ expression }}.
type Value struct {
	ast.BaseInline
	Expr Text
	from int // of the expression
	to   int
}

// KindValue is the kind of Value nodes.
var KindValue = ast.NewNodeKind("LessonValue")

// Kind returns KindValue.
func (*Value) Kind() ast.NodeKind { return KindValue }

// Dump writes the node for debugging.
func (v *Value) Dump(source []byte, level int) {
	ast.DumpHelper(v, source, level, map[string]string{"Expr": string(source[v.from:v.to])}, nil)
}

// Checked is a piece of prose with the expression it must agree with, written
// [words]{= expression }. Where the expression gives a number, formula or
// text, the words must state it; where it gives true or false, the words are a
// statement that must be true.
type Checked struct {
	ast.BaseInline
	Written    Text
	Expr       Text
	words, exp [2]int
}

// KindChecked is the kind of Checked nodes.
var KindChecked = ast.NewNodeKind("LessonChecked")

// Kind returns KindChecked.
func (*Checked) Kind() ast.NodeKind { return KindChecked }

// Dump writes the node for debugging.
func (c *Checked) Dump(source []byte, level int) {
	ast.DumpHelper(c, source, level, map[string]string{
		"Written": string(source[c.words[0]:c.words[1]]), "Expr": string(source[c.exp[0]:c.exp[1]])}, nil)
}

// unclosed marks a {{ or ]{= whose closing braces are missing from the line.
type unclosed struct {
	ast.BaseInline
	from, to int
	closing  string
}

var kindUnclosed = ast.NewNodeKind("LessonUnclosed")

func (*unclosed) Kind() ast.NodeKind { return kindUnclosed }

func (u *unclosed) Dump(source []byte, level int) { ast.DumpHelper(u, source, level, nil, nil) }

// Fenced is a fenced block with a meaning in lessons, in place of the code
// block that CommonMark sees.
type Fenced struct {
	ast.BaseBlock
	Block Block
}

// KindFenced is the kind of Fenced nodes.
var KindFenced = ast.NewNodeKind("LessonFenced")

// Kind returns KindFenced.
func (*Fenced) Kind() ast.NodeKind { return KindFenced }

// IsRaw is true: the block's text is YAML, not Markdown.
func (*Fenced) IsRaw() bool { return true }

// Dump writes the node for debugging.
func (f *Fenced) Dump(source []byte, level int) { ast.DumpHelper(f, source, level, nil, nil) }

// newMarkdown is the parser: CommonMark and tables, heading attributes
// ({#key}), and the two forms of computed prose.
func newMarkdown() goldmark.Markdown {
	return goldmark.New(
		goldmark.WithExtensions(extension.Table),
		goldmark.WithParserOptions(
			parser.WithHeadingAttribute(),
			// Before links and emphasis, after code spans and escapes.
			parser.WithInlineParsers(
				util.Prioritized(valueParser{}, 150),
				util.Prioritized(checkedParser{}, 151),
			)))
}

// valueParser reads `{{ expression }}`.
type valueParser struct{}

func (valueParser) Trigger() []byte { return []byte{'{'} }

func (valueParser) Parse(_ ast.Node, block text.Reader, _ parser.Context) ast.Node {
	line, segment := block.PeekLine()
	if !bytes.HasPrefix(line, []byte("{{")) {
		return nil
	}
	end := closing(line, 2, "}}")
	if end < 0 {
		block.Advance(2)
		return &unclosed{from: segment.Start, to: segment.Start + 2, closing: "}}"}
	}
	block.Advance(end + 2)
	return &Value{from: segment.Start + 2, to: segment.Start + end}
}

// checkedParser reads `[words]{= expression }`.
type checkedParser struct{}

func (checkedParser) Trigger() []byte { return []byte{'['} }

func (checkedParser) Parse(_ ast.Node, block text.Reader, _ parser.Context) ast.Node {
	line, segment := block.PeekLine()
	words := 1
	for words < len(line) && line[words] != ']' {
		if line[words] == '[' {
			return nil // the inner bracket may be the one
		}
		words++
	}
	const open = "]{="
	if words > 1 && callWithout.Match(line[words:]) {
		block.Advance(words + 2)
		return &unclosed{from: segment.Start, to: segment.Start + words + 2, closing: open}
	}
	if words == 1 || !bytes.HasPrefix(line[words:], []byte(open)) {
		return nil
	}
	expr := words + len(open)
	end := closing(line, expr, "}")
	if end < 0 {
		block.Advance(expr)
		return &unclosed{from: segment.Start, to: segment.Start + expr, closing: "}"}
	}
	block.Advance(end + 1)
	return &Checked{
		words: [2]int{segment.Start + 1, segment.Start + words},
		exp:   [2]int{segment.Start + expr, segment.Start + end},
	}
}

// callWithout is a checked value without its equals sign, and oneBrace a
// computed one with a single brace.
var (
	callWithout = regexp.MustCompile(`^\]\{ *[A-Za-z]+ ?\(`)
	oneBrace    = regexp.MustCompile(`(?:^|[^\\{])\{ *[A-Za-z]+\([^{}]*\)[^{}]*\}`)
)

// closing finds the closing braces of an expression that starts at from,
// skipping CEL's strings and its own braces; -1 when the line has none.
func closing(line []byte, from int, braces string) int {
	depth := 0
	for i := from; i < len(line); i++ {
		switch c := line[i]; c {
		case '"', '\'':
			for i++; i < len(line) && line[i] != c; i++ {
				if line[i] == '\\' {
					i++
				}
			}
		case '{':
			depth++
		case '}':
			if depth == 0 {
				if bytes.HasPrefix(line[i:], []byte(braces)) {
					return i
				}
				return -1
			}
			depth--
		}
	}
	return -1
}
