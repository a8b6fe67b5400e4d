package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"strings"

	"ionwright/lesson"
	"ionwright/lesson/course"
	"ionwright/lesson/diag"
	"ionwright/lesson/foreign"
)

// checkResult is what "check --json" and "build --json" write.
type checkResult struct {
	OK          bool             `json:"ok"`
	Claims      int              `json:"claims,omitempty"`
	Questions   int              `json:"questions,omitempty"`
	Pack        string           `json:"pack,omitempty"` // folder
	Sections    []checkedSection `json:"sections,omitempty"`
	Diagnostics diag.List        `json:"diagnostics"`
}

// checkedSection is how long a section takes to say.
type checkedSection struct {
	Title   string  `json:"title"`
	Words   int     `json:"words"`
	Seconds float64 `json:"seconds"`
}

func runCheck(ctx context.Context, c *call) error {
	strict := c.flags.Bool("strict", false, "fail on warnings too")
	lengths := c.flags.Bool("lengths", false, "say how long each section takes to say, at the lesson's pace")
	watch := c.flags.Bool("watch", false, "check again whenever a file changes, until Ctrl-C")
	folder, err := c.folder()
	if err != nil {
		return err
	}
	if *watch && folder == "-" {
		return wrongUsage("the standard input can't be watched; name a folder or a file")
	}
	if *watch {
		return c.watchCheck(ctx, folder, func() error { return c.checkAt(ctx, folder, *strict, *lengths) })
	}
	return c.checkAt(ctx, folder, *strict, *lengths)
}

// checkAt checks a lesson's or a course's folder, or a text.
func (c *call) checkAt(ctx context.Context, folder string, strict, lengths bool) error {
	if info, err := os.Stat(folder); folder == "-" || err == nil && !info.IsDir() {
		return c.checkText(folder, strict)
	}
	if course.Is(folder) {
		return c.checkCourse(ctx, folder, strict)
	}
	files, err := lesson.Open(folder)
	if err != nil {
		return err
	}
	report, diags, err := lesson.Check(ctx, files)
	if err != nil {
		return err
	}
	result := checkResult{OK: passes(diags, strict), Diagnostics: diags}
	if report != nil {
		result.Claims, result.Questions = len(report.Claims), len(report.Questions)
	}
	if lengths && report != nil && !diags.HasErrors() {
		for _, s := range lesson.Lengths(report) {
			result.Sections = append(result.Sections, checkedSection{s.Title, s.Words, s.Time.Seconds()})
		}
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
		for _, s := range result.Sections {
			seconds := int(s.Seconds + 0.5)
			c.print("%3d:%02d  %s (%d words)", seconds/60, seconds%60, s.Title, s.Words)
		}
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
	failed := !passes(diags, strict)
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

// passes reports that nothing of what was found fails a check; advice never
// does.
func passes(diags diag.List, strict bool) bool {
	return !diags.HasErrors() && !(strict && diags.Count(diag.Warning) > 0)
}

func warned(diags diag.List) string {
	text := ""
	if n := diags.Count(diag.Warning); n > 0 {
		text += ", " + count(n, "warning")
	}
	if n := diags.Count(diag.Advice); n > 0 {
		text += fmt.Sprintf(", %d pieces of advice", n)
		if n == 1 {
			text = strings.TrimSuffix(text, "1 pieces of advice") + "1 piece of advice"
		}
	}
	return text
}

func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
