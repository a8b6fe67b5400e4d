package ionize

import "golang.org/x/sys/cpu"

// wide tells that there are registers of eight numbers, whole ones too.
var wide = cpu.X86.HasAVX2 && cpu.X86.HasBMI1 && cpu.X86.HasBMI2

var _ = [1]struct{}{}[Width-128] // the instructions are for rows of this length

func findRows(places *int32, codes *uint32, n int, t *codeTable, rows *packedRow) int {
	if wide {
		return findRowsWide(places, codes, n, t, rows)
	}
	return findRowsPlain(places, codes, n, t)
}

func sumRows(x *Row, rows *packedRow, places *int32, n int, unit *Row, scale float32) {
	if wide {
		sumRowsWide(x, rows, places, n, unit, scale)
		return
	}
	sumRowsPlain(x, rows, places, n, unit, scale)
}

func addTerms(x *Row, terms *Term, n int) {
	if wide {
		addTermsWide(x, terms, n)
		return
	}
	addTermsPlain(x, terms, n)
}

func activate(x *Row, weights *[Outputs][Hidden]float32, out *[Outputs]float32) {
	if wide {
		activateWide(x, weights, out)
		return
	}
	activatePlain(x, weights, out)
}

//go:noescape
func findRowsWide(places *int32, codes *uint32, n int, t *codeTable, rows *packedRow) int

//go:noescape
func sumRowsWide(x *Row, rows *packedRow, places *int32, n int, unit *Row, scale float32)

//go:noescape
func addTermsWide(x *Row, terms *Term, n int)

//go:noescape
func activateWide(x *Row, weights *[Outputs][Hidden]float32, out *[Outputs]float32)
