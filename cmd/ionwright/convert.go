package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
)

func runConvert(_ context.Context, c *call) error {
	args, err := c.parse(2, 2)
	if err != nil {
		return err
	}
	to, err := formatOf(args[1])
	if err != nil {
		return err
	}
	s, err := c.readSpectrum(args[0])
	if err != nil {
		return err
	}
	var text bytes.Buffer
	if err := to.write(&text, s); err != nil {
		return fmt.Errorf("writing %q as %s: %w", args[1], to.name, err)
	}
	if err := replaceFile(args[1], text.Bytes()); err != nil {
		return fmt.Errorf("writing %q: %w", args[1], reason(err))
	}
	if c.json {
		return c.printJSON(map[string]any{"file": args[1], "format": to.name, "peaks": len(s.Peaks)})
	}
	c.print("wrote %s: %s", args[1], count(len(s.Peaks), "peak"))
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
