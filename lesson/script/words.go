package script

import (
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/util"

	"ionwright/chem"
	"ionwright/lesson/eval"
	"ionwright/lesson/source"
)

// piece is a run of text without markup.
type piece struct {
	text    string
	formula bool     // came out as a formula
	figures []string // ids that it refers to
}

func plain(text string) []piece { return []piece{{text: text}} }

// inline gives the text of prose of one paragraph.
func (n *narrator) inline(p *source.Prose) []piece {
	if p == nil {
		return nil
	}
	var all []piece
	for b := p.Root.FirstChild(); b != nil; b = b.NextSibling() {
		all = append(all, n.words(p, b)...)
		all = append(all, piece{text: " "})
	}
	return all
}

// words gives the text of a node with its values filled in.
func (n *narrator) words(p *source.Prose, node ast.Node) []piece {
	var all []piece
	src := []byte(p.Text.Value)
	_ = ast.Walk(node, func(c ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch c := c.(type) {
		case *ast.Text:
			text := c.Segment.Value(src)
			if !c.IsRaw() {
				text = util.ResolveEntityNames(util.ResolveNumericReferences(util.UnescapePunctuations(text)))
			}
			all = append(all, piece{text: string(text)})
			if c.SoftLineBreak() || c.HardLineBreak() {
				all = append(all, piece{text: " "})
			}
		case *source.Value:
			all = append(all, valuePieces(n.report.Values[c])...)
		case *source.Checked:
			words := c.Written.Value
			if words != "" && words[0] >= '0' && words[0] <= '9' { // a number stays with its unit
				words = strings.ReplaceAll(words, " ", "\u00a0")
			}
			all = append(all, piece{text: words, formula: n.report.Checked[c].Kind == eval.Formula})
		case *ast.AutoLink:
			all = append(all, piece{text: string(c.Label(src))})
		case *ast.RawHTML:
			return ast.WalkSkipChildren, nil
		}
		return ast.WalkContinue, nil
	})
	return all
}

// valuePieces is a computed value, a formula with raised and lowered digits.
func valuePieces(r eval.Result) []piece {
	var out []piece
	for _, run := range r.Text {
		text := run.Text
		switch run.Script {
		case chem.Subscript:
			text = shifted(text, lowered)
		case chem.Superscript:
			text = shifted(text, raised)
		}
		formula := r.Kind == eval.Formula && !strings.Contains(text, " ") || run.Script != chem.Normal
		if last := len(out) - 1; last >= 0 && out[last].formula && formula {
			out[last].text += text
			continue
		}
		out = append(out, piece{text: text, formula: formula})
	}
	if len(out) > 0 {
		out[0].figures = r.Trace.Figures
	}
	return out
}

// digitsAndSigns in the order of raised and lowered.
const (
	digitsAndSigns = "0123456789+−"
	raised         = "⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻"
	lowered        = "₀₁₂₃₄₅₆₇₈₉₊₋"
)

// shifted raises or lowers digits and signs.
func shifted(text, to string) string {
	return strings.Map(func(r rune) rune {
		if i := slices.Index([]rune(digitsAndSigns), r); i >= 0 {
			return []rune(to)[i]
		}
		return r
	}, text)
}

// leveled undoes shifted.
func leveled(text string) string {
	return strings.Map(func(r rune) rune {
		for _, from := range []string{raised, lowered} {
			if i := slices.Index([]rune(from), r); i >= 0 {
				return []rune(digitsAndSigns)[i]
			}
		}
		return r
	}, text)
}

// sentence is a sentence and the figures that it speaks of.
type sentence struct {
	words   []Word
	figures []string
}

// abbreviated ends in a full stop that ends no sentence.
var abbreviated = regexp.MustCompile(`(?i)^\W*(e\.g|i\.e|cf|ca|vs|dr|fig|approx|[a-z])\.$`)

// sentences cuts text at white space and at the ends of sentences.
func sentences(text []piece) []sentence {
	var out []sentence
	var s sentence
	for _, t := range spaced(text) {
		if len(s.words) > 0 && opens(t.Written) && closes(s.words[len(s.words)-1].Written) {
			out, s = append(out, s), sentence{}
		}
		s.figures = append(s.figures, t.figures...)
		// What can't be said stays with a word that can.
		if last := len(s.words) - 1; last >= 0 && (t.count == 0 || s.words[last].count == 0) {
			before := s.words[last]
			s.words[last] = Word{before.Written + "\u00a0" + t.Written, strings.TrimSpace(before.Spoken + " " + t.Spoken), before.count + t.count}
			continue
		}
		s.words = append(s.words, t.Word)
	}
	out = append(out, s)
	out = slices.DeleteFunc(out, func(s sentence) bool { return count(s.words) == 0 })
	for _, s := range out {
		first, size := utf8.DecodeRuneInString(s.words[0].Spoken)
		if !strings.HasPrefix(s.words[0].Spoken, "m over z") {
			s.words[0].Spoken = string(unicode.ToUpper(first)) + s.words[0].Spoken[size:]
		}
	}
	return out
}

