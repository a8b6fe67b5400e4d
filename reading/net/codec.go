package net

import (
	"encoding/binary"
	"fmt"
	"io"
	"math"
)

// Write writes the network in the form that Read reads: four sizes as uint32,
// then per layer the largest weight as float32, the weights in 1/127 of it as
// int8, and the offsets as float32.
func (n *Net) Write(w io.Writer) error {
	var out []byte
	for _, size := range [...]int{n.in, n.one, n.two, n.out} {
		out = binary.LittleEndian.AppendUint32(out, uint32(size))
	}
	for _, layer := range n.layers() {
		for row := range layer.rows {
			weights := layer.weights[row*layer.width : (row+1)*layer.width]
			top := float32(0)
			for _, v := range weights {
				top = max(top, float32(math.Abs(float64(v))))
			}
			out = binary.LittleEndian.AppendUint32(out, math.Float32bits(top))
			for _, v := range weights {
				q := 0.0
				if top > 0 {
					q = math.Round(float64(v / top * 127))
				}
				out = append(out, byte(int8(q)))
			}
		}
		for _, v := range layer.offsets {
			out = binary.LittleEndian.AppendUint32(out, math.Float32bits(v))
		}
	}
	_, err := w.Write(out)
	return err
}

type layerView struct {
	rows, width      int
	weights, offsets []float32
}

func (n *Net) layers() [3]layerView {
	return [3]layerView{{n.in, n.one, n.w1, n.b1}, {n.one, n.two, n.w2, n.b2}, {n.two, n.out, n.w3, n.b3}}
}

// Read reads a network written by Write: the weights come back rounded.
func Read(r io.Reader) (*Net, error) {
	var head [16]byte
	if _, err := io.ReadFull(r, head[:]); err != nil {
		return nil, fmt.Errorf("reading a network: head: %w", err)
	}
	var sizes [4]int
	for i := range sizes {
		sizes[i] = int(binary.LittleEndian.Uint32(head[4*i:]))
		if sizes[i] < 1 || sizes[i] > 4096 {
			return nil, fmt.Errorf("reading a network: a layer of %d units can't be", sizes[i])
		}
	}
	n := &Net{in: sizes[0], one: sizes[1], two: sizes[2], out: sizes[3]}
	n.w1, n.b1 = make([]float32, n.in*n.one), make([]float32, n.one)
	n.w2, n.b2 = make([]float32, n.one*n.two), make([]float32, n.two)
	n.w3, n.b3 = make([]float32, n.two*n.out), make([]float32, n.out)
	for _, layer := range n.layers() {
		row := make([]byte, 4+layer.width)
		for k := range layer.rows {
			if _, err := io.ReadFull(r, row); err != nil {
				return nil, fmt.Errorf("reading a network: weights: %w", err)
			}
			top := math.Float32frombits(binary.LittleEndian.Uint32(row))
			for i, q := range row[4:] {
				layer.weights[k*layer.width+i] = float32(int8(q)) / 127 * top
			}
		}
		offsets := make([]byte, 4*layer.width)
		if _, err := io.ReadFull(r, offsets); err != nil {
			return nil, fmt.Errorf("reading a network: offsets: %w", err)
		}
		for i := range layer.offsets {
			layer.offsets[i] = math.Float32frombits(binary.LittleEndian.Uint32(offsets[4*i:]))
		}
	}
	return n, nil
}
