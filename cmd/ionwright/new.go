package main

import (
	"context"

	"ionwright/lesson"
	"ionwright/lesson/example"
)

func runNew(_ context.Context, c *call) error {
	bottles := c.flags.Bool("example", false, "write the example lesson instead of a short one")
	args, err := c.parse(1, 1)
	if err != nil {
		return err
	}
	files := example.Starter()
	if *bottles {
		files = example.Bottles()
	}
	names, err := lesson.Create(args[0], files)
	if err != nil {
		return err
	}
	if c.json {
		return c.printJSON(map[string]any{"folder": args[0], "files": names})
	}
	c.print("wrote a lesson to %s", args[0])
	c.print("hint: \"ionwright serve %s\" shows it while you write", args[0])
	return nil
}
