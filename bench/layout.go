package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"text/tabwriter"

	"ionwright/draw"
	"ionwright/draw/layout"
	"ionwright/draw/structure"
	"ionwright/draw/svg"
	"ionwright/internal/witness"
	"ionwright/mol"
	"ionwright/mol/smiles"
)

// rdkitLayout lays out the structures on standard input three times and prints
// the seconds of processor time of each pass and of drawing each as SVG, with
// the places, bonds of length 1.
const rdkitLayout = `
import json, sys, time
from rdkit import Chem, RDLogger
from rdkit.Chem import rdDepictor
from rdkit.Chem.Draw import rdMolDraw2D
RDLogger.DisableLog('rdApp.*')
molecules = [Chem.MolFromSmiles(line.strip()) for line in sys.stdin]
out = {'version': Chem.rdBase.rdkitVersion, 'seconds': [], 'places': []}
for _ in range(3):
    start = time.process_time()
    for m in molecules:
        rdDepictor.Compute2DCoords(m)
    out['seconds'].append(time.process_time() - start)
for m in molecules:
    c = m.GetConformer()
    out['places'].append([[c.GetAtomPosition(i).x / 1.5, c.GetAtomPosition(i).y / 1.5] for i in range(m.GetNumAtoms())])
start = time.process_time()
for m in molecules:
    d = rdMolDraw2D.MolDraw2DSVG(300, 300)
    d.DrawMolecule(m)
    d.FinishDrawing()
    d.GetDrawingText()
out['svg'] = time.process_time() - start
print(json.dumps(out))
`

// layoutSpeed prints how fast structures are laid out and drawn and in how
// many of them the layout has flaws, beside RDKit.
func layoutSpeed(ctx context.Context, out io.Writer) error {
	texts, molecules, err := sharedStructures()
	if err != nil {
		return err
	}
	var seconds []float64
	places := make([][]layout.Point, len(molecules))
	for range 3 {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		start := processorTime()
		for i, m := range molecules {
			places[i] = layout.Coordinates(m)
		}
		seconds = append(seconds, processorTime()-start)
	}
	start := processorTime()
	for i, m := range molecules {
		f, err := structure.Draw(m, structure.Options{Places: places[i]})
		if err != nil {
			return err
		}
		if _, err := svg.Marshal(f, svg.Options{Palette: draw.Light(), LinkFont: true}); err != nil {
			return err
		}
	}
	drawing := processorTime() - start

	n := float64(len(molecules))
	fmt.Fprintf(out, "%d structures, one core, processor time, median of three passes; rings found anew in none\n", len(molecules))
	table := tabwriter.NewWriter(out, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(table, "layout\tlayouts/s\tSVG/s\ttouching\tthrough an atom\tlengths off\tof them bridged\tcrossing\t")
	row := func(name string, seconds []float64, drawing float64, places [][]layout.Point) {
		var sum flaws
		for i, m := range molecules {
			sum.add(inspectLayout(m, places[i]))
		}
		fmt.Fprintf(table, "%s\t%.0f\t%.0f\t%d\t%d\t%d\t%d\t%d\t\n", name, n/median(seconds), n/drawing, sum.touching, sum.through, sum.length, sum.bridged, sum.crossing)
	}
	row("ours", seconds, drawing, places)
	if script, ok := witness.PythonCommand("rdkit", rdkitLayout); ok {
		script.Stdin = strings.NewReader(strings.Join(texts, "\n"))
		answer, err := script.Output()
		if err != nil {
			return fmt.Errorf("running RDKit: %w", err)
		}
		var theirs struct {
			Version string
			Seconds []float64
			SVG     float64
			Places  [][][2]float64
		}
		if err := json.Unmarshal(answer, &theirs); err != nil {
			return err
		}
		points := make([][]layout.Point, len(theirs.Places))
		for i, list := range theirs.Places {
			for _, p := range list {
				points[i] = append(points[i], layout.Point{X: p[0], Y: p[1]})
			}
		}
		row("RDKit "+theirs.Version, theirs.Seconds, theirs.SVG, points)
	} else {
		fmt.Fprintln(table, "RDKit is absent\t")
	}
	return table.Flush()
}

// sharedStructures are the distinct structures of the shared spectra. Their
// rings are known afterwards, as RDKit's are after reading.
func sharedStructures() ([]string, []*mol.Mol, error) {
	var texts []string
	for _, file := range []string{"train", "low_train", "labelled_train"} {
		records, err := sharedRecords(file + ".jsonl.gz")
		if err != nil {
			return nil, nil, err
		}
		for _, r := range records {
			texts = append(texts, r.SMILES)
		}
	}
	slices.Sort(texts)
	texts = slices.Compact(texts)
	molecules := make([]*mol.Mol, len(texts))
	for i, s := range texts {
		m, err := smiles.Parse(s)
		if err != nil {
			return nil, nil, err
		}
		m.Rings()
		molecules[i] = m
	}
	return texts, molecules, nil
}

// flaws count structures whose layout has a flaw.
type flaws struct {
	touching int // two atoms nearer than half a bond
	through  int // a bond nearer than a fifth of a bond to another atom
	length   int // a bond off by more than 5 %
	bridged  int // of these, with rings that share more than one bond
	crossing int // bonds that cross
}

func (f *flaws) add(g flaws) {
	f.touching += g.touching
	f.through += g.through
	f.length += g.length
	f.bridged += g.bridged
	f.crossing += g.crossing
}

// inspectLayout returns 1 for each flaw that the layout has.
func inspectLayout(m *mol.Mol, p []layout.Point) flaws {
	var f flaws
	for a := range p {
		for b := range a {
			if math.Hypot(p[a].X-p[b].X, p[a].Y-p[b].Y) < 0.5 {
				f.touching = 1
			}
		}
	}
	side := func(p, q, r layout.Point) float64 { return (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X) }
	const tiny = 1e-9
	for i := range m.NumBonds() {
		e := m.Bond(i)
		u, v := p[e.Begin], p[e.End]
		length := math.Hypot(u.X-v.X, u.Y-v.Y)
		if math.Abs(length-1) > 0.05 {
			f.length = 1
		}
		for k := range i {
			g := m.Bond(k)
			w, x := p[g.Begin], p[g.End]
			if e.Begin != g.Begin && e.Begin != g.End && e.End != g.Begin && e.End != g.End &&
				side(u, v, w)*side(u, v, x) < -tiny && side(w, x, u)*side(w, x, v) < -tiny {
				f.crossing = 1
			}
		}
		for a, q := range p {
			if int32(a) == e.Begin || int32(a) == e.End || length == 0 {
				continue
			}
			along := ((q.X-u.X)*(v.X-u.X) + (q.Y-u.Y)*(v.Y-u.Y)) / length
			if along > 0 && along < length && math.Abs(side(u, v, q))/length < 0.2 {
				f.through = 1
			}
		}
	}
	if f.length == 1 && hasBridgedRings(m) {
		f.bridged = 1
	}
	return f
}

// hasBridgedRings reports whether two smallest rings share more than one bond.
func hasBridgedRings(m *mol.Mol) bool {
	rings := m.Rings()
	for i, r := range rings {
		for _, s := range rings[:i] {
			shared := 0
			for k, a := range r {
				j := slices.Index(s, a)
				b := r[(k+1)%len(r)]
				if j >= 0 && (s[(j+1)%len(s)] == b || s[(j+len(s)-1)%len(s)] == b) {
					shared++
				}
			}
			if shared > 1 {
				return true
			}
		}
	}
	return false
}
