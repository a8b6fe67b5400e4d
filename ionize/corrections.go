package ionize

import (
	"bytes"
	"compress/gzip"
	_ "embed"
	"encoding/binary"
	"fmt"
	"io"
	"math"
	"sync"
)

// Hidden is the number of hidden units of the fitted corrections, Outputs the
// number of quantities of a step that they correct: the natural logarithm of
// its frequency factor, and its critical energy in eV.
const (
	Hidden  = 126
	Outputs = 2
	Width   = Hidden + Outputs

	// PieceScale is what the rows of a piece's codes count beside those of a
	// step's own: there are many of the former.
	PieceScale float32 = 0.15
)

// Row is what one code, dense quantity or the bias adds: to the input of each
// hidden unit, and straight to the corrections of a step and of the molecular
// ion.
type Row [Width]float32

// Corrections are the fitted parameters: they move a step's handbook
// frequency factor and critical energy by what its surroundings say (see
// description and makeup). The sum over a step's codes passes through hidden
// units max(0, x) and a linear layer. A code without a row adds nothing.
type Corrections struct {
	Provenance string // one line: data, settings, and the figures measured
	Dense      [NumDense]Row
	Bias       Row
	Out        [Outputs][Hidden]float32
	Warmth     Warmth
	Staying    Staying

	places []rowPlace // open addressing by the low bits; code 0 marks a free place
	unit   Row        // what one step of a row's bytes is worth, column by column
	rows   []packedRow
}

// packedRow is a row in bytes, each offset by zeroByte, eight to a word, so
// that a few additions of words sum up many columns (see total).
type packedRow [words]uint64

const (
	words    = (Width + 7) / 8
	zeroByte = 125 // the byte of a zero; bytes go from 0 to twice that

	// mostSummed rows fit into a total: 16 bits hold 65,535.
	mostSummed = 65535 / (2 * zeroByte)
)

// total is a sum of n packed rows, in lanes of 16 bits: the even bytes' and the
// odd bytes'.
type total struct {
	even, odd [words]uint64
	n         int
}

// total sums up the rows at the places, mostSummed at most.
func (c *Corrections) total(places []int32) (t total) {
	const low = 0x00ff00ff00ff00ff
	t.n = len(places)
	for w := 0; w < words; w += 2 { // two words of all rows, as their four sums stay in registers
		var even0, even1, odd0, odd1 uint64
		for _, at := range places {
			two := (*[2]uint64)(c.rows[at][w:])
			even0 += two[0] & low
			odd0 += two[0] >> 8 & low
			even1 += two[1] & low
			odd1 += two[1] >> 8 & low
		}
		t.even[w], t.even[w+1], t.odd[w], t.odd[w+1] = even0, even1, odd0, odd1
	}
	return t
}

// row is what the rows summed up in t are worth.
func (c *Corrections) row(t *total) (x Row) {
	zero := int32(zeroByte * t.n)
	for w := range words {
		even, odd := t.even[w], t.odd[w]
		to, unit := (*[8]float32)(x[8*w:]), (*[8]float32)(c.unit[8*w:])
		for h := 0; h < 8; h += 2 {
			to[h] = unit[h] * float32(int32(even&0xffff)-zero)
			to[h+1] = unit[h+1] * float32(int32(odd&0xffff)-zero)
			even, odd = even>>16, odd>>16
		}
	}
	return x
}

func (x *Row) plus(y *Row) {
	for h := range x {
		x[h] += y[h]
	}
}

// plusStep adds what the pieces and the dense quantities of a step bring, in
// one pass.
func (x *Row) plusStep(c *Corrections, source, product, neutral *Row, critical, kept float32) {
	byCritical, byKept := &c.Dense[denseCritical], &c.Dense[denseKept]
	for h := range x {
		x[h] = x[h] + source[h] + product[h] + neutral[h] + critical*byCritical[h] + kept*byKept[h]
	}
}

// plusTimes adds v times y.
func (x *Row) plusTimes(v float32, y *Row) {
	for h := range x {
		x[h] += v * y[h]
	}
}

// Activate applies the hidden units to their input x and returns the
// corrections.
func Activate(x *Row, weights *[Outputs][Hidden]float32) [Outputs]float32 {
	frequency, critical := x[Hidden], x[Hidden+1]
	toFrequency, toCritical := &weights[0], &weights[1]
	for h, v := range x[:Hidden] {
		v = max(v, 0)
		frequency += toFrequency[h] * v
		critical += toCritical[h] * v
	}
	return [Outputs]float32{frequency, critical}
}

// rowPlace says which row is a code's; a negative one that it has none.
type rowPlace struct {
	code uint32
	row  int32
}

