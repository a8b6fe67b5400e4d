package preview

import (
	"context"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"
	"time"

	"github.com/fsnotify/fsnotify"
)

// settle is how long the files must be quiet before a build: editors save in
// several steps.
const settle = 80 * time.Millisecond

// Watch builds the lesson in dir again whenever a file in it changes, until
// ctx ends, and calls built after each build. Hidden files and the folder
// named skip (where packs are written) don't count.
func (s *Server) Watch(ctx context.Context, dir, skip string, built func(State)) error {
	watcher, err := fsnotify.NewWatcher()
	if err != nil {
		return fmt.Errorf("watching %q for changes: %w", dir, err)
	}
	defer watcher.Close()
	watched := func(path string) bool {
		name := filepath.Base(path)
		return path == dir || !strings.HasPrefix(name, ".") && !(name == skip && filepath.Dir(path) == filepath.Clean(dir))
	}
	addAll := func(root string) error {
		return filepath.WalkDir(root, func(path string, entry fs.DirEntry, err error) error {
			switch {
			case err != nil:
				return nil // gone again, or not readable: the build will say
			case !entry.IsDir():
				return nil
			case !watched(path):
				return fs.SkipDir
			}
			return watcher.Add(path)
		})
	}
	if err := addAll(dir); err != nil {
		return fmt.Errorf("watching %q for changes: %w", dir, err)
	}
	quiet := time.NewTimer(0)
	<-quiet.C
	for {
		select {
		case <-ctx.Done():
			return nil
		case event, ok := <-watcher.Events:
			if !ok {
				return nil
			}
			if !watched(event.Name) || event.Op == fsnotify.Chmod {
				continue
			}
			if event.Has(fsnotify.Create) {
				_ = addAll(event.Name) // a new folder; a file can't be added
			}
			quiet.Reset(settle)
		case err, ok := <-watcher.Errors:
			if !ok {
				return nil
			}
			return fmt.Errorf("watching %q for changes: %w", dir, err)
		case <-quiet.C:
			if state := s.Build(ctx); ctx.Err() == nil {
				built(state)
			}
		}
	}
}
