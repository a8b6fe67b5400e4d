package main

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"strings"
)

// call is one run of a verb: its flags, arguments and streams.
type call struct {
	verb   verb
	args   []string
	in     io.Reader
	out    io.Writer
	errOut io.Writer
	flags  *flag.FlagSet
	json   bool
}

func newCall(v verb, args []string, in io.Reader, out, errOut io.Writer) *call {
	c := &call{verb: v, args: args, in: in, out: out, errOut: errOut}
	c.flags = flag.NewFlagSet(v.name, flag.ContinueOnError)
	c.flags.SetOutput(io.Discard)
	c.flags.BoolVar(&c.json, "json", false, "write the result as JSON")
	return c
}

// usageError is wrong usage: exit status 2.
type usageError struct{ message string }

func (e *usageError) Error() string { return e.message }

func wrongUsage(format string, args ...any) error {
	return &usageError{fmt.Sprintf(format, args...)}
}

var (
	// errReported is a failure whose reasons have been written already.
	errReported = errors.New("failed")
	// errHelp ends a call that asked for help.
	errHelp = errors.New("help")
)

// parse reads flags, which may stand before and after the arguments, and
// returns the arguments: at least least of them and at most most.
func (c *call) parse(least, most int) ([]string, error) {
	var rest []string
	for args := c.args; len(args) > 0; {
		if err := c.flags.Parse(args); err != nil {
			if errors.Is(err, flag.ErrHelp) {
				c.help()
				return nil, errHelp
			}
			return nil, wrongUsage("%s", strings.ReplaceAll(err.Error(), "flag provided but not defined: -", "there is no flag --"))
		}
		args = c.flags.Args()
		if len(args) > 0 {
			rest, args = append(rest, args[0]), args[1:]
		}
	}
	switch {
	case len(rest) < least:
		return nil, wrongUsage("an argument is missing")
	case len(rest) > most:
		return nil, wrongUsage("%q is one argument too many", rest[most])
	}
	return rest, nil
}

func (c *call) help() {
	fmt.Fprintf(c.out, "usage: ionwright %s %s\n\n%s.\n\n", c.verb.name, c.verb.args, upperFirst(c.verb.summary))
	c.flags.VisitAll(func(f *flag.Flag) {
		value, text := flag.UnquoteUsage(f)
		name := strings.TrimSpace("--" + f.Name + " " + value)
		if f.DefValue != "" && f.DefValue != "false" && f.DefValue != "0" {
			text += " (default " + f.DefValue + ")"
		}
		fmt.Fprintf(c.out, "  %-20s %s\n", name, text)
	})
}

func upperFirst(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// print writes a line of text to the output.
func (c *call) print(format string, args ...any) { fmt.Fprintf(c.out, format+"\n", args...) }

// printJSON writes the result as indented JSON.
func (c *call) printJSON(v any) error {
	e := json.NewEncoder(c.out)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(v)
}

// fail writes an error: to the error output, and as JSON to the output where
// JSON was asked for.
func (c *call) fail(err error) {
	fmt.Fprintf(c.errOut, "ionwright %s: %v\n", c.verb.name, err)
	if c.json {
		_ = c.printJSON(map[string]string{"error": err.Error()})
	}
}

// openFile opens a file to read; "-" is the standard input.
func (c *call) openFile(name string) (io.ReadCloser, error) {
	if name == "-" {
		return io.NopCloser(c.in), nil
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, fmt.Errorf("opening %q: %w", name, reason(err))
	}
	return f, nil
}

// reason is a file error without the operation and path, which the message
// names already.
func reason(err error) error {
	var path *os.PathError
	if errors.As(err, &path) {
		return path.Err
	}
	return err
}