func (c *Corrections) find(code uint32) int32 {
	mask := uint32(len(c.places) - 1)
	for at := code & mask; ; at = (at + 1) & mask {
		switch c.places[at].code {
		case code:
			return c.places[at].row
		case 0:
			return -1
		}
	}
}

// index lays the codes out for find; code 0 is never asked for, as it marks a
// free place.
func (c *Corrections) index(codes []uint32) {
	size := 4
	for size < 2*len(codes)+2 {
		size *= 2
	}
	c.places = make([]rowPlace, size)
	mask := uint32(size - 1)
	for i, code := range codes {
		if code == 0 {
			continue
		}
		at := code & mask
		for c.places[at].code != 0 {
			at = (at + 1) & mask
		}
		c.places[at] = rowPlace{code, int32(i)}
	}
}

// The table's file: gzip of a line of text (the provenance), then in little
// endian the number of rows, Bias, Dense, Out, Warmth, Staying and the units of the
// columns as 32-bit floats, the codes ascending, and the rows as bytes.

// WriteCorrections writes the table with the given rows, codes ascending. Each
// column is rounded to zeroByte steps of its largest entry.
func WriteCorrections(w io.Writer, c *Corrections, codes []uint32, rows []Row) error {
	z, err := gzip.NewWriterLevel(w, gzip.BestCompression)
	if err != nil {
		return err
	}
	var unit Row
	for i := range rows {
		for h, v := range rows[i] {
			unit[h] = max(unit[h], v/zeroByte, -v/zeroByte)
		}
	}
	bytesOf := make([][Width]uint8, len(rows))
	for i := range rows {
		for h, v := range rows[i] {
			bytesOf[i][h] = zeroByte
			if unit[h] > 0 {
				bytesOf[i][h] = uint8(zeroByte + int(math.Round(float64(v/unit[h]))))
			}
		}
	}
	if _, err := io.WriteString(z, c.Provenance+"\n"); err != nil {
		return err
	}
	for _, part := range []any{uint32(len(codes)), c.Bias, c.Dense, c.Out, c.Warmth, c.Staying, unit, codes, bytesOf} {
		if err := binary.Write(z, binary.LittleEndian, part); err != nil {
			return err
		}
	}
	return z.Close()
}

// ReadCorrections reads a table.
func ReadCorrections(r io.Reader) (*Corrections, error) {
	z, err := gzip.NewReader(r)
	if err != nil {
		return nil, fmt.Errorf("reading the fitted corrections: %w", err)
	}
	all, err := io.ReadAll(z)
	if err != nil {
		return nil, fmt.Errorf("reading the fitted corrections: %w", err)
	}
	line, rest, ok := bytes.Cut(all, []byte("\n"))
	if !ok {
		return nil, fmt.Errorf("reading the fitted corrections: no line of provenance")
	}
	c := &Corrections{Provenance: string(line)}
	from := bytes.NewReader(rest)
	var n uint32
	if err := binary.Read(from, binary.LittleEndian, &n); err != nil || int64(n) > int64(len(rest)) {
		return nil, fmt.Errorf("reading the fitted corrections: the number of rows is damaged")
	}
	for _, part := range []any{&c.Bias, &c.Dense, &c.Out, &c.Warmth, &c.Staying, &c.unit} {
		if err := binary.Read(from, binary.LittleEndian, part); err != nil {
			return nil, fmt.Errorf("reading the fitted corrections: %w", err)
		}
	}
	left := rest[len(rest)-from.Len():]
	if want := int(n) * (4 + Width); len(left) != want {
		return nil, fmt.Errorf("reading the fitted corrections: %d rows take %d bytes, %d are left", n, want, len(left))
	}
	codes := make([]uint32, n)
	c.rows = make([]packedRow, n)
	for i := range codes {
		codes[i] = binary.LittleEndian.Uint32(left[4*i:])
		for h, v := range left[4*int(n)+Width*i:][:Width] {
			c.rows[i][h/8] |= uint64(v) << (h % 8 * 8)
		}
	}
	c.index(codes)
	return c, nil
}

//go:embed corrections.bin
var correctionsFile []byte

// Fitted returns the table that the program carries.
func Fitted() *Corrections { return fitted() }

// Of returns the row of a code; false where it has none.
func (c *Corrections) Of(code uint32) (Row, bool) {
	i := c.find(code)
	if i < 0 {
		return Row{}, false
	}
	t := c.total([]int32{i})
	return c.row(&t), true
}

// fitted is the table that the program carries.
var fitted = sync.OnceValue(func() *Corrections {
	c, err := ReadCorrections(bytes.NewReader(correctionsFile))
	if err != nil {
		panic(err) // the table is part of the program
	}
	return c
})
