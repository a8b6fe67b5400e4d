package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"

	"ionwright/chem"
	"ionwright/internal/witness"
	"ionwright/reading/fit"
	"ionwright/reading/infer"
	"ionwright/spectrum"
)

// readingGroups runs RDKit over the structures: which of the groups has each,
// and which further substructures: the surroundings of its atoms up to two
// bonds away (Rogers and Hahn 2010) and the 166 public keys.
const readingGroups = `
import json, sys
from rdkit import Chem, RDLogger
from rdkit.Chem import rdMolDescriptors as d
RDLogger.DisableLog('rdApp.*')
patterns = [(n, Chem.MolFromSmarts(p)) for n, p in json.loads(sys.stdin.readline())]
def parts(m):
    return ['around %d' % k for k in d.GetMorganFingerprint(m, 2).GetNonzeroElements()] + ['key %d' % k for k in d.GetMACCSKeysFingerprint(m).GetOnBits()]
for line in sys.stdin:
    m = Chem.MolFromSmiles(line.strip())
    print(json.dumps([[], []] if m is None else [[n for n, p in patterns if m.HasSubstructMatch(p)], parts(m)]))
`

// readingSamples reads the shared spectra of one file whose class is wanted,
// with the groups of their structures.
func readingSamples(ctx context.Context, file string, classes ...int) ([]fit.Sample, error) {
	records, err := sharedRecords(file + ".jsonl.gz")
	if err != nil {
		return nil, err
	}
	var samples []fit.Sample
	var smiles []string
	for _, r := range records {
		fold := -1
		for k, c := range classes {
			if r.Class() == c {
				fold = k
			}
		}
		if fold < 0 {
			continue
		}
		f, err := chem.ParseFormula(r.Formula)
		if err != nil {
			return nil, fmt.Errorf("record %s: %w", r.ID, err)
		}
		var peaks []spectrum.Peak
		for _, p := range r.Peaks {
			peaks = append(peaks, spectrum.Peak{MZ: p[0], Intensity: p[1]})
		}
		samples = append(samples, fit.Sample{
			Key: r.SMILES, Spectrum: spectrum.Spectrum{Peaks: peaks}, View: infer.NewView(spectrum.Spectrum{Peaks: peaks}),
			Formula: f, Mass: r.NominalMass, Groups: map[string]bool{}, Fold: fold,
		})
		smiles = append(smiles, r.SMILES)
	}
	fit.SetWeights(samples)
	cmd, ok := witness.PythonCommand("rdkit", readingGroups)
	if !ok {
		return nil, errors.New("RDKit, which tells the groups of the structures, is absent")
	}
	patterns, err := json.Marshal(infer.Groups)
	if err != nil {
		return nil, err
	}
	cmd.Stdin = strings.NewReader(string(patterns) + "\n" + strings.Join(smiles, "\n") + "\n")
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("telling the groups of the structures with RDKit: %w", err)
	}
	lines := bytes.Split(bytes.TrimSpace(out), []byte("\n"))
	if len(lines) != len(samples) {
		return nil, fmt.Errorf("RDKit answered for %d of %d structures", len(lines), len(samples))
	}
	for i, line := range lines {
		var told [2][]string
		if err := json.Unmarshal(line, &told); err != nil {
			return nil, err
		}
		for _, n := range told[0] {
			samples[i].Groups[n] = true
		}
		samples[i].Substructures = told[1]
	}
	return samples, ctx.Err()
}
