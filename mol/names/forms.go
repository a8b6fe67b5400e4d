package names

import (
	"slices"
	"strings"
)

// unmarked drops a stereodescriptor in parentheses after the name: 2-hexenal (E).
func (t text) unmarked() (text, bool) {
	open := strings.LastIndexByte(t.s, '(')
	if open < 1 || t.s[len(t.s)-1] != ')' || !stereoText(t.s[open+1:len(t.s)-1]) {
		return text{}, false
	}
	head := t.slice(0, open)
	head.s = strings.TrimRight(head.s, " -")
	head.place = head.place[:len(head.s)+1]
	head.caps = head.caps[:len(head.s)+1]
	head.marked = marksIn(t.s[open:])
	return head, head.s != ""
}

// spaced puts a space before the name of an inorganic acid's anion that was
// written together with the alkyl part: trimethylphosphate.
func (t text) spaced() (text, bool) {
	for _, list := range terms().oxoacids {
		for _, e := range list {
			cut := len(t.s) - len(e.text)
			if e.anion && cut > 0 && t.s[cut:] == e.text && (letter(t.s[cut-1]) || t.s[cut-1] == ')') {
				return t.slice(0, cut).plus(" ", t.slice(cut, len(t.s))), true
			}
		}
	}
	return text{}, false
}

// slice returns the part of a text.
func (t text) slice(begin, end int) text {
	return text{
		raw: t.raw, s: t.s[begin:end], place: t.place[begin : end+1], caps: t.caps[begin : end+1], cased: t.cased,
	}
}

// plus joins two texts with a literal between them; the characters keep their
// places in the name as given.
func (t text) plus(between string, u text) text {
	n := len(t.s)
	out := text{raw: t.raw, cased: t.cased}
	out.place = append(out.place, t.place[:n]...)
	out.caps = append(out.caps, t.caps[:n]...)
	for range len(between) {
		out.place = append(out.place, t.place[n])
		out.caps = append(out.caps, false)
	}
	out.place = append(out.place, u.place...)
	out.caps = append(out.caps, u.caps...)
	out.s = t.s + between + u.s
	return out
}

// turned reads an inverted name, as indexes print it: the parent, then its
// substituents with a final hyphen, then what a class name adds.
//
//	parent { ", " substituents "-" } { ", " words }
func (t text) turned() (text, bool) {
	var parts []text
	begin, depth := 0, 0
	for i := 0; i+1 < len(t.s); i++ {
		switch t.s[i] {
		case '(':
			depth++
		case ')':
			depth--
		case ',':
			if depth == 0 && t.s[i+1] == ' ' {
				parts = append(parts, t.slice(begin, i))
				begin = i + 2
			}
		}
	}
	parts = append(parts, t.slice(begin, len(t.s)))
	if len(parts) < 2 {
		if i := strings.IndexByte(t.s, ' '); i > 0 && strings.HasSuffix(t.s[:i], "hydrazone") { // dimethylhydrazone acetone
			return t.slice(i+1, len(t.s)).plus(" ", t.slice(0, i)), true
		}
		return text{}, false
	}
	parent := parts[0]
	if open := strings.LastIndexByte(parent.s, '('); open > 0 && strings.HasSuffix(parent.s, ")-") && stereoEnd(parent.s[open:len(parent.s)-1]) {
		mark, head := parent.slice(open, len(parent.s)), parent.slice(0, open) // 9-octadecenoic acid (Z)-
		parent = mark.plus("", head.slice(0, len(strings.TrimRight(head.s, " "))))
	}
	classes := classWords()
	for _, part := range parts[1:] {
		switch {
		case part.s == "":
		case slices.ContainsFunc(classes, func(w classWord) bool { return w.text == parent.s }):
			parent = part.plus(" ", parent) // disulfide, dimethyl
		case strings.HasSuffix(part.s, "-"):
			body := part.slice(0, len(part.s)-1)
			between := ""
			if parent.s != "" && (digit(parent.s[0]) || strings.HasPrefix(parent.s, "n-") || strings.HasSuffix(body.s, ")") && stereoEnd(body.s)) {
				between = "-"
			}
			parent = body.plus(between, parent)
		default:
			parent = parent.plus(" ", part)
		}
	}
	return parent, true
}

// stereoEnd reports whether the text is only a stereodescriptor in
// parentheses.
func stereoEnd(s string) bool {
	return strings.HasPrefix(s, "(") && stereoText(s[1:len(s)-1])
}

// joined removes spaces that don't belong: methyl benzene, phenyl acetic acid.
// Spaces before acid and ester stay.
func (t text) joined() ([]text, bool) {
	var list []text
	for i := 0; i < len(t.s); i++ {
		if t.s[i] != ' ' {
			continue
		}
		rest := t.s[i+1:]
		if strings.HasPrefix(rest, "acid") || strings.HasPrefix(rest, "ester") {
			continue
		}
		list = append(list, t.slice(0, i).plus("", t.slice(i+1, len(t.s))))
	}
	if len(list) > 8 {
		list = list[:8]
	}
	return list, len(list) > 0
}

// derived makes a reader of a stretch of the text with more text after it.
func (r *reader) derived(begin, end int, more string) *reader {
	t := r.slice(begin, end).plus(more, r.slice(end, end))
	sub := newReader(t)
	sub.without, sub.budget = r.without, r.budget
	return sub
}
