package ionize

import "unsafe"

// The loops over the columns of rows, in which a third of a prediction's time
// goes, in Go. Kernel_amd64.s has the same in instructions for eight columns at
// a time, with the same results bit for bit: so every product is rounded before
// it is added, as some processors would fuse the two, and where the columns of
// a row are added up their order is that of eight lanes.

// findRowsPlain writes the places of the rows that the n codes have, in their
// order, and returns how many there are.
func findRowsPlain(places *int32, codes *uint32, n int, t *codeTable) int {
	to, found := unsafe.Slice(places, n), 0
	for _, code := range unsafe.Slice(codes, n) {
		if at := t.find(code); at >= 0 {
			to[found] = at
			found++
		}
	}
	return found
}

// sumRowsPlain sets x to the sum of the n rows at the places, mostSummed at
// most, in units of the columns, times the scale.
func sumRowsPlain(x *Row, rows *packedRow, places *int32, n int, unit *Row, scale float32) {
	const low = 0x00ff00ff00ff00ff
	zero := int32(zeroByte * n)
	at := unsafe.Slice(places, n)
	for w := 0; w < words; w += 2 { // two words of all rows, as their four sums stay in registers
		var even0, even1, odd0, odd1 uint64 // in lanes of 16 bits
		for _, k := range at {
			row := (*packedRow)(unsafe.Add(unsafe.Pointer(rows), Width*int(k)))
			even0 += row[w] & low
			odd0 += row[w] >> 8 & low
			even1 += row[w+1] & low
			odd1 += row[w+1] >> 8 & low
		}
		for k, two := range [2][2]uint64{{even0, odd0}, {even1, odd1}} {
			to, units := (*[8]float32)(x[8*(w+k):]), (*[8]float32)(unit[8*(w+k):])
			even, odd := two[0], two[1]
			for h := 0; h < 8; h += 2 {
				to[h] = units[h] * float32(int32(even&0xffff)-zero) * scale
				to[h+1] = units[h+1] * float32(int32(odd&0xffff)-zero) * scale
				even, odd = even>>16, odd>>16
			}
		}
	}
}

// addTermsPlain adds the n terms to x, in their order.
func addTermsPlain(x *Row, terms *Term, n int) {
	for h := 0; h < Width; h += 4 { // four columns of all terms, as their sums stay in registers
		to := (*[4]float32)(x[h:])
		a, b, c, d := to[0], to[1], to[2], to[3]
		for _, t := range unsafe.Slice(terms, n) {
			row := (*[4]float32)(t.Row[h:])
			a += float32(t.Times * row[0])
			b += float32(t.Times * row[1])
			c += float32(t.Times * row[2])
			d += float32(t.Times * row[3])
		}
		*to = [4]float32{a, b, c, d}
	}
}

// activatePlain is Activate.
func activatePlain(x *Row, weights *[Outputs][Hidden]float32, out *[Outputs]float32) {
	var s [Outputs][8]float32
	first, second := &weights[0], &weights[1]
	for lane := range 8 {
		var a, b float32
		for h := lane; h < Hidden; h += 8 {
			v := max(x[h], 0)
			a += float32(first[h] * v)
			b += float32(second[h] * v)
		}
		s[0][lane], s[1][lane] = a, b
	}
	for o, s := range s {
		out[o] = x[Hidden+o] + (((s[0] + s[4]) + (s[2] + s[6])) + ((s[1] + s[5]) + (s[3] + s[7])))
	}
}
