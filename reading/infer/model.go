package infer

import (
	"bytes"
	"compress/gzip"
	_ "embed"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"sync"

	"ionwright/reading/boost"
	"ionwright/reading/net"
)

// Model holds the fitted parameters. It is immutable after Load or ReadModel
// and safe for concurrent use.
type Model struct {
	Provenance Provenance
	Ion        IonModel
	Networks   []*net.Net // averaged
	Groups     GroupModel
	Formula    FormulaModel
	Mixture    MixtureModel
}

// Provenance says where the parameters come from.
type Provenance struct {
	Data        string `json:"data"`        // what they were fitted to
	Attribution string `json:"attribution"` // as the data's license asks
	Command     string `json:"command"`     // what makes them again
	Spectra     int    `json:"spectra"`
	Structures  int    `json:"structures"`
}

//go:embed model.bin.gz
var embedded []byte

var load = sync.OnceValues(func() (*Model, error) { return ReadModel(bytes.NewReader(embedded)) })

// Load returns the model that is built into the program. It fails only if the
// program was built with a damaged file.
func Load() (*Model, error) { return load() }

const magic = "ionwright reading model 4\n"

// NetworkCount is how many networks the model averages over.
const NetworkCount = 6

// scores returns the mean of the networks' outputs.
func (m *Model) scores(inputs []net.Input) []float32 { return Scores(m.Networks, inputs) }

// Scores returns the mean of the outputs of networks of one shape.
func Scores(networks []*net.Net, inputs []net.Input) []float32 {
	var sum []float32
	for k, n := range networks {
		out := n.Scores(inputs)
		if k == 0 {
			sum = out
			continue
		}
		for i, v := range out {
			sum[i] += v
		}
	}
	for i := range sum {
		sum[i] /= float32(len(networks))
	}
	return sum
}

// parts are the pieces of the model in the order of the file.
func (m *Model) parts() []part {
	if m.Networks == nil {
		m.Networks = make([]*net.Net, NetworkCount)
	}
	var nets []part
	for k := range m.Networks {
		nets = append(nets, part{
			write: func(w io.Writer) error { return m.Networks[k].Write(w) },
			read: func(r io.Reader) (err error) {
				m.Networks[k], err = net.Read(r)
				return err
			},
		})
	}
	return slices.Concat(m.Ion.parts(), nets, m.Groups.parts(), m.Formula.parts(), m.Mixture.parts())
}

// part writes and reads one piece of the model.
type part struct {
	write func(io.Writer) error
	read  func(io.Reader) error
}

func treesPart(e **boost.Ensemble) part {
	return part{
		write: func(w io.Writer) error { return (*e).Write(w) },
		read: func(r io.Reader) (err error) {
			*e, err = boost.Read(r)
			return err
		},
	}
}

func numbersPart(numbers any) part {
	return part{
		write: func(w io.Writer) error { return binary.Write(w, binary.LittleEndian, numbers) },
		read:  func(r io.Reader) error { return binary.Read(r, binary.LittleEndian, numbers) },
	}
}

// Write writes the model in the form that ReadModel reads: a line that names
// the format, a line of JSON with the provenance, then the parts, compressed
// as one gzip stream. The same model gives the same bytes.
func (m *Model) Write(w io.Writer) error {
	zip, err := gzip.NewWriterLevel(w, gzip.BestCompression)
	if err != nil {
		return err
	}
	head, err := json.Marshal(m.Provenance)
	if err != nil {
		return err
	}
	if _, err := fmt.Fprintf(zip, "%s%s\n", magic, head); err != nil {
		return err
	}
	for _, p := range m.parts() {
		if err := p.write(zip); err != nil {
			return err
		}
	}
	return zip.Close()
}

// ReadModel reads a model written by Write.
func ReadModel(r io.Reader) (*Model, error) {
	zip, err := gzip.NewReader(r)
	if err != nil {
		return nil, fmt.Errorf("reading the model of package infer: %w", err)
	}
	data, err := io.ReadAll(zip)
	if err != nil {
		return nil, fmt.Errorf("reading the model of package infer: %w", err)
	}
	rest, ok := bytes.CutPrefix(data, []byte(magic))
	if !ok {
		return nil, errors.New("reading the model of package infer: the first line isn't " + magic[:len(magic)-1])
	}
	head, body, ok := bytes.Cut(rest, []byte("\n"))
	if !ok {
		return nil, errors.New("reading the model of package infer: no line of provenance")
	}
	m := &Model{}
	if err := json.Unmarshal(head, &m.Provenance); err != nil {
		return nil, fmt.Errorf("reading the model of package infer: provenance: %w", err)
	}
	in := bytes.NewReader(body)
	for k, p := range m.parts() {
		if err := p.read(in); err != nil {
			return nil, fmt.Errorf("reading the model of package infer: part %d: %w", k+1, err)
		}
	}
	if in.Len() > 0 {
		return nil, fmt.Errorf("reading the model of package infer: %d bytes too many", in.Len())
	}
	return m, nil
}
