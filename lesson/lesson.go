// Package lesson turns a lesson's folder into a checked pack. For most uses
// open the folder with [Open] and call [Build]; the steps stand in the rooms
// below: source reads, load looks up, eval computes, check judges, pack
// builds.
package lesson

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"

	"ionwright/lesson/cache"
	"ionwright/lesson/check"
	"ionwright/lesson/diag"
	"ionwright/lesson/pack"
)

// Check computes everything the lesson says. The report is nil where the
// source can't be read at all; err is only ever the context's or a mistake in
// the program.
func Check(ctx context.Context, files fs.FS) (*check.Report, diag.List, error) {
	report, diags, err := check.Check(ctx, files)
	return report, longSections(report, diags), err
}

// Build checks the lesson and builds its pack. The pack is nil where the
// diagnostics hold an error.
func Build(ctx context.Context, files fs.FS, o pack.Options) (*pack.Pack, diag.List, error) {
	report, diags, err := Check(ctx, files)
	if err != nil || report == nil || diags.HasErrors() {
		return nil, diags, err
	}
	o.Results = cache.Of(ctx)
	p, err := pack.Build(report, o)
	return p, diags, err
}

// Create writes a lesson's files into the folder dir, which must be absent or
// empty, and gives the names of the files.
func Create(dir string, files fs.FS) ([]string, error) {
	if err := Vacant(dir); err != nil {
		return nil, err
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, fmt.Errorf("writing a lesson to %q: %w", dir, plain(err))
	}
	if err := os.CopyFS(dir, files); err != nil {
		return nil, fmt.Errorf("writing a lesson to %q: %w", dir, err)
	}
	var names []string
	err := fs.WalkDir(files, ".", func(name string, entry fs.DirEntry, err error) error {
		if err == nil && !entry.IsDir() {
			names = append(names, name)
		}
		return err
	})
	return names, err
}

// Vacant reports why a lesson can't be written into the folder dir: it isn't
// absent or empty.
func Vacant(dir string) error {
	entries, err := os.ReadDir(dir)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("writing a lesson to %q: %w", dir, plain(err))
	}
	if len(entries) > 0 {
		return fmt.Errorf("writing a lesson to %q: the folder isn't empty", dir)
	}
	return nil
}
