// Package course checks and builds several lessons as one: a folder with
// course.md, a subfolder for each lesson, and a folder "shared" for what they
// have in common. For most uses call [Open] and then [Course.Check] or
// [Course.Build].
//
// A lesson that hasn't changed since it was last built is taken from the
// cache; the pack is the same, byte for byte, with the cache and without.
package course

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"sync"

	"ionwright/lesson"
	"ionwright/lesson/diag"
	"ionwright/lesson/pack"
	"ionwright/lesson/source"
)

// Course is a course's source and files.
type Course struct {
	Source *source.Course
	files  fs.FS
}

// Is reports whether dir holds a course.
func Is(dir string) bool {
	info, err := os.Stat(filepath.Join(dir, source.CourseMain))
	return err == nil && !info.IsDir()
}

// Open reads the course in dir, as [Read] does. Nothing outside of the folder
// can be reached, links included.
func Open(dir string) (*Course, diag.List, error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		var path *fs.PathError
		if errors.As(err, &path) {
			err = path.Err
		}
		return nil, nil, fmt.Errorf("opening the course's folder %q: %w", dir, err)
	}
	c, diags := Read(root.FS())
	return c, diags, nil
}

// Read reads a course from its files. It is nil where course.md can't be read;
// otherwise it holds the lessons that are there.
func Read(files fs.FS) (*Course, diag.List) {
	src, diags := source.ParseCourse(files)
	if src == nil {
		return nil, diags
	}
	return &Course{Source: src, files: files}, diags
}

// Checked is what a check found in a lesson of the course.
type Checked struct {
	Folder            string
	Claims, Questions int
	Diags             diag.List // their files are named from the course's folder
}

// Check computes everything that the lessons say, in their order. An error is
// only ever the context's or a mistake in the program.
func (c *Course) Check(ctx context.Context) ([]Checked, error) {
	return each(ctx, c, func(ctx context.Context, folder string, files fs.FS) (Checked, error) {
		report, diags, err := lesson.Check(ctx, files)
		out := Checked{Folder: folder, Diags: below(folder, diags)}
		if report != nil {
			out.Claims, out.Questions = len(report.Claims), len(report.Questions)
		}
		return out, err
	})
}

// Build checks the lessons and builds them into one pack: a page with links to
// the lessons, one for the instructor, and a folder for each lesson. The pack
// is nil where the diagnostics hold an error.
func (c *Course) Build(ctx context.Context, o pack.Options) (*pack.Pack, diag.List, error) {
	built, err := each(ctx, c, func(ctx context.Context, folder string, files fs.FS) (kept, error) {
		return buildLesson(ctx, files, o)
	})
	if err != nil {
		return nil, nil, err
	}
	whole := &pack.Pack{Files: map[string][]byte{}}
	var diags diag.List
	for i, one := range built {
		folder := c.Source.Lessons[i].Folder.Value
		diags = append(diags, below(folder, one.Diags)...)
		if one.Pack == nil {
			continue
		}
		for name, data := range one.Pack.Files {
			whole.Files[folder+"/"+name] = data
		}
	}
	if diags.HasErrors() {
		return nil, diags, nil
	}
	if err := c.addPages(whole); err != nil {
		return nil, diags, fmt.Errorf("building the pages of the course: %w", err)
	}
	return whole, diags, nil
}

// each does something with every lesson, several at a time, and gives the
// results in the lessons' order. It stops at the first error.
func each[T any](ctx context.Context, c *Course, do func(ctx context.Context, folder string, files fs.FS) (T, error)) ([]T, error) {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	results := make([]T, len(c.Source.Lessons))
	failures := make([]error, len(results))
	free := make(chan struct{}, runtime.GOMAXPROCS(0))
	var all sync.WaitGroup
	for i, l := range c.Source.Lessons {
		all.Go(func() {
			free <- struct{}{}
			defer func() { <-free }()
			folder := l.Folder.Value
			files, err := lesson.Of(c.files, folder)
			if err == nil {
				results[i], err = do(ctx, folder, files)
			}
			if err != nil {
				failures[i] = fmt.Errorf("lesson %q: %w", folder, err)
				cancel()
			}
		})
	}
	all.Wait()
	for _, err := range failures {
		if err != nil && !errors.Is(err, context.Canceled) {
			return nil, err
		}
	}
	return results, errors.Join(failures...)
}

// below names the files of diagnostics from the course's folder: shared files
// stand in it, all others in the lesson's.
func below(folder string, diags diag.List) diag.List {
	out := make(diag.List, len(diags))
	for i, d := range diags {
		if !isShared(d.File) {
			d.File = folder + "/" + d.File
		}
		out[i] = d
	}
	return out
}
