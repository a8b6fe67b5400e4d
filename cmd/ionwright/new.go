package main

import (
	"context"
	"testing/fstest"

	"ionwright/lesson"
	"ionwright/lesson/example"
	"ionwright/lesson/source"
)

func runNew(ctx context.Context, c *call) error {
	bottles := c.flags.Bool("example", false, "write the example lesson instead of one of your own")
	course := c.flags.Bool("course", false, "write the example course of six lessons instead")
	var a newAnswers
	c.flags.StringVar(&a.title, "title", "", "the lesson's `TITLE`")
	c.flags.StringVar(&a.audience, "audience", "", "whom it is for: a `TEXT`")
	c.flags.Func("compound", "a compound, by its chemical name or SMILES: `NAME`; the flag may be repeated", func(s string) error { return a.addCompound(s) })
	c.flags.Func("idea", "what students must take away: a `SENTENCE`; the flag may be repeated", func(s string) error { return a.addIdea(s) })
	args, err := c.parse(1, 1)
	if err != nil {
		return err
	}
	given := a.title != "" || a.audience != "" || len(a.compounds) > 0 || len(a.ideas) > 0
	switch {
	case *bottles && (given || *course):
		return wrongUsage("--example writes a finished lesson; leave the other flags out")
	case *course && given:
		return wrongUsage("--course writes finished lessons; leave the other flags out")
	}
	files := example.Starter()
	switch {
	case *bottles:
		files = example.Bottles()
	case *course:
		files = example.Course()
	case given || terminal(c.in) && terminal(c.errOut) && !c.json:
		if !given {
			if err := lesson.Vacant(args[0]); err != nil {
				return err // before anything is asked
			}
			if err := a.ask(ctx, c.in, c.errOut); err != nil {
				return err
			}
		}
		text, err := a.lesson(ctx)
		if err != nil {
			return err
		}
		files = fstest.MapFS{source.Main: {Data: []byte(text)}}
	}
	names, err := lesson.Create(args[0], files)
	if err != nil {
		return err
	}
	if c.json {
		return c.printJSON(map[string]any{"folder": args[0], "files": names})
	}
	what := "a lesson"
	if *course {
		what = "a course"
	}
	c.print("wrote %s to %s", what, args[0])
	c.print("hint: \"ionwright serve %s\" shows it while you write", args[0])
	return nil
}
