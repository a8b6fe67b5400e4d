package main

import (
	"io/fs"

	"ionwright/lesson/course"
	"ionwright/lesson/source"
)

// alternative is whom a build is for; empty: the first audience of the lesson.
type alternative struct{ audience *string }

func (c *call) alternative() alternative {
	return alternative{c.flags.String("audience", "", "for which of the lesson's audiences: its `KEY` (default: the first)")}
}

// agrees refuses an audience for a whole course, whose lessons name their own.
func (a alternative) agrees(folder string) error {
	if *a.audience != "" && course.Is(folder) {
		return wrongUsage("--audience is for one lesson; build the course's lessons one by one")
	}
	return nil
}

// of gives a lesson's files as the audience is to get them.
func (a alternative) of(files fs.FS) fs.FS {
	if *a.audience == "" {
		return files
	}
	return source.ForAudience(files, *a.audience)
}
