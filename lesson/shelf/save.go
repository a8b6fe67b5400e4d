package shelf

import (
	"crypto/rand"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"ionwright/lesson"
	"ionwright/lesson/source"
)

// A ConflictError says that a source was changed by someone else since the
// version that a save was based on.
type ConflictError struct {
	Text    []byte // as it is now
	Version string
}

// Error says that the source was changed.
func (e *ConflictError) Error() string {
	return "the lesson was changed elsewhere since it was opened here"
}

// Save writes the source of a lesson in one step and returns its new version.
// base is the version that the text was made from. Where the source isn't that
// any more, nothing is written and the error is a *ConflictError.
func (s *Shelf) Save(name string, text []byte, base string) (string, error) {
	return s.save(name, text, func(root *os.Root, now []byte) error {
		if version := versionOf(now); version != base && version != versionOf(text) {
			return &ConflictError{now, version}
		}
		return nil
	})
}

// Replace writes the source of a lesson whatever version it has now. A text
// that it overwrites is kept as a hidden file of the lesson's folder, whose
// name is returned.
func (s *Shelf) Replace(name string, text []byte) (version, kept string, err error) {
	version, err = s.save(name, text, func(root *os.Root, now []byte) error {
		if versionOf(now) == versionOf(text) {
			return nil
		}
		kept, err = keep(root, now)
		return err
	})
	return version, kept, err
}

// Keep stores a text that nobody wants now as a hidden file of the lesson's
// folder, and returns the file's name.
func (s *Shelf) Keep(name string, text []byte) (kept string, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	err = s.within(name, func(root *os.Root) error {
		kept, err = keep(root, text)
		return err
	})
	return kept, err
}

// keptFolder holds texts that gave way to others.
const keptFolder = ".kept"

func keep(root *os.Root, text []byte) (string, error) {
	if err := root.Mkdir(keptFolder, 0o755); err != nil && !errors.Is(err, fs.ErrExist) {
		return "", fmt.Errorf("keeping the other text: %w", err)
	}
	name := keptFolder + "/" + strings.TrimSuffix(source.Main, ".md") + "-" + versionOf(text) + ".md"
	if err := write(root, name, text); err != nil {
		return "", fmt.Errorf("keeping the other text: %w", err)
	}
	return name, nil
}

func (s *Shelf) save(name string, text []byte, agree func(root *os.Root, now []byte) error) (string, error) {
	if len(text) > MaxSource {
		return "", fmt.Errorf("saving lesson %q: the text is larger than %d bytes", name, MaxSource)
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	err := s.within(name, func(root *os.Root) error {
		now, err := readSource(root)
		if err != nil {
			return err
		}
		if err := agree(root, now); err != nil {
			return err
		}
		return write(root, source.Main, text)
	})
	if err != nil {
		return "", fmt.Errorf("saving lesson %q: %w", name, err)
	}
	return versionOf(text), nil
}

// write puts a file in place whole: a crash leaves the old one or the new one.
func write(root *os.Root, name string, text []byte) error {
	temporary := filepath.ToSlash(filepath.Join(filepath.Dir(name), ".saving-"+rand.Text()))
	f, err := root.OpenFile(temporary, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	_, err = f.Write(text)
	if err == nil {
		err = f.Sync()
	}
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err == nil {
		err = root.Rename(temporary, name)
	}
	if err != nil {
		_ = root.Remove(temporary)
	}
	return err
}

// Add stores a data file in a lesson's folder and returns the name it got: the
// wanted one, or where that is taken by other content, one with a number.
func (s *Shelf) Add(name, file string, data []byte) (stored string, err error) {
	if err := CheckName(file); err != nil {
		return "", err
	}
	if strings.EqualFold(filepath.Ext(file), ".md") {
		return "", fmt.Errorf("%q: sources are written in the editor; only data files are added", file)
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	const tries = 1000
	err = s.within(name, func(root *os.Root) error {
		ext := filepath.Ext(file)
		for i := 1; i <= tries; i++ {
			stored = file
			if i > 1 {
				stored = fmt.Sprintf("%s-%d%s", strings.TrimSuffix(file, ext), i, ext)
			}
			old, err := root.ReadFile(stored)
			if err == nil && string(old) == string(data) {
				return nil
			}
			if errors.Is(err, fs.ErrNotExist) {
				return write(root, stored, data)
			}
		}
		return fmt.Errorf("there are %d files with that name already", tries)
	})
	if err != nil {
		return "", fmt.Errorf("adding %q to lesson %q: %w", file, name, err)
	}
	return stored, nil
}

// Create makes a new lesson of the given files. It fails where one of that
// name exists, or where the shelf is a single lesson.
func (s *Shelf) Create(name string, files fs.FS) error {
	if err := CheckName(name); err != nil {
		return err
	}
	if s.Single() {
		return fmt.Errorf("creating lesson %q: the folder %q is itself a lesson; start with the folder around it", name, s.dir)
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if _, err := os.Lstat(filepath.Join(s.dir, name)); err == nil {
		return fmt.Errorf("creating lesson %q: there is one already", name)
	}
	if err := os.MkdirAll(s.dir, 0o755); err != nil {
		return fmt.Errorf("creating lesson %q: %w", name, err)
	}
	_, err := lesson.Create(filepath.Join(s.dir, name), files)
	return err
}
