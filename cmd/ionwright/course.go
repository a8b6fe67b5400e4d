package main

import (
	"context"

	"ionwright/lesson/course"
	"ionwright/lesson/diag"
	"ionwright/lesson/pack"
)

// courseResult is what "check --json" and "build --json" write of a course.
type courseResult struct {
	OK          bool           `json:"ok"`
	Lessons     []courseLesson `json:"lessons"`
	Pack        string         `json:"pack,omitempty"` // folder
	Diagnostics diag.List      `json:"diagnostics"`
}

type courseLesson struct {
	Folder    string `json:"folder"`
	Claims    int    `json:"claims,omitempty"`
	Questions int    `json:"questions,omitempty"`
}

// checkCourse checks a folder of lessons.
func (c *call) checkCourse(ctx context.Context, folder string, strict bool) error {
	opened, diags, err := course.Open(folder)
	if err != nil {
		return err
	}
	result := courseResult{Lessons: []courseLesson{}, Diagnostics: append(diag.List{}, diags...)}
	claims, questions := 0, 0
	if opened != nil {
		lessons, err := opened.Check(ctx)
		if err != nil {
			return err
		}
		for _, l := range lessons {
			result.Lessons = append(result.Lessons, courseLesson{l.Folder, l.Claims, l.Questions})
			result.Diagnostics = append(result.Diagnostics, l.Diags...)
			claims, questions = claims+l.Claims, questions+l.Questions
		}
	}
	result.OK = passes(result.Diagnostics, strict)
	if c.json {
		if err := c.printJSON(result); err != nil {
			return err
		}
	} else {
		printDiagnostics(c.out, result.Diagnostics)
		if result.OK {
			c.print("%s: %s, %s and %s hold%s", folder, count(len(result.Lessons), "lesson"), count(claims, "claim"), count(questions, "question"), warned(result.Diagnostics))
		}
	}
	if !result.OK {
		return errReported
	}
	return nil
}

// buildCourse builds a folder of lessons into one pack.
func (c *call) buildCourse(ctx context.Context, folder, out string, o pack.Options) error {
	opened, diags, err := course.Open(folder)
	if err != nil {
		return err
	}
	result := courseResult{Lessons: []courseLesson{}, Diagnostics: append(diag.List{}, diags...)}
	var p *pack.Pack
	if opened != nil && !diags.HasErrors() {
		var more diag.List
		if p, more, err = opened.Build(ctx, o); err != nil {
			return err
		}
		result.Diagnostics = append(result.Diagnostics, more...)
		for _, l := range opened.Source.Lessons {
			result.Lessons = append(result.Lessons, courseLesson{Folder: l.Folder.Value})
		}
	}
	result.OK = p != nil
	if p != nil {
		if err := p.Write(out); err != nil {
			return err
		}
		result.Pack = out
	}
	printDiagnostics(c.errOut, result.Diagnostics)
	if c.json {
		if err := c.printJSON(result); err != nil {
			return err
		}
	} else if p != nil {
		c.print("built %s: %s, %s%s", out, count(len(result.Lessons), "lesson"), count(len(p.Files), "file"), warned(result.Diagnostics))
	}
	if p == nil {
		return errReported
	}
	return nil
}
