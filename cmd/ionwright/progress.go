package main

import (
	"fmt"
	"io"
	"os"
	"strings"
	"time"
)

// progress tells on the error output how far long work is, where that is a
// terminal. It writes nothing in the first seconds.
type progress struct {
	out     io.Writer
	next    time.Time
	written int
}

const (
	progressAfter = 2 * time.Second
	progressEvery = time.Second / 2
)

func newProgress(c *call, now time.Time) *progress {
	p := &progress{next: now.Add(progressAfter)}
	if f, ok := c.errOut.(*os.File); ok {
		if info, err := f.Stat(); err == nil && info.Mode()&os.ModeCharDevice != 0 {
			p.out = f
		}
	}
	return p
}

// tell shows how far the work is, now and then.
func (p *progress) tell(text string) {
	if p.out == nil {
		return
	}
	if now := time.Now(); now.After(p.next) {
		p.next = now.Add(progressEvery)
		fmt.Fprintf(p.out, "\r%s%s", text, strings.Repeat(" ", max(0, p.written-len(text))))
		p.written = len(text)
	}
}

// end takes the line away.
func (p *progress) end() {
	if p.out != nil && p.written > 0 {
		fmt.Fprintf(p.out, "\r%s\r", strings.Repeat(" ", p.written))
	}
}
