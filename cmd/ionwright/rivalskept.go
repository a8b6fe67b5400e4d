package main

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"ionwright/mol/smiles"
	"ionwright/practice/rival"
)

// keptSearch is the file in which a search for rivals that is stopped keeps how
// far it is: in the user's cache, named by what the search is for.
type keptSearch struct {
	file    string // empty where the user has no cache
	saved   []byte // not yet written
	written time.Time
}

// keptEvery is how often the file is written while the search goes on.
const keptEvery = time.Second

func keptSearchOf(p rival.Problem, most int) *keptSearch {
	dir, err := os.UserCacheDir()
	if err != nil {
		return &keptSearch{}
	}
	key := sha256.Sum256(fmt.Appendf(nil, "%s\n%s\n%v %v %q %q %d", smiles.Canonical(p.Answer), p.Spectrum.Notation(),
		p.FormulaGiven, p.MassGiven, p.Groups, p.Absent, most))
	return &keptSearch{file: filepath.Join(dir, "ionwright", "rivals", "stopped-"+hex.EncodeToString(key[:])+".json")}
}

// read is what an earlier search left, nil where there is none.
func (k *keptSearch) read() []byte {
	text, err := os.ReadFile(k.file)
	if err != nil {
		return nil
	}
	return text
}

// save takes what is to be kept, and writes it now and then.
func (k *keptSearch) save(text []byte) {
	k.saved = text
	if now := time.Now(); now.Sub(k.written) >= keptEvery {
		k.write()
		k.written = now
	}
}

// write writes what isn't written yet, whole or not at all; false where nothing
// is kept.
func (k *keptSearch) write() bool {
	if k.file == "" || k.saved == nil && k.written.IsZero() {
		return false
	}
	if k.saved == nil {
		return true
	}
	if os.MkdirAll(filepath.Dir(k.file), 0o700) != nil {
		return false
	}
	temporary, err := os.CreateTemp(filepath.Dir(k.file), "new")
	if err != nil {
		return false
	}
	_, err = temporary.Write(k.saved)
	if closeErr := temporary.Close(); err != nil || closeErr != nil || os.Rename(temporary.Name(), k.file) != nil {
		_ = os.Remove(temporary.Name())
		return false
	}
	k.saved = nil
	return true
}

// remove takes the file of a search that has ended away.
func (k *keptSearch) remove() {
	if k.file != "" {
		_ = os.Remove(k.file) // most searches end before one is written
	}
}
