package witness

import (
	"bufio"
	"compress/gzip"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"testing"
)

// Record is one measured spectrum of the shared set, as its README describes
// the lines.
type Record struct {
	ID          string       `json:"id"` // MassBank accession
	Name        string       `json:"name"`
	SMILES      string       `json:"smiles"`
	Formula     string       `json:"formula"`
	NominalMass int          `json:"nominal_mass"` // Da
	EV          float64      `json:"eV"`
	Instrument  string       `json:"instrument"`
	License     string       `json:"license"`
	Peaks       [][2]float64 `json:"peaks"` // m/z, intensity with base peak = 1000; ascending m/z
}

// Class is the record's part of the set, 0 to 4: the first byte of the
// SHA-256 of its SMILES, modulo 5. Parameters are fitted on 1, 2 and 3;
// figures are reported on 4.
func (r Record) Class() int {
	sum := sha256.Sum256([]byte(r.SMILES))
	return int(sum[0]) % 5
}

// Records reads one file of the shared set ("train", "low_train",
// "labelled_train") or ends the test.
func Records(t testing.TB, name string) []Record {
	t.Helper()
	records, err := ReadRecords(filepath.Join(Shared(t), name+".jsonl.gz"))
	if err != nil {
		t.Fatal(err)
	}
	return records
}

// ReadRecords reads a gzipped file of records, one JSON object a line.
func ReadRecords(path string) ([]Record, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	unzipped, err := gzip.NewReader(bufio.NewReader(file))
	if err != nil {
		return nil, fmt.Errorf("reading %s: %w", path, err)
	}
	var records []Record
	decoder := json.NewDecoder(unzipped)
	for {
		var record Record
		err := decoder.Decode(&record)
		if err == io.EOF {
			return records, nil
		}
		if err != nil {
			return nil, fmt.Errorf("reading record %d of %s: %w", len(records)+1, path, err)
		}
		records = append(records, record)
	}
}
