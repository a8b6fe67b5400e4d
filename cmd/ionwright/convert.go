package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

type convertIn struct {
	From string `json:"from"` // a file name or its ending, such as ".csv"
	To   string `json:"to"`
	Text string `json:"text"`
}

type convertLine struct {
	Text string `json:"text"`
}

func runConvert(ctx context.Context, c *call) error {
	streamed := c.flags.Bool("stream", false, "read {\"id\",\"from\",\"to\",\"text\"} a line; from and to are endings such as \".csv\"")
	args, err := c.parse(0, 2)
	if err != nil {
		return err
	}
	if *streamed {
		return stream(ctx, c, func(_ context.Context, in convertIn) (any, error) {
			text, _, err := convertText(in.From, in.To, strings.NewReader(in.Text))
			return convertLine{string(text)}, err
		})
	}
	if len(args) != 2 {
		return wrongUsage("name the file to read and the one to write")
	}
	file, err := c.openFile(args[0])
	if err != nil {
		return err
	}
	defer file.Close()
	text, what, err := convertText(args[0], args[1], file)
	if err != nil {
		return err
	}
	if err := replaceFile(args[1], text); err != nil {
		return fmt.Errorf("writing %q: %w", args[1], reason(err))
	}
	if c.json {
		return c.printJSON(map[string]any{"file": args[1], "holds": what})
	}
	c.print("wrote %s: %s", args[1], what)
	return nil
}

// replaceFile writes a file whole or not at all.
func replaceFile(name string, data []byte) error {
	f, err := os.CreateTemp(filepath.Dir(name), ".ionwright-*")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name()) // gone already when all went well
	if _, err := f.Write(data); err != nil {
		f.Close()
		return err
	}
	if err := f.Chmod(0o644); err != nil {
		f.Close()
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	return os.Rename(f.Name(), name)
}
