package pack

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// Write puts the pack into the folder dir, all of it or nothing: it is written
// to a new folder beside dir, which then takes dir's place. A pack that stands
// there goes away; anything else in dir makes Write fail, and so does a dir
// that is a file.
func (p *Pack) Write(dir string) error {
	if err := replaceable(dir); err != nil {
		return fmt.Errorf("writing the pack to %q: %w", dir, err)
	}
	dir, err := filepath.Abs(dir) // so that "." has a parent
	if err != nil {
		return fmt.Errorf("writing the pack: %w", err)
	}
	parent := filepath.Dir(dir)
	if err := os.MkdirAll(parent, 0o755); err != nil {
		return fmt.Errorf("writing the pack to %q: %w", dir, err)
	}
	fresh, err := os.MkdirTemp(parent, ".pack-*")
	if err != nil {
		return fmt.Errorf("writing the pack to %q: %w", dir, err)
	}
	defer os.RemoveAll(fresh) // what is left of it: nothing, or the old pack
	if err := p.writeFiles(fresh); err != nil {
		return fmt.Errorf("writing the pack to %q: %w", dir, err)
	}
	if err := swap(fresh, dir); err != nil {
		return fmt.Errorf("putting the new pack at %q: %w", dir, err)
	}
	return nil
}

// replaceable reports why dir can't be replaced: only a folder that is absent,
// empty or a pack may be.
func replaceable(dir string) error {
	entries, err := os.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	if len(entries) == 0 {
		return nil
	}
	if _, err := os.Stat(filepath.Join(dir, Manifest)); err != nil {
		return fmt.Errorf("the folder holds other things than a pack (it has no %s); name a new or empty folder", Manifest)
	}
	return nil
}

func (p *Pack) writeFiles(dir string) error {
	if err := os.Chmod(dir, 0o755); err != nil {
		return err
	}
	for _, name := range p.Names() {
		path := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			return err
		}
		if err := os.WriteFile(path, p.Files[name], 0o644); err != nil {
			return err
		}
	}
	return nil
}

// renameAside puts fresh at dir in two steps, for systems without an exchange
// in one: if the second step fails, the old folder goes back.
func renameAside(fresh, dir string) error {
	old := fresh + ".old"
	err := os.Rename(dir, old)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return os.Rename(fresh, dir)
	case err != nil:
		return err
	}
	if err := os.Rename(fresh, dir); err != nil {
		return errors.Join(err, os.Rename(old, dir))
	}
	return os.RemoveAll(old)
}
