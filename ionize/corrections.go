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
// number of quantities they correct: the natural logarithm of a step's
// frequency factor, and its critical energy in eV.
const (
	Hidden  = 16
	Outputs = 2
	Width   = Hidden + Outputs
)

// Row is what one code, dense quantity or the bias adds: to the input of each
// hidden unit, and straight to the corrections.
type Row [Width]float32

// Corrections are the fitted parameters: they move a step's handbook
// frequency factor and critical energy by what its surroundings say (see
// description). The sum over a step's codes passes through hidden units
// max(0, x) and a linear layer. A code without a row adds nothing.
type Corrections struct {
	Provenance string // one line: data, settings, and the figures measured
	Dense      [NumDense]Row
	Bias       Row
	Out        [Outputs][Hidden]float32

	codes []uint32 // open addressing by the low bits; 0 marks a free place
	at    []int32  // row of the code at the same place
	scale []float32
	rows  [][Width]int8
}

// Correct returns what to add to the natural logarithm of the frequency
// factor and to the critical energy (eV) of the step described by d, and the
// share of its codes that have a row.
func (c *Corrections) Correct(d *description) (lnFrequency, critical float64, known float64) {
	x := c.Bias
	for k, v := range d.dense {
		for h := range x {
			x[h] += v * c.Dense[k][h]
		}
	}
	found := 0
	for _, code := range d.codes[:d.n] {
		i := c.find(code)
		if i < 0 {
			continue
		}
		found++
		scale, row := c.scale[i], &c.rows[i]
		for h := range x {
			x[h] += scale * float32(row[h])
		}
	}
	out := Activate(&x, &c.Out)
	return float64(out[0]), float64(out[1]), float64(found) / float64(max(d.n, 1))
}

// Activate applies the hidden units to their input x and returns the
// corrections.
func Activate(x *Row, weights *[Outputs][Hidden]float32) (out [Outputs]float32) {
	for o := range Outputs {
		out[o] = x[Hidden+o]
	}
	for h := range Hidden {
		if x[h] <= 0 {
			continue
		}
		for o := range Outputs {
			out[o] += weights[o][h] * x[h]
		}
	}
	return out
}

func (c *Corrections) find(code uint32) int32 {
	mask := uint32(len(c.codes) - 1)
	for at := code & mask; ; at = (at + 1) & mask {
		switch c.codes[at] {
		case code:
			return c.at[at]
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
	c.codes, c.at = make([]uint32, size), make([]int32, size)
	mask := uint32(size - 1)
	for i, code := range codes {
		if code == 0 {
			continue
		}
		at := code & mask
		for c.codes[at] != 0 {
			at = (at + 1) & mask
		}
		c.codes[at], c.at[at] = code, int32(i)
	}
}

// The table's file: gzip of a line of text (the provenance), then in little
// endian the number of rows, Bias, Dense and Out as 32-bit floats, the codes
// ascending, one scale a row as a 32-bit float, and the rows as signed bytes.

// WriteCorrections writes the table with the given rows, codes ascending. The
// rows are rounded to 127 steps of their largest entry.
func WriteCorrections(w io.Writer, c *Corrections, codes []uint32, rows []Row) error {
	z, err := gzip.NewWriterLevel(w, gzip.BestCompression)
	if err != nil {
		return err
	}
	scales := make([]float32, len(rows))
	bytesOf := make([][Width]int8, len(rows))
	for i := range rows {
		largest := float32(0)
		for _, v := range rows[i] {
			largest = max(largest, float32(math.Abs(float64(v))))
		}
		scales[i] = largest / 127
		for h, v := range rows[i] {
			if largest > 0 {
				bytesOf[i][h] = int8(math.Round(float64(v / scales[i])))
			}
		}
	}
	if _, err := io.WriteString(z, c.Provenance+"\n"); err != nil {
		return err
	}
	for _, part := range []any{uint32(len(codes)), c.Bias, c.Dense, c.Out, codes, scales, bytesOf} {
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
	for _, part := range []any{&c.Bias, &c.Dense, &c.Out} {
		if err := binary.Read(from, binary.LittleEndian, part); err != nil {
			return nil, fmt.Errorf("reading the fitted corrections: %w", err)
		}
	}
	left := rest[len(rest)-from.Len():]
	if want := int(n) * (4 + 4 + Width); len(left) != want {
		return nil, fmt.Errorf("reading the fitted corrections: %d rows take %d bytes, %d are left", n, want, len(left))
	}
	codes := make([]uint32, n)
	c.scale, c.rows = make([]float32, n), make([][Width]int8, n)
	scales, entries := left[4*n:], left[8*n:]
	for i := range codes {
		codes[i] = binary.LittleEndian.Uint32(left[4*i:])
		c.scale[i] = math.Float32frombits(binary.LittleEndian.Uint32(scales[4*i:]))
		for h := range c.rows[i] {
			c.rows[i][h] = int8(entries[Width*i+h])
		}
	}
	c.index(codes)
	return c, nil
}

//go:embed corrections.bin
var correctionsFile []byte

// fitted is the table that the program carries.
var fitted = sync.OnceValue(func() *Corrections {
	c, err := ReadCorrections(bytes.NewReader(correctionsFile))
	if err != nil {
		panic(err) // the table is part of the program
	}
	return c
})
