package main

import (
	"context"
	"fmt"
	"io"

	"ionwright/lesson"
	"ionwright/lesson/diag"
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
