package fit

import (
	"golang.org/x/sys/cpu"

	"ionwright/ionize"
)

// wide tells that there are registers of eight numbers.
var wide = cpu.X86.HasAVX

var _ = [1]struct{}{}[ionize.Width-128] // the instructions are for rows of this length

func stepRow(p, gradient, sum *ionize.Row, rate, decay, start float32) {
	if wide {
		stepRowWide(p, gradient, sum, rate, decay, start)
		return
	}
	stepRowPlain(p, gradient, sum, rate, decay, start)
}

//go:noescape
func stepRowWide(p, gradient, sum *ionize.Row, rate, decay, start float32)
