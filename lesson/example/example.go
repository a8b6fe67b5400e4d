// Package example holds the lessons that the program carries with it: one in
// an invented scenario around three bottles, which documents the lesson source
// by example, a short one to begin with, and a course of six lessons. Their
// spectra are computed by our own engine.
package example

import (
	"embed"
	"io/fs"
)

//go:embed bottles starter course
var files embed.FS

// Bottles is the folder of the example lesson.
func Bottles() fs.FS { return sub("bottles") }

// Starter is the folder of a short lesson to begin with.
func Starter() fs.FS { return sub("starter") }

// Course is the folder of the example course, in an invented scenario around a
// chest of ampoules.
func Course() fs.FS { return sub("course") }

func sub(dir string) fs.FS {
	f, err := fs.Sub(files, dir)
	if err != nil {
		panic(err) // the names above are those of the embedded folders
	}
	return f
}
