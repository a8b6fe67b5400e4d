package chem

import (
	"strconv"
	"strings"
)

// Script is how a part of a formula's text is set.
type Script uint8

// The scripts.
const (
	Normal      Script = iota
	Subscript          // counts
	Superscript        // mass numbers of labels, and charges
)

// TextPart is a run of a formula's text in one script.
type TextPart struct {
	Text   string
	Script Script
}

// Parts returns the text of f in Hill order (carbon, hydrogen, then by symbol;
// all by symbol where there is no carbon; after each element its labelled
// isotopes), cut into runs of one script: what a drawing or a page needs to
// set it. The charge is the last part, with a true minus sign.
func (f Formula) Parts() []TextPart {
	var order [MaxSpecies]int
	places := f.hill(&order)
	parts := make([]TextPart, 0, 2*len(places)+1)
	for _, at := range places {
		s := f.species[at]
		if a := s.MassNumber(); a != 0 {
			parts = append(parts, TextPart{strconv.Itoa(a), Superscript})
		}
		parts = append(parts, TextPart{s.Element().Symbol(), Normal})
		if n := f.counts[at]; n != 1 {
			parts = append(parts, TextPart{strconv.Itoa(int(n)), Subscript})
		}
	}
	if f.charge != 0 {
		parts = append(parts, TextPart{chargeText(int(f.charge), "−"), Superscript})
	}
	return parts
}

// String returns f in plain ASCII and Hill order: "C6H5+", a label in
// brackets: "C[13C]H4", a multiple charge after a space: "C7H7 2+", so that
// [ParseFormula] reads the same formula again. The empty formula is "".
func (f Formula) String() string {
	var buffer [64]byte
	return string(f.AppendText(buffer[:0]))
}

// AppendText appends what String returns to dst.
func (f Formula) AppendText(dst []byte) []byte {
	var order [MaxSpecies]int
	for _, at := range f.hill(&order) {
		s := f.species[at]
		if a := s.MassNumber(); a != 0 {
			dst = append(dst, '[')
			dst = strconv.AppendInt(dst, int64(a), 10)
			dst = append(dst, s.Element().Symbol()...)
			dst = append(dst, ']')
		} else {
			dst = append(dst, s.Element().Symbol()...)
		}
		if n := f.counts[at]; n != 1 {
			dst = strconv.AppendInt(dst, int64(n), 10)
		}
	}
	if f.charge > 1 || f.charge < -1 {
		dst = append(dst, ' ')
	}
	return append(dst, chargeText(int(f.charge), "-")...)
}

// chargeText is "+", "-", "2+", "3-", … with the given minus; "" for 0.
func chargeText(z int, minus string) string {
	sign := "+"
	if z < 0 {
		sign, z = minus, -z
	}
	switch z {
	case 0:
		return ""
	case 1:
		return sign
	}
	return strconv.Itoa(z) + sign
}

// Unicode returns f with the sub- and superscript characters of Unicode:
// "C₆H₅⁺", "¹³CH₄", "C₇H₇²⁺". [ParseFormula] reads it.
func (f Formula) Unicode() string {
	var b strings.Builder
	for _, part := range f.Parts() {
		switch part.Script {
		case Subscript:
			subscripts.WriteString(&b, part.Text)
		case Superscript:
			superscripts.WriteString(&b, part.Text)
		default:
			b.WriteString(part.Text)
		}
	}
	return b.String()
}

var (
	subscripts   = strings.NewReplacer("0", "₀", "1", "₁", "2", "₂", "3", "₃", "4", "₄", "5", "₅", "6", "₆", "7", "₇", "8", "₈", "9", "₉")
	superscripts = strings.NewReplacer("0", "⁰", "1", "¹", "2", "²", "3", "³", "4", "⁴", "5", "⁵", "6", "⁶", "7", "⁷", "8", "⁸", "9", "⁹", "+", "⁺", "−", "⁻")
)

// HTML returns f with sub and sup elements; nothing in it needs escaping.
func (f Formula) HTML() string {
	var b strings.Builder
	for _, part := range f.Parts() {
		switch part.Script {
		case Subscript:
			b.WriteString("<sub>" + part.Text + "</sub>")
		case Superscript:
			b.WriteString("<sup>" + part.Text + "</sup>")
		default:
			b.WriteString(part.Text)
		}
	}
	return b.String()
}

// hill returns the places of f's species in Hill order (Hill, J. Am. Chem.
// Soc. 22 (1900) 478), in the array given.
func (f Formula) hill(order *[MaxSpecies]int) []int {
	carbon := f.Count(C) > 0
	before := func(a, b Species) bool {
		ra, rb := hillRank(a.Element(), carbon), hillRank(b.Element(), carbon)
		if ra != rb {
			return ra < rb
		}
		if a.Element() != b.Element() {
			return a.Element().Symbol() < b.Element().Symbol()
		}
		return a < b
	}
	n := 0
	for at, s := range f.species {
		if s == 0 {
			break
		}
		i := n
		for i > 0 && before(s, f.species[order[i-1]]) {
			order[i] = order[i-1]
			i--
		}
		order[i] = at
		n++
	}
	return order[:n]
}

func hillRank(e Element, carbon bool) int {
	switch {
	case carbon && e == C:
		return 0
	case carbon && e == H:
		return 1
	}
	return 2
}

// MarshalText writes f as String does.
func (f Formula) MarshalText() ([]byte, error) { return f.AppendText(nil), nil }

// UnmarshalText reads what [ParseFormula] reads; an empty text is the empty
// formula.
func (f *Formula) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*f = Formula{}
		return nil
	}
	read, err := ParseFormula(string(text))
	if err != nil {
		return err
	}
	*f = read
	return nil
}
