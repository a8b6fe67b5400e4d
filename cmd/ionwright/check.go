package main

import (
	"context"
	"fmt"
	"io"
	"os"

	"ionwright/lesson"
	"ionwright/lesson/course"
	"ionwright/lesson/diag"
	"ionwright/lesson/foreign"
)

// checkResult is what "check --json" and "build --json" write.
type checkResult struct {
	OK          bool      `json:"ok"`
	Claims      int       `json:"claims,omitempty"`
	Questions   int       `json:"questions,omitempty"`
	Pack        string    `json:"pack,omitempty"` // folder
	Diagnostics diag.List `json:"diagnostics"`
}

func runCheck(ctx context.Context, c *call) error {
	strict := c.flags.Bool("strict", false, "fail on warnings too")
	folder, err := c.folder()
	if err != nil {
		return err
	}
	if info, err := os.Stat(folder); err == nil && !info.IsDir() {
		return c.checkText(folder, *strict)
	}
	if course.Is(folder) {
		return c.checkCourse(ctx, folder, *strict)
	}
	files, err := lesson.Open(folder)
	if err != nil {
		return err
	}
	report, diags, err := lesson.Check(ctx, files)
	if err != nil {
		return err
	}
	result := checkResult{OK: !diags.HasErrors() && !(*strict && len(diags) > 0), Diagnostics: diags}
	if report != nil {
		result.Claims, result.Questions = len(report.Claims), len(report.Questions)
	}
	if c.json {
		if diags == nil {
			result.Diagnostics = diag.List{}
		}
		if err := c.printJSON(result); err != nil {
			return err
		}
	} else {
		printDiagnostics(c.out, diags)
		if result.OK {
			c.print("%s: %s and %s hold%s", folder, count(result.Claims, "claim"), count(result.Questions, "question"), warned(diags))
		}
	}
	if !result.OK {
		return errReported
	}
	return nil
}

// checkText checks a file that isn't a lesson.
func (c *call) checkText(name string, strict bool) error {
	open, err := c.openFile(name)
	if err != nil {
		return err
	}
	defer open.Close()
	text, err := io.ReadAll(io.LimitReader(open, foreign.MaxLength+1))
	if err != nil {
		return fmt.Errorf("reading %q: %w", name, err)
	}
	diags, err := foreign.Check(name, text)
	if err != nil {
		return err
	}
	failed := diags.HasErrors() || strict && len(diags) > 0
	if c.json {
		if diags == nil {
			diags = diag.List{}
		}
		if err := c.printJSON(checkResult{OK: !failed, Diagnostics: diags}); err != nil {
			return err
		}
	} else if printDiagnostics(c.out, diags); !failed {
		c.print("%s: nothing in it contradicts the computation%s", name, warned(diags))
	}
	if failed {
		return errReported
	}
	return nil
}

// folder is the one argument of a verb that takes a lesson; the current
// folder by default.
func (c *call) folder() (string, error) {
	args, err := c.parse(0, 1)
	if err != nil || len(args) == 1 {
		return append(args, "")[0], err
	}
	return ".", nil
}

// printDiagnostics writes each diagnostic and, if there is one, how many.
func printDiagnostics(w io.Writer, diags diag.List) {
	for _, d := range diags {
		fmt.Fprintln(w, d)
	}
	if diags.HasErrors() {
		fmt.Fprintf(w, "%s%s\n", count(diags.Count(diag.Error), "error"), warned(diags))
	}
}

func warned(diags diag.List) string {
	if n := diags.Count(diag.Warning); n > 0 {
		return ", " + count(n, "warning")
	}
	return ""
}

func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
