package main

import (
	"context"
	"path/filepath"

	"ionwright/lesson"
	"ionwright/lesson/cache"
	"ionwright/lesson/course"
	"ionwright/lesson/diag"
	"ionwright/lesson/pack"
	"ionwright/lesson/printer"
)

// packFolder is where packs go inside of a lesson's folder.
const packFolder = "pack"

// printing prints until the command is stopped.
type printing struct {
	*printer.Printer
	ctx context.Context
}

func (p printing) Print(page []byte) ([]byte, error) { return p.Printer.Print(p.ctx, page) }

func runBuild(ctx context.Context, c *call) error {
	out := c.flags.String("out", "", "the `FOLDER` to put the pack in (default: pack, in the lesson's folder)")
	whom := c.alternative()
	pdf := c.flags.Bool("pdf", false, "also print the pages to PDF, with the Chromium on this machine")
	noCache := c.flags.Bool("no-cache", false, "compute everything again and keep nothing")
	folder, err := c.folder()
	if err != nil {
		return err
	}
	if err := whom.agrees(folder); err != nil {
		return err
	}
	if *out == "" {
		*out = filepath.Join(folder, packFolder)
	}
	if *noCache {
		ctx = cache.With(ctx, nil)
	}
	var o pack.Options
	if *pdf {
		with, err := printer.Find()
		if err != nil {
			return err
		}
		o.Printer = printing{with, ctx}
	}
	if course.Is(folder) {
		return c.buildCourse(ctx, folder, *out, o)
	}
	files, err := lesson.Open(folder)
	if err != nil {
		return err
	}
	p, diags, err := lesson.Build(ctx, whom.of(files), o)
	if err != nil {
		return err
	}
	result := checkResult{OK: p != nil, Diagnostics: diags}
	if result.Diagnostics == nil {
		result.Diagnostics = diag.List{}
	}
	if p != nil {
		if err := p.Write(*out); err != nil {
			return err
		}
		result.Pack = *out
	}
	printDiagnostics(c.errOut, diags)
	if c.json {
		if err := c.printJSON(result); err != nil {
			return err
		}
	} else if p != nil {
		c.print("built %s: %s%s", *out, count(len(p.Files), "file"), warned(diags))
	}
	if p == nil {
		return errReported
	}
	return nil
}
