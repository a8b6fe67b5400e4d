package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"time"

	"ionwright/lesson"
	"ionwright/lesson/example"
)

// courseSpeed builds the example course as an author does, with the command in
// a process of its own: with an empty cache, unchanged, after an edit of one
// lesson, after an edit of a file that all lessons include, and without the
// cache. Each row is the median of a few runs; processor time is given beside
// the time on the clock, which other work on the machine draws out.
func courseSpeed(ctx context.Context, out io.Writer) error {
	dir, err := os.MkdirTemp("", "ionwright-course-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	program := filepath.Join(dir, "ionwright")
	if said, err := exec.CommandContext(ctx, "go", "build", "-o", program, "./cmd/ionwright").CombinedOutput(); err != nil {
		return fmt.Errorf("building the command (run bench from the module's folder): %w\n%s", err, said)
	}
	course := filepath.Join(dir, "course")
	if _, err := lesson.Create(course, example.Course()); err != nil {
		return err
	}
	results := filepath.Join(dir, "cache")
	edit := func(name string) func() error {
		return func() error {
			f, err := os.OpenFile(filepath.Join(course, filepath.FromSlash(name)), os.O_APPEND|os.O_WRONLY, 0)
			if err != nil {
				return err
			}
			_, err = fmt.Fprintf(f, "\nA sentence added at %d.\n", time.Now().UnixNano())
			return errors.Join(err, f.Close())
		}
	}
	nothing := func() error { return nil }
	const times = 3
	fmt.Fprintf(out, "%-40s %9s %9s\n", "build of the example course", "clock", "processor")
	for _, c := range []struct {
		name   string
		before func() error
		args   []string
	}{
		{"nothing cached", func() error { return os.RemoveAll(results) }, nil},
		{"unchanged", nothing, nil},
		{"one lesson edited", edit("4-alpha-cleavage/lesson.md"), nil},
		{"a file of all lessons edited", edit("shared/answers.md"), nil},
		{"without the cache", nothing, []string{"--no-cache"}},
	} {
		var clock, processor []time.Duration
		for range times {
			if err := c.before(); err != nil {
				return err
			}
			run := exec.CommandContext(ctx, program, append([]string{"build", course}, c.args...)...)
			run.Env = append(os.Environ(), "XDG_CACHE_HOME="+results, "HOME="+results)
			from := time.Now()
			if said, err := run.CombinedOutput(); err != nil {
				return fmt.Errorf("%s: %w\n%s", c.name, err, said)
			}
			clock = append(clock, time.Since(from))
			processor = append(processor, run.ProcessState.UserTime()+run.ProcessState.SystemTime())
		}
		slices.Sort(clock)
		slices.Sort(processor)
		fmt.Fprintf(out, "%-40s %7.2f s %7.2f s\n", c.name, clock[times/2].Seconds(), processor[times/2].Seconds())
	}
	return nil
}
