//go:build !amd64

package fit

import "ionwright/ionize"

func stepRow(p, gradient, sum *ionize.Row, rate, decay, start float32) {
	stepRowPlain(p, gradient, sum, rate, decay, start)
}
