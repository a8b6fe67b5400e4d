package lesson

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"ionwright/lesson/source"
)

// SharedFolder is the folder of a course that each of its lessons sees as a
// folder of its own.
const SharedFolder = "shared"

// Open gives the files of a lesson's folder, and of the folder "shared" beside
// it where the lesson belongs to a course. Nothing else can be reached, links
// included. It fails where dir isn't a folder that holds a lesson.
func Open(dir string) (fs.FS, error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, fmt.Errorf("opening the lesson's folder %q: %w", dir, plain(err))
	}
	files := root.FS()
	if _, err := fs.Stat(files, source.Main); errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("there is no lesson in %q: it has no %s\nhint: \"ionwright new\" writes a lesson to begin with", dir, source.Main)
	}
	abs, err := filepath.Abs(dir)
	if err != nil {
		return files, nil // the lesson stands by itself
	}
	course := filepath.Dir(abs)
	if _, err := os.Stat(filepath.Join(course, source.CourseMain)); err != nil {
		return files, nil
	}
	shared, err := os.OpenRoot(filepath.Join(course, SharedFolder))
	if err != nil {
		return files, nil
	}
	return withShared{files, shared.FS()}, nil
}

// Of gives the files of the lesson in a folder of a course, whose files are
// given, and of its folder "shared".
func Of(course fs.FS, folder string) (fs.FS, error) {
	own, err := fs.Sub(course, folder)
	if err != nil {
		return nil, fmt.Errorf("opening the lesson %q: %w", folder, err)
	}
	shared, err := fs.Sub(course, SharedFolder)
	if err != nil {
		return nil, fmt.Errorf("opening the folder %q: %w", SharedFolder, err)
	}
	return withShared{own, shared}, nil
}

// withShared is a lesson's folder in which the course's shared one appears.
type withShared struct{ own, shared fs.FS }

// Open opens a file of the lesson, and one below "shared/" in the course's
// shared folder.
func (f withShared) Open(name string) (fs.File, error) {
	if rest, ok := strings.CutPrefix(name, SharedFolder+"/"); ok && fs.ValidPath(name) {
		return f.shared.Open(rest)
	}
	return f.own.Open(name)
}

// plain takes the operation and path off an error of the file system, which
// the message names already.
func plain(err error) error {
	var path *fs.PathError
	if errors.As(err, &path) {
		return path.Err
	}
	return err
}
