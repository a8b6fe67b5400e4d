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
	for _, t := range unsafe.Slice(terms, n) {
		for h := range x {
			x[h] += float32(t.Times * t.Row[h])
		}
	}
}

// activatePlain is Activate.
func activatePlain(x *Row, weights *[Outputs][Hidden]float32, out *[Outputs]float32) {
	for o := range out {
		var s [8]float32
		for h, v := range x[:Hidden] {
			s[h%8] += float32(weights[o][h] * max(v, 0))
		}
		out[o] = x[Hidden+o] + (((s[0] + s[4]) + (s[2] + s[6])) + ((s[1] + s[5]) + (s[3] + s[7])))
	}
}
