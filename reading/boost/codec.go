package boost

import (
	"bufio"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
)

// The binary form is little-endian: width, trees, nodes as uint32, base as
// float64, the roots as uint32; then column by column the nodes' features as
// int16 (-1 for a leaf), thresholds as float32 (splits only), left and right
// children as uint16 distances from the node (splits only), values as float32.

// Write writes the ensemble in the form that Read reads.
func (e *Ensemble) Write(w io.Writer) error {
	buf := bufio.NewWriter(w)
	var scratch []byte
	scratch = binary.LittleEndian.AppendUint32(scratch, uint32(e.width))
	scratch = binary.LittleEndian.AppendUint32(scratch, uint32(len(e.roots)))
	scratch = binary.LittleEndian.AppendUint32(scratch, uint32(len(e.nodes)))
	scratch = binary.LittleEndian.AppendUint64(scratch, math.Float64bits(e.base))
	for _, r := range e.roots {
		scratch = binary.LittleEndian.AppendUint32(scratch, uint32(r))
	}
	for _, n := range e.nodes {
		scratch = binary.LittleEndian.AppendUint16(scratch, uint16(int16(n.feature)))
	}
	for _, n := range e.nodes {
		if n.feature >= 0 {
			scratch = binary.LittleEndian.AppendUint32(scratch, math.Float32bits(n.threshold))
		}
	}
	for i, n := range e.nodes {
		if n.feature >= 0 {
			scratch = binary.LittleEndian.AppendUint16(scratch, uint16(int(n.left)-i))
			scratch = binary.LittleEndian.AppendUint16(scratch, uint16(int(n.right)-i))
		}
	}
	for _, n := range e.nodes {
		scratch = binary.LittleEndian.AppendUint32(scratch, math.Float32bits(n.value))
	}
	if _, err := buf.Write(scratch); err != nil {
		return err
	}
	return buf.Flush()
}

const maxNodes = 1 << 22

// Read reads an ensemble written by Write. It fails on data that isn't one:
// the children it accepts lie behind their parent, so that Score ends.
func Read(r io.Reader) (*Ensemble, error) {
	var head [20]byte
	if _, err := io.ReadFull(r, head[:]); err != nil {
		return nil, fmt.Errorf("reading trees: head: %w", err)
	}
	width := binary.LittleEndian.Uint32(head[0:])
	trees := binary.LittleEndian.Uint32(head[4:])
	count := binary.LittleEndian.Uint32(head[8:])
	if width == 0 && count > 0 || width > math.MaxInt16 || trees > count || count > maxNodes {
		return nil, fmt.Errorf("reading trees: %d features, %d trees, %d nodes can't be", width, trees, count)
	}
	e := &Ensemble{
		base:  math.Float64frombits(binary.LittleEndian.Uint64(head[12:])),
		roots: make([]int32, trees), nodes: make([]node, count), width: int(width),
	}
	var failed error
	take := func(n int) []byte {
		b := make([]byte, n)
		if _, err := io.ReadFull(r, b); err != nil && failed == nil {
			failed = fmt.Errorf("reading trees: %w", err)
		}
		return b
	}
	roots := take(4 * int(trees))
	for i := range e.roots {
		e.roots[i] = int32(binary.LittleEndian.Uint32(roots[4*i:]))
		if e.roots[i] < 0 || e.roots[i] >= int32(count) {
			return nil, errors.New("reading trees: a root lies outside the nodes")
		}
	}
	splits := 0
	features := take(2 * int(count))
	for i := range e.nodes {
		f := int32(int16(binary.LittleEndian.Uint16(features[2*i:])))
		if f < -1 || f >= int32(width) {
			return nil, fmt.Errorf("reading trees: node %d asks feature %d of %d", i, f, width)
		}
		e.nodes[i].feature = f
		if f >= 0 {
			splits++
		}
	}
	thresholds, children := take(4*splits), take(4*splits)
	values := take(4 * int(count))
	if failed != nil {
		return nil, failed
	}
	k := 0
	for i := range e.nodes {
		n := &e.nodes[i]
		n.value = math.Float32frombits(binary.LittleEndian.Uint32(values[4*i:]))
		if n.feature < 0 {
			continue
		}
		n.threshold = math.Float32frombits(binary.LittleEndian.Uint32(thresholds[4*k:]))
		n.left = int32(i) + int32(binary.LittleEndian.Uint16(children[4*k:]))
		n.right = int32(i) + int32(binary.LittleEndian.Uint16(children[4*k+2:]))
		if n.left <= int32(i) || n.right <= int32(i) || n.left >= int32(count) || n.right >= int32(count) || max(n.left, n.right)-int32(i) > 255 {
			return nil, fmt.Errorf("reading trees: node %d has children outside its tree", i)
		}
		k++
	}
	e.pack()
	return e, nil
}
