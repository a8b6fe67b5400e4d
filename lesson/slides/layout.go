package slides

import (
	"fmt"
	"slices"
	"unicode/utf8"
)

// emu is a length in English metric units, 914,400 to the inch (ECMA-376 part
// 1, 20.1.2.1).
type emu int

const (
	inch  emu = 914_400
	point emu = 12_700

	slideWidth  = 40 * inch / 3 // 16 : 9
	slideHeight = 15 * inch / 2
	margin      = 6 * inch / 10
)

// box is a place on a slide.
type box struct{ x, y, w, h emu }

var (
	titleBox   = box{margin, 4 * inch / 10, slideWidth - 2*margin, 11 * inch / 10}
	bodyBox    = box{margin, 16 * inch / 10, slideWidth - 2*margin, 52 * inch / 10}
	numberBox  = box{slideWidth - margin - inch, 69 * inch / 10, inch, 4 * inch / 10}
	openingBox = box{margin, 17 * inch / 10, slideWidth - 2*margin, 2 * inch}
	belowBox   = box{margin, 4 * inch, slideWidth - 2*margin, 27 * inch / 10}
)

// Sizes of type, in points.
const (
	bodySize     = 28
	leastSize    = 14
	titleSize    = 32
	openingSize  = 44
	captionSize  = 14
	noteSize     = 12
	lineSpacing  = 1.2 // of the type's size
	paragraphGap = 0.4 // before a paragraph, of the type's size
	meanWidth    = 0.52
)

// lines estimates how many lines a text takes: letters of the usual faces are
// about half as wide as the type is high (common practice).
func lines(text string, width emu, size float64) int {
	letters := max(1, int(float64(width)/(meanWidth*size*float64(point))))
	return max(1, (utf8.RuneCountInString(text)+letters-1)/letters)
}

// height estimates how high paragraphs stand.
func height(all []Paragraph, width emu, size float64) emu {
	total := 0.0
	for _, p := range all {
		total += float64(lines(TextOf(p.Runs), width-indent(p), size))*lineSpacing + paragraphGap
	}
	return emu(total * size * float64(point))
}

func indent(p Paragraph) emu {
	if p.Bullet || p.Indent {
		return 3 * inch / 10
	}
	return 0
}

// fit is the largest size of type, down to the smallest, at which paragraphs
// fit a box, and false where not even that does.
func fit(all []Paragraph, in box, largest float64) (float64, bool) {
	for size := largest; size >= leastSize; size -= 2 {
		if height(all, in.w, size) <= in.h {
			return size, true
		}
	}
	return leastSize, false
}

// beside are the places of text and picture that stand side by side.
func beside() (text, picture box) {
	const gap = 3 * inch / 10
	text, picture = bodyBox, bodyBox
	text.w = 2*bodyBox.w/5 - gap/2
	picture.w = bodyBox.w - text.w - gap
	picture.x = text.x + text.w + gap
	return text, picture
}

// place puts a picture as large as it can be into the middle of a box.
func (p *Picture) place(in box) box {
	w, h := emu(max(p.Width, 1)), emu(max(p.Height, 1))
	out := box{w: in.w, h: in.w * h / w}
	if out.h > in.h {
		out.w, out.h = in.h*w/h, in.h
	}
	out.x, out.y = in.x+(in.w-out.w)/2, in.y+(in.h-out.h)/2
	return out
}

// paged is the deck with the text that doesn't fit one slide on further ones,
// and with titles that are all different.
func (d *Deck) paged() []Slide {
	var out []Slide
	for _, s := range d.Slides {
		out = append(out, pages(s)...)
	}
	used := map[string]int{}
	for i := range out {
		title := TextOf(out[i].Title)
		if title == "" {
			title = fmt.Sprintf("Slide %d", i+1)
			out[i].Title = Plain(title)
		}
		used[title]++
		if n := used[title]; n > 1 {
			out[i].Title = append(slices.Clone(out[i].Title), Run{Text: fmt.Sprintf(" (%d)", n)})
			used[TextOf(out[i].Title)]++
		}
	}
	return out
}

// pages cuts a slide whose text doesn't fit at the ends of paragraphs. The notes
// and the picture stay with the first part. A paragraph too long for a slide of
// its own is cut between words.
func pages(s Slide) []Slide {
	in := bodyBox
	switch {
	case s.Opening:
		in = belowBox
	case s.Picture != nil:
		in, _ = beside()
	}
	var parts [][]Paragraph
	for _, p := range slices.Concat(cut(s.Body, in)...) {
		last := len(parts) - 1
		if last > 0 {
			in = bodyBox
		}
		if last < 0 || height(append(slices.Clone(parts[last]), p), in.w, leastSize+2) > in.h {
			parts = append(parts, nil)
			last++
		}
		parts[last] = append(parts[last], p)
	}
	if len(parts) == 0 {
		return []Slide{s}
	}
	out := make([]Slide, len(parts))
	for i, body := range parts {
		out[i] = Slide{Title: s.Title, Body: body}
		if i == 0 {
			out[i] = s
			out[i].Body = body
		} else if s.Notes != nil {
			out[i].Notes = []string{}
		}
	}
	return out
}

// cut cuts paragraphs that are too long for a place of their own.
func cut(all []Paragraph, in box) [][]Paragraph {
	const size = leastSize + 2
	most := int(float64(in.h)/(lineSpacing*size*float64(point))-1) * int(float64(in.w)/(meanWidth*size*float64(point)))
	var out [][]Paragraph
	for _, p := range all {
		var pieces []Paragraph
		for utf8.RuneCountInString(TextOf(p.Runs)) > most {
			head, rest := split(p.Runs, most)
			piece := p
			piece.Runs = head
			pieces = append(pieces, piece)
			p.Runs, p.Indent, p.Bullet = rest, p.Indent || p.Bullet, false
		}
		out = append(out, append(pieces, p))
	}
	return out
}

// split cuts runs at the last space within a number of characters, or there
// where there is none.
func split(runs []Run, most int) (head, rest []Run) {
	text := []rune(TextOf(runs))
	at := most
	for i := most; i > most/2; i-- {
		if text[i] == ' ' {
			at = i
			break
		}
	}
	for _, r := range runs {
		letters := []rune(r.Text)
		n := min(max(at, 0), len(letters))
		at -= len(letters)
		if n > 0 {
			part := r
			part.Text = string(letters[:n])
			head = append(head, part)
		}
		if n < len(letters) {
			part := r
			part.Text = string(letters[n:])
			rest = append(rest, part)
		}
	}
	return head, rest
}
