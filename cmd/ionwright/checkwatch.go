package main

import (
	"context"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/fsnotify/fsnotify"
)

const (
	// settleTime is how long the files must be quiet before a check: editors
	// save in several steps.
	settleTime = 80 * time.Millisecond
	// maxWatched is how many folders of a lesson are watched; a lesson has few.
	maxWatched = 500
)

// watchCheck checks what stands at path, and again whenever a file of it
// changes, until ctx ends. Findings don't end it; only what can't be watched
// does.
func (c *call) watchCheck(ctx context.Context, path string, checkOnce func() error) error {
	info, err := os.Stat(path)
	if err != nil {
		return fmt.Errorf("watching %q: %w", path, reason(err))
	}
	w, err := newFolderWatch(path, info.IsDir())
	if err != nil {
		return err
	}
	defer w.close()
	for {
		if err := checkOnce(); err != nil && ctx.Err() == nil && err != errReported {
			c.fail(err) // the author may be about to mend it
		}
		if ctx.Err() != nil {
			return nil
		}
		fmt.Fprintf(c.errOut, "watching %s; Ctrl-C ends it\n", path)
		if err := w.wait(ctx); err != nil || ctx.Err() != nil {
			return err
		}
		c.print("")
	}
}

// folderWatch watches a folder with those below it, or the one file in it.
type folderWatch struct {
	watcher *fsnotify.Watcher
	root    string
	file    string // the only file that counts; empty: all
}

func newFolderWatch(path string, folder bool) (*folderWatch, error) {
	watcher, err := fsnotify.NewWatcher()
	if err != nil {
		return nil, fmt.Errorf("watching %q for changes: %w", path, err)
	}
	w := &folderWatch{watcher: watcher, root: filepath.Clean(path)}
	if !folder {
		// An editor that saves by renaming puts a new file in the old one's
		// place, which only its folder tells.
		w.file, w.root = w.root, filepath.Dir(w.root)
		err = watcher.Add(w.root)
	} else {
		err = w.add(w.root)
	}
	if err != nil {
		w.close()
		return nil, fmt.Errorf("watching %q for changes: %w", path, err)
	}
	return w, nil
}

func (w *folderWatch) close() { _ = w.watcher.Close() }

// add watches a folder and those below it, but for hidden ones and packs.
func (w *folderWatch) add(folder string) error {
	return filepath.WalkDir(folder, func(path string, entry fs.DirEntry, err error) error {
		switch {
		case err != nil && path == w.root:
			return err
		case err != nil || !entry.IsDir():
			return nil // gone again, or not readable: the check will say
		case !w.counts(path):
			return fs.SkipDir
		case len(w.watcher.WatchList()) >= maxWatched:
			return fs.SkipAll
		}
		return w.watcher.Add(path)
	})
}

// counts reports whether a change at path can change what is found.
func (w *folderWatch) counts(path string) bool {
	if w.file != "" {
		return filepath.Clean(path) == w.file
	}
	name := filepath.Base(path)
	return path == w.root || !strings.HasPrefix(name, ".") && !strings.HasSuffix(name, "~") && !(name == packFolder && filepath.Dir(path) == w.root)
}

// wait returns when something has changed and been quiet since, or ctx ends.
func (w *folderWatch) wait(ctx context.Context) error {
	var quiet <-chan time.Time
	for {
		select {
		case <-ctx.Done():
			return nil
		case <-quiet:
			return nil
		case event, ok := <-w.watcher.Events:
			if !ok {
				return nil
			}
			if !w.counts(event.Name) || event.Op == fsnotify.Chmod {
				continue
			}
			if w.file == "" && event.Has(fsnotify.Create) {
				if err := w.add(event.Name); err != nil {
					return fmt.Errorf("watching %q for changes: %w", event.Name, err)
				}
			}
			quiet = time.After(settleTime)
		case err, ok := <-w.watcher.Errors:
			if !ok {
				return nil
			}
			return fmt.Errorf("watching %q for changes: %w", w.root, err)
		}
	}
}
