package typeface

import (
	"encoding/binary"
	"math/bits"
	"slices"
)

// Subset returns a TrueType font with only the glyphs that runes need (and
// the missing-glyph box), without hinting instructions, small enough to embed
// in each figure: about 150 bytes a glyph. Runes that the font lacks are left
// out. Equal sets of runes, in any order, give equal bytes.
//
// The copyright and licence entries of the font's name table are kept, as its
// licence asks. Format: OpenType 1.9, tables OS/2 cmap glyf head hhea hmtx
// loca maxp name post.
func (f *Face) Subset(runes []rune) []byte {
	runes = slices.Clone(runes)
	slices.Sort(runes)
	runes = slices.Compact(runes)

	renumbered := map[uint16]uint16{0: 0}
	glyphs := []uint16{0} // old numbers in the new order
	add := func(g uint16) uint16 {
		if n, ok := renumbered[g]; ok {
			return n
		}
		n := uint16(len(glyphs))
		renumbered[g] = n
		glyphs = append(glyphs, g)
		return n
	}
	var mapped []charGlyph
	for _, r := range runes {
		if g, ok := f.cmap[r]; ok {
			mapped = append(mapped, charGlyph{r, add(g)})
		}
	}
	var glyf, loca, hmtx []byte
	for i := 0; i < len(glyphs); i++ { // add may append components while this runs
		loca = binary.BigEndian.AppendUint32(loca, uint32(len(glyf)))
		glyf = append(glyf, withoutInstructions(f.outline(glyphs[i]), add)...)
		for len(glyf)%4 != 0 {
			glyf = append(glyf, 0)
		}
		hmtx = f.appendMetric(hmtx, glyphs[i])
	}
	loca = binary.BigEndian.AppendUint32(loca, uint32(len(glyf)))

	head := slices.Clone(f.tables["head"])
	binary.BigEndian.PutUint32(head[8:], 0)  // checkSumAdjustment, filled in below
	binary.BigEndian.PutUint16(head[50:], 1) // 32-bit loca
	hhea := slices.Clone(f.tables["hhea"])
	binary.BigEndian.PutUint16(hhea[34:], uint16(len(glyphs)))
	maxp := slices.Clone(f.tables["maxp"])
	binary.BigEndian.PutUint16(maxp[4:], uint16(len(glyphs)))
	binary.BigEndian.PutUint16(maxp[26:], 0) // maxSizeOfInstructions
	post := make([]byte, 32)
	binary.BigEndian.PutUint32(post, 0x00030000) // no glyph names

	return assemble([]table{
		{"OS/2", f.tables["OS/2"]},
		{"cmap", cmapTable(mapped)},
		{"glyf", glyf},
		{"head", head},
		{"hhea", hhea},
		{"hmtx", hmtx},
		{"loca", loca},
		{"maxp", maxp},
		{"name", nameTable(f.tables["name"])},
		{"post", post},
	})
}

type charGlyph struct {
	char  rune
	glyph uint16
}

type table struct {
	tag  string
	data []byte
}

// appendMetric adds g's advance and left side bearing.
func (f *Face) appendMetric(hmtx []byte, g uint16) []byte {
	old := f.tables["hmtx"]
	i := min(int(g), f.numMetrics-1)
	hmtx = append(hmtx, old[4*i:4*i+2]...)
	bearing := 4*i + 2
	if int(g) >= f.numMetrics {
		bearing = 4*f.numMetrics + 2*(int(g)-f.numMetrics)
	}
	if bearing+2 > len(old) {
		return append(hmtx, 0, 0)
	}
	return append(hmtx, old[bearing:bearing+2]...)
}

// Flags of a composite glyph's components.
const (
	argsAreWords    = 1 << 0
	haveScale       = 1 << 3
	moreComponents  = 1 << 5
	haveXYScale     = 1 << 6
	haveTwoByTwo    = 1 << 7
	haveInstruction = 1 << 8
)

// withoutInstructions copies a glyph without its hinting program; add gives
// the new number of each component of a composite.
func withoutInstructions(outline []byte, add func(uint16) uint16) []byte {
	if len(outline) < 10 {
		return nil
	}
	contours := int(int16(be16(outline, 0)))
	if contours >= 0 {
		at := 10 + 2*contours
		if at+2 > len(outline) {
			return nil
		}
		size := int(be16(outline, at))
		if at+2+size > len(outline) {
			return nil
		}
		out := slices.Clone(outline[:at])
		out = append(out, 0, 0)
		return append(out, outline[at+2+size:]...)
	}
	out := slices.Clone(outline)
	for at := 10; at+4 <= len(out); {
		flags := be16(out, at)
		binary.BigEndian.PutUint16(out[at:], flags&^haveInstruction)
		binary.BigEndian.PutUint16(out[at+2:], add(be16(out, at+2)))
		at += 6
		if flags&argsAreWords != 0 {
			at += 2
		}
		switch {
		case flags&haveScale != 0:
			at += 2
		case flags&haveXYScale != 0:
			at += 4
		case flags&haveTwoByTwo != 0:
			at += 8
		}
		if flags&moreComponents == 0 {
			return out[:min(at, len(out))]
		}
	}
	return out
}

