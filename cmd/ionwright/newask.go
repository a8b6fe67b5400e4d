package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
)

// asker asks questions on a terminal.
type asker struct {
	ctx   context.Context
	out   io.Writer
	lines <-chan string // what is typed; closed at its end
}

func newAsker(ctx context.Context, in io.Reader, out io.Writer) *asker {
	lines := make(chan string)
	go func() { // ends with the program: a read from a terminal can't be stopped
		defer close(lines)
		scan := bufio.NewScanner(in)
		for scan.Scan() {
			select {
			case lines <- scan.Text():
			case <-ctx.Done():
				return
			}
		}
	}()
	return &asker{ctx, out, lines}
}

var errNoAnswer = errors.New("the answers ended before the last question\nhint: give them as flags; \"ionwright new --help\" lists them")

// line asks one question and gives the trimmed answer.
func (a *asker) line(question string) (string, error) {
	fmt.Fprint(a.out, question+" ")
	select {
	case <-a.ctx.Done():
		fmt.Fprintln(a.out)
		return "", a.ctx.Err()
	case text, ok := <-a.lines:
		if !ok {
			fmt.Fprintln(a.out)
			return "", errNoAnswer
		}
		return strings.TrimSpace(text), nil
	}
}

// each asks until an empty line, and again where take refuses an answer.
func (a *asker) each(question, next string, least int, take func(string) error) error {
	for n := 0; ; {
		text, err := a.line(question)
		if err != nil {
			return err
		}
		if text == "" && n >= least {
			return nil
		}
		if text == "" {
			fmt.Fprintln(a.out, "  at least one is needed")
			continue
		}
		if err := take(text); err != nil {
			fmt.Fprintf(a.out, "  %s\n", strings.ReplaceAll(err.Error(), "\n", "\n  "))
			continue
		}
		n++
		question = next
	}
}

// ask fills the answers by asking.
func (n *newAnswers) ask(ctx context.Context, in io.Reader, out io.Writer) error {
	a := newAsker(ctx, in, out)
	fmt.Fprintln(out, "A few questions; everything can be changed in lesson.md afterwards.")
	var err error
	if n.title, err = a.line("What is the lesson called?"); err != nil {
		return err
	}
	if n.audience, err = a.line("Whom is it for?"); err != nil {
		return err
	}
	err = a.each("Which compound does it show? A name such as butan-2-one, or SMILES:", "Another compound? Enter alone goes on:", 1, func(s string) error {
		if err := n.addCompound(s); err != nil {
			return err
		}
		if err := n.compounds[len(n.compounds)-1].computable(ctx); err != nil {
			n.compounds = n.compounds[:len(n.compounds)-1]
			return err
		}
		return nil
	})
	if err != nil {
		return err
	}
	return a.each("What must students take away? One sentence:", "Another idea? Enter alone goes on:", 1, n.addIdea)
}

// terminal reports whether a stream is a terminal, at which someone can be
// asked.
func terminal(stream any) bool {
	f, ok := stream.(*os.File)
	if !ok {
		return false
	}
	info, err := f.Stat()
	if err != nil || info.Mode()&os.ModeCharDevice == 0 {
		return false
	}
	null, err := os.Stat(os.DevNull)
	return err != nil || !os.SameFile(info, null)
}
