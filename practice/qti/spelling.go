package qti

import (
	"fmt"
	"slices"
	"strconv"

	"ionwright/chem"
)

// spellings are the ways to write a formula that a platform is told to accept:
// its elements in any order, at most 120 orders, with the charge as a sign, and
// the dot of an unpaired electron with or without, unless it must be there.
func spellings(f chem.Formula, dot bool) []string {
	var parts []string
	for s, n := range f.All() {
		part := s.String()
		if n > 1 {
			part += strconv.Itoa(n)
		}
		parts = append(parts, part)
	}
	ends := []string{""}
	if z := f.Charge(); z != 0 {
		sign, size := "+", ""
		if z < 0 {
			sign, z = "-", -z
		}
		if z > 1 {
			size = strconv.Itoa(z)
		}
		ends = []string{size + sign, "^" + size + sign}
		if z > 1 {
			ends = []string{" " + size + sign, "^" + size + sign}
		}
		if f.OddElectron() {
			var dotted []string
			for _, d := range []string{".", "•"} {
				dotted = append(dotted, size+sign+d, d+size+sign, "^"+size+sign+d)
			}
			if !dot {
				dotted = append(ends, dotted...)
			}
			ends = dotted
		}
	}
	var out []string
	add := func(composition string) {
		for _, end := range ends {
			if s := composition + end; !slices.Contains(out, s) {
				out = append(out, s)
			}
		}
	}
	add(fmt.Sprint(f.WithCharge(0))) // Hill order first
	const most = 5                   // elements: 120 orders
	if len(parts) <= most {
		permute(parts, 0, func(p []string) {
			text := ""
			for _, s := range p {
				text += s
			}
			add(text)
		})
	}
	return out
}

func permute(parts []string, from int, visit func([]string)) {
	if from == len(parts) {
		visit(parts)
		return
	}
	for i := from; i < len(parts); i++ {
		parts[from], parts[i] = parts[i], parts[from]
		permute(parts, from+1, visit)
		parts[from], parts[i] = parts[i], parts[from]
	}
}
