// Package shelf keeps lessons in a folder: it lists them, reads their sources
// and saves them whole or not at all. For most uses call [Open], then
// [Shelf.Names], [Shelf.Read] and [Shelf.Save].
//
// A folder that holds a lesson.md is a shelf with that one lesson; any other
// folder is a shelf whose lessons are its subfolders with a lesson.md. Nothing
// outside of the folder can be reached, links included.
package shelf

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"sync"

	"ionwright/lesson/source"
)

// MaxSource is the size of the largest source that is read or saved, in bytes.
const MaxSource = 4 << 20

// Shelf is a folder of lessons. It is safe for concurrent use; what another
// program writes at the very moment of a save can be lost, nothing else.
type Shelf struct {
	dir  string
	only string // the lesson's name where the folder itself is a lesson

	mu sync.Mutex // held while files are written
}

// Open returns the shelf in the folder dir, which may be absent: it is then
// made when the first lesson is created. It fails where dir is no folder.
func Open(dir string) (*Shelf, error) {
	abs, err := filepath.Abs(dir)
	if err != nil {
		return nil, fmt.Errorf("opening the folder %q: %w", dir, err)
	}
	s := &Shelf{dir: abs}
	info, err := os.Stat(abs)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return s, nil
	case err != nil:
		return nil, fmt.Errorf("opening the folder %q: %w", dir, err)
	case !info.IsDir():
		return nil, fmt.Errorf("%q is a file; lessons are kept in a folder", dir)
	}
	if _, err := os.Stat(filepath.Join(abs, source.Main)); err == nil {
		s.only = nameForm.FindString(filepath.Base(abs))
		if s.only == "" || s.only != filepath.Base(abs) {
			s.only = "lesson"
		}
	}
	return s, nil
}

// Dir is the folder's absolute path.
func (s *Shelf) Dir() string { return s.dir }

// Single reports whether the folder is itself a lesson, so that no other can
// be created in it.
func (s *Shelf) Single() bool { return s.only != "" }

// nameForm is what names of lessons and files look like: no separators, no
// leading dot, nothing that a file system or an address reads otherwise.
var nameForm = regexp.MustCompile(`^[\p{L}\p{N}](?:[\p{L}\p{N} _-]|\.[\p{L}\p{N}_-]){0,62}`)

// CheckName returns an error for what can't be the name of a lesson or file.
func CheckName(name string) error {
	if nameForm.FindString(name) != name || name == "" || name[len(name)-1] == ' ' {
		return fmt.Errorf("%q can't be a name: take letters, digits, spaces, hyphens and single dots inside, up to 63", name)
	}
	return nil
}

// Names lists the lessons in order.
func (s *Shelf) Names() ([]string, error) {
	if s.only != "" {
		return []string{s.only}, nil
	}
	entries, err := os.ReadDir(s.dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("listing the lessons: %w", err)
	}
	var names []string
	for _, e := range entries {
		if CheckName(e.Name()) != nil {
			continue
		}
		if _, err := os.Stat(filepath.Join(s.dir, e.Name(), source.Main)); err == nil && e.IsDir() {
			names = append(names, e.Name())
		}
	}
	slices.Sort(names)
	return names, nil
}

// ErrNoLesson is the error for a name that no lesson has.
var ErrNoLesson = errors.New("there is no such lesson")

// Folder is the absolute path of a lesson's folder. It fails with ErrNoLesson.
func (s *Shelf) Folder(name string) (string, error) {
	if s.only != "" && name == s.only {
		return s.dir, nil
	}
	if s.only != "" || CheckName(name) != nil {
		return "", fmt.Errorf("lesson %q: %w", name, ErrNoLesson)
	}
	dir := filepath.Join(s.dir, name)
	info, err := os.Lstat(dir)
	if err != nil || !info.IsDir() {
		return "", fmt.Errorf("lesson %q: %w", name, ErrNoLesson)
	}
	if _, err := os.Stat(filepath.Join(dir, source.Main)); err != nil {
		return "", fmt.Errorf("lesson %q: %w", name, ErrNoLesson)
	}
	return dir, nil
}

// within opens the lesson's folder for work on its files.
func (s *Shelf) within(name string, work func(root *os.Root) error) error {
	dir, err := s.Folder(name)
	if err != nil {
		return err
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return fmt.Errorf("lesson %q: %w", name, err)
	}
	defer root.Close()
	return work(root)
}

// Read returns the source of a lesson and its version, which changes with
// every change of the text.
func (s *Shelf) Read(name string) (text []byte, version string, err error) {
	err = s.within(name, func(root *os.Root) error {
		text, err = readSource(root)
		return err
	})
	if err != nil {
		return nil, "", err
	}
	return text, versionOf(text), nil
}

func readSource(root *os.Root) ([]byte, error) {
	f, err := root.Open(source.Main)
	if err != nil {
		return nil, fmt.Errorf("opening the lesson's source: %w", err)
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, MaxSource+1))
	if err != nil {
		return nil, fmt.Errorf("reading the lesson's source: %w", err)
	}
	if len(text) > MaxSource {
		return nil, fmt.Errorf("the lesson's source is larger than %d bytes", MaxSource)
	}
	return text, nil
}

func versionOf(text []byte) string {
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:8])
}
