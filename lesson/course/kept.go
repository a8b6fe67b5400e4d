package course

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/gob"
	"encoding/hex"
	"fmt"
	"hash"
	"io"
	"io/fs"
	"maps"
	"slices"
	"strings"
	"sync"

	"ionwright/lesson"
	"ionwright/lesson/cache"
	"ionwright/lesson/diag"
	"ionwright/lesson/pack"
	"ionwright/lesson/source"
)

// kept is a built lesson as the cache keeps it.
type kept struct {
	Pack  *pack.Pack // nil where the lesson has errors
	Diags diag.List
}

// buildLesson builds a lesson, or takes its pack from the cache: the one built
// by this program, with these options, from files of this content.
//
// Which files a lesson reads stands in the lesson and in the files it
// includes. So the list of files read is kept under the content of lesson.md,
// and the pack under the content of all files of that list.
func buildLesson(ctx context.Context, files fs.FS, o pack.Options) (kept, error) {
	results := cache.Of(ctx)
	options := optionsText(o)
	if main, err := fs.ReadFile(files, source.Main); err == nil {
		if list, ok := results.Get(results.Key("files of a lesson", options, string(main))); ok {
			if found, ok := keptPack(results, options, files, string(list)); ok {
				return found, nil
			}
		}
	}
	watched := &watchedFS{files: files, sums: map[string]string{}}
	p, diags, err := lesson.Build(ctx, watched, o)
	if err != nil {
		return kept{}, err
	}
	built := kept{p, diags}
	if p != nil {
		keep(results, options, files, watched, built)
	}
	return built, nil
}

// optionsText are the options that a pack depends on.
func optionsText(o pack.Options) string { return fmt.Sprintf("%q %v", o.Script, o.Printer) }

// keptPack looks for the pack of files that are as they were when the list was
// kept.
func keptPack(results *cache.Cache, options string, files fs.FS, list string) (kept, bool) {
	parts := []string{options}
	for name := range strings.Lines(list) {
		name = strings.TrimSuffix(name, "\n")
		data, err := fs.ReadFile(files, name)
		if err != nil {
			return kept{}, false
		}
		sum := sha256.Sum256(data)
		parts = append(parts, name, hex.EncodeToString(sum[:]))
	}
	data, ok := results.Get(results.Key("pack", parts...))
	if !ok {
		return kept{}, false
	}
	var found kept
	if err := gob.NewDecoder(bytes.NewReader(data)).Decode(&found); err != nil {
		return kept{}, false
	}
	return found, true
}

// keep puts a pack into the cache, where it is certain what it was built from.
func keep(results *cache.Cache, options string, files fs.FS, watched *watchedFS, built kept) {
	sums, certain := watched.read()
	main, err := fs.ReadFile(files, source.Main)
	if sum := sha256.Sum256(main); !certain || err != nil || sums[source.Main] != hex.EncodeToString(sum[:]) {
		return
	}
	var list strings.Builder
	parts := []string{options}
	for _, name := range slices.Sorted(maps.Keys(sums)) {
		list.WriteString(name + "\n")
		parts = append(parts, name, sums[name])
	}
	var data bytes.Buffer
	if err := gob.NewEncoder(&data).Encode(built); err != nil {
		return
	}
	results.Put(results.Key("pack", parts...), data.Bytes())
	results.Put(results.Key("files of a lesson", options, string(main)), []byte(list.String()))
}

// watchedFS notes which files are read, and the hash of what was read.
type watchedFS struct {
	files fs.FS

	mu        sync.Mutex
	sums      map[string]string // hexadecimal, by the file's name; empty: not read to its end
	uncertain bool              // something was looked for that these don't tell
}

// Open opens a file to read.
func (w *watchedFS) Open(name string) (fs.File, error) {
	f, err := w.files.Open(name)
	if err != nil {
		w.doubt()
		return nil, err
	}
	info, err := f.Stat()
	if err != nil || !info.Mode().IsRegular() {
		w.doubt()
		return f, nil
	}
	w.note(name, "")
	return &watchedFile{File: f, name: name, in: w, hash: sha256.New()}, nil
}

func (w *watchedFS) doubt() {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.uncertain = true
}

// note keeps a file's hash; another one than before makes all uncertain.
func (w *watchedFS) note(name, sum string) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if before := w.sums[name]; before == "" {
		w.sums[name] = sum
	} else if sum != "" && sum != before {
		w.uncertain = true
	}
}

// read gives the hashes of the files read, and whether they are all that the
// lesson depends on.
func (w *watchedFS) read() (sums map[string]string, certain bool) {
	w.mu.Lock()
	defer w.mu.Unlock()
	certain = !w.uncertain
	for name, sum := range w.sums {
		certain = certain && sum != "" && !strings.Contains(name, "\n")
	}
	return w.sums, certain
}

// watchedFile hashes what is read of it.
type watchedFile struct {
	fs.File
	name string
	in   *watchedFS
	hash hash.Hash
}

func (f *watchedFile) Read(b []byte) (int, error) {
	n, err := f.File.Read(b)
	f.hash.Write(b[:n])
	if err == io.EOF {
		f.in.note(f.name, hex.EncodeToString(f.hash.Sum(nil)))
	}
	return n, err
}