func closes(word string) bool {
	bare := strings.TrimRight(word, `"'”’)]`)
	return bare != "" && strings.ContainsAny(bare[len(bare)-1:], ".!?") && !abbreviated.MatchString(bare)
}

func opens(word string) bool {
	r, _ := utf8.DecodeRuneInString(strings.TrimLeft(word, `"'“‘([`))
	return !unicode.IsLower(r) || strings.HasPrefix(word, "m/z")
}

// spacedWord is a word and the figures that it names.
type spacedWord struct {
	Word
	figures []string
}

// spaced cuts text at white space, but not at no-break spaces.
func spaced(text []piece) []spacedWord {
	var out []spacedWord
	glued := false // the next piece clings to the last word
	for _, p := range joined(text) {
		clean := strings.Map(func(r rune) rune {
			switch {
			case r == '\u00a0':
				return r
			case unicode.IsSpace(r):
				return ' '
			case unicode.IsControl(r):
				return -1
			}
			return r
		}, p.text)
		for i, w := range strings.Split(clean, " ") {
			if i > 0 {
				glued = false
			}
			if strings.Trim(w, "\u00a0") == "" {
				continue
			}
			spoken := say(w, p.formula)
			if glued {
				last := &out[len(out)-1]
				last.Written, last.Spoken = last.Written+w, attach(last.Spoken, spoken)
			} else {
				if w == ":" { // between the numbers of a ratio
					spoken = "to"
				}
				out = append(out, spacedWord{Word: Word{Written: w, Spoken: spoken}})
				glued = true
			}
			last := &out[len(out)-1]
			last.figures = append(last.figures, p.figures...)
			p.figures = nil
			last.count = spokenWords(last.Spoken)
		}
	}
	return withUnits(out)
}

// withUnits puts units with the numbers before them, and leaves single no-break
// spaces, and only inside of words.
func withUnits(words []spacedWord) []spacedWord {
	var out []spacedWord
	for _, w := range words {
		w.Written = strings.Join(strings.FieldsFunc(w.Written, func(r rune) bool { return r == '\u00a0' }), "\u00a0")
		last := len(out) - 1
		if last >= 0 {
			if unit := unitAfter(out[last].Written, w.Written); unit != "" {
				joint := Word{Written: out[last].Written + "\u00a0" + w.Written, Spoken: out[last].Spoken + " " + unit}
				joint.count = spokenWords(joint.Spoken)
				out[last] = spacedWord{joint, append(out[last].figures, w.figures...)}
				continue
			}
		}
		out = append(out, w)
	}
	return out
}

// joined puts neighbors of one sort together, and m/z with the number behind
// it.
func joined(text []piece) []piece {
	var out []piece
	for _, p := range text {
		if last := len(out) - 1; last >= 0 && !p.formula && !out[last].formula && len(p.figures) == 0 {
			out[last].text += p.text
			continue
		}
		out = append(out, p)
	}
	for i := range out {
		out[i].text = strings.ReplaceAll(out[i].text, "m/z ", "m/z\u00a0")
		out[i].text = strings.ReplaceAll(out[i].text, "m/z\n", "m/z\u00a0")
	}
	return out
}

// attach puts what is said of two halves of a word together.
func attach(a, b string) string {
	last, _ := utf8.DecodeLastRuneInString(a)
	first, _ := utf8.DecodeRuneInString(b)
	if unicode.IsLetter(last) && unicode.IsLetter(first) {
		return a + " " + b
	}
	return a + b
}

func count(words []Word) int {
	sum := 0
	for _, w := range words {
		sum += w.count
	}
	return sum
}

// spokenWords counts the words of a text, a hyphenated one as its parts.
func spokenWords(s string) int {
	return len(strings.FieldsFunc(s, func(r rune) bool { return r != '\'' && r != '’' && !unicode.IsLetter(r) && !unicode.IsDigit(r) }))
}

// written is text on one line, with ordinary spaces.
func written(text []piece) string {
	var words []string
	for _, w := range spaced(text) {
		words = append(words, w.Written)
	}
	return strings.ReplaceAll(strings.Join(words, " "), "\u00a0", " ")
}

// oneLine takes line breaks and control characters out.
func oneLine(s string) string { return written(plain(s)) }