// cmapTable writes one format 4 subtable, platform 3, encoding 1. A segment
// holds a run of consecutive characters with consecutive glyphs.
func cmapTable(chars []charGlyph) []byte {
	type segment struct{ start, end, delta uint16 }
	var segments []segment
	for _, c := range chars {
		if c.char >= 0xFFFF {
			continue // format 4 ends there, and so does the font
		}
		char, delta := uint16(c.char), c.glyph-uint16(c.char)
		if n := len(segments); n > 0 && segments[n-1].end+1 == char && segments[n-1].delta == delta {
			segments[n-1].end = char
			continue
		}
		segments = append(segments, segment{char, char, delta})
	}
	segments = append(segments, segment{0xFFFF, 0xFFFF, 1})

	n := len(segments)
	entries := bits.Len(uint(n)) - 1 // floor of log2 n
	put := binary.BigEndian.AppendUint16
	out := []byte{0, 0, 0, 1, 0, 3, 0, 1, 0, 0, 0, 12}
	out = put(out, 4)
	out = put(out, uint16(16+8*n))
	out = put(out, 0) // language
	out = put(out, uint16(2*n))
	out = put(out, uint16(2<<entries))
	out = put(out, uint16(entries))
	out = put(out, uint16(2*n-2<<entries))
	for _, s := range segments {
		out = put(out, s.end)
	}
	out = put(out, 0)
	for _, s := range segments {
		out = put(out, s.start)
	}
	for _, s := range segments {
		out = put(out, s.delta)
	}
	for range segments {
		out = put(out, 0)
	}
	return out
}

// nameTable keeps the copyright, the family and style names and the licence,
// in the entries for Unicode (platform 3).
func nameTable(old []byte) []byte {
	kept := map[uint16]bool{0: true, 1: true, 2: true, 4: true, 13: true, 14: true}
	count, strings := int(be16(old, 2)), int(be16(old, 4))
	var records, text []byte
	n := uint16(0)
	for i := range count {
		at := 6 + 12*i
		if at+12 > len(old) {
			break
		}
		size, offset := int(be16(old, at+8)), strings+int(be16(old, at+10))
		if be16(old, at) != 3 || !kept[be16(old, at+6)] || offset+size > len(old) {
			continue
		}
		records = append(records, old[at:at+10]...)
		records = binary.BigEndian.AppendUint16(records, uint16(len(text)))
		text = append(text, old[offset:offset+size]...)
		n++
	}
	out := binary.BigEndian.AppendUint16(nil, 0)
	out = binary.BigEndian.AppendUint16(out, n)
	out = binary.BigEndian.AppendUint16(out, 6+12*n)
	return append(append(out, records...), text...)
}

// assemble writes the table directory and the tables, which must be in
// ascending order of tag, with their checksums.
func assemble(tables []table) []byte {
	n := len(tables)
	entries := bits.Len(uint(n)) - 1
	put16, put32 := binary.BigEndian.AppendUint16, binary.BigEndian.AppendUint32
	out := put32(nil, 0x00010000)
	out = put16(out, uint16(n))
	out = put16(out, uint16(16<<entries))
	out = put16(out, uint16(entries))
	out = put16(out, uint16(16*n-16<<entries))
	offset, headAt := 12+16*n, 0
	for _, t := range tables {
		out = append(out, t.tag...)
		out = put32(out, checksum(t.data))
		out = put32(out, uint32(offset))
		out = put32(out, uint32(len(t.data)))
		if t.tag == "head" {
			headAt = offset
		}
		offset += (len(t.data) + 3) &^ 3
	}
	for _, t := range tables {
		out = append(out, t.data...)
		for len(out)%4 != 0 {
			out = append(out, 0)
		}
	}
	binary.BigEndian.PutUint32(out[headAt+8:], 0xB1B0AFBA-checksum(out))
	return out
}

// checksum is the sum of data's 32-bit words, the last one padded with zeros.
func checksum(data []byte) uint32 {
	sum := uint32(0)
	for len(data) >= 4 {
		sum += be32(data, 0)
		data = data[4:]
	}
	var last [4]byte
	copy(last[:], data)
	return sum + be32(last[:], 0)
}
