package cache

import (
	"cmp"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

const (
	temporaryPrefix = "new-"
	// abandoned is the age of a temporary file that no program writes any more.
	abandoned = time.Hour
	// leftAfterTrim is the part of the limit that a trim leaves.
	leftAfterTrim = 0.75
)

// used notes that a result was read, so that it is trimmed last.
func used(file string) {
	now := time.Now()
	_ = os.Chtimes(file, now, now) // without it the result goes a little earlier
}

// trim removes the results that were used longest ago until the cache is well
// below its limit, and temporary files that a program left behind.
func (c *Cache) trim() {
	type result struct {
		path string
		size int64
		used time.Time
	}
	var all []result
	var total int64
	_ = filepath.WalkDir(c.dir, func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return nil // what can't be read isn't counted
		}
		info, err := entry.Info()
		if err != nil {
			return nil
		}
		if strings.HasPrefix(entry.Name(), temporaryPrefix) {
			if time.Since(info.ModTime()) > abandoned {
				_ = os.Remove(path)
			}
			return nil
		}
		all = append(all, result{path, info.Size(), info.ModTime()})
		total += info.Size()
		return nil
	})
	if total <= c.limit {
		return
	}
	slices.SortFunc(all, func(a, b result) int {
		return cmp.Or(a.used.Compare(b.used), cmp.Compare(a.path, b.path))
	})
	for _, r := range all {
		if float64(total) <= leftAfterTrim*float64(c.limit) {
			return
		}
		if os.Remove(r.path) == nil {
			total -= r.size
		}
	}
}
