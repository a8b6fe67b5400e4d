//go:build !amd64

package ionize

func findRows(places *int32, codes *uint32, n int, t *codeTable, _ *packedRow) int {
	return findRowsPlain(places, codes, n, t)
}

func sumRows(x *Row, rows *packedRow, places *int32, n int, unit *Row, scale float32) {
	sumRowsPlain(x, rows, places, n, unit, scale)
}

func addTerms(x *Row, terms *Term, n int) { addTermsPlain(x, terms, n) }

func activate(x *Row, weights *[Outputs][Hidden]float32, out *[Outputs]float32) {
	activatePlain(x, weights, out)
}
