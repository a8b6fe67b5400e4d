package ionize

import (
	"bytes"
	"compress/gzip"
	_ "embed"
	"encoding/binary"
	"fmt"
	"io"
	"math"
	"slices"
	"sync"
	"unsafe"
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

	table codeTable
	unit  Row // what one step of a row's bytes is worth, column by column
	rows  []packedRow
}

// packedRow is a row in bytes, each offset by zeroByte, eight to a word, so
// that a few additions of words sum up many columns (see sumRows).
type packedRow [words]uint64

const (
	words    = (Width + 7) / 8
	zeroByte = 125 // the byte of a zero; bytes go from 0 to twice that

	// mostSummed rows can be added up in 16 bits, which hold 65,535.
	mostSummed = 65535 / (2 * zeroByte)
)

// Term is a row and how often it counts.
type Term struct {
	Times float32
	Row   *Row
}

// Add adds the terms to x, in their order.
func (x *Row) Add(terms ...Term) {
	if len(terms) > 0 {
		addTerms(x, &terms[0], len(terms))
	}
}

// Activate applies the hidden units to their input x and returns the
// corrections.
func Activate(x *Row, weights *[Outputs][Hidden]float32) (out [Outputs]float32) {
	activate(x, weights, &out)
	return out
}

// find returns the places of the rows that the codes have, mostSummed at most,
// in the memory of places where that is enough.
func (c *Corrections) find(places []int32, codes []uint32) []int32 {
	if len(codes) == 0 || len(c.rows) == 0 {
		return places[:0]
	}
	places = slices.Grow(places[:0], len(codes))
	n := findRows(unsafe.SliceData(places), &codes[0], len(codes), &c.table, &c.rows[0])
	return places[:min(n, mostSummed)]
}

// sum sets x to the sum of the rows at the places, times the scale.
func (c *Corrections) sum(x *Row, places []int32, scale float32) {
	if len(places) == 0 {
		*x = Row{}
		return
	}
	sumRows(x, &c.rows[0], &places[0], len(places), &c.unit, scale)
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
		row := left[4*int(n)+Width*i:][:Width]
		for w := range c.rows[i] {
			c.rows[i][w] = binary.LittleEndian.Uint64(row[8*w:])
		}
	}
	if c.table, err = newCodeTable(codes); err != nil {
		return nil, fmt.Errorf("reading the fitted corrections: %w", err)
	}
	return c, nil
}

//go:embed corrections.bin
var correctionsFile []byte

// Fitted returns the table that the program carries.
func Fitted() *Corrections { return fitted() }

// Of returns the row of a code; false where it has none.
func (c *Corrections) Of(code uint32) (row Row, ok bool) {
	places := c.find(nil, []uint32{code})
	c.sum(&row, places, 1)
	return row, len(places) > 0
}

// fitted is the table that the program carries.
var fitted = sync.OnceValue(func() *Corrections {
	c, err := ReadCorrections(bytes.NewReader(correctionsFile))
	if err != nil {
		panic(err) // the table is part of the program
	}
	return c
})
