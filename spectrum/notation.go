package spectrum

import (
	"fmt"
	"strconv"
	"strings"
)

// Parse reads the short notation of a spectrum, "43:100 58:25": m/z and
// intensity with a colon between, pairs with spaces between, in any order. It
// fails, naming the pair and its place, where New would or where a number
// can't be read.
func Parse(text string) (Spectrum, error) {
	var peaks []Peak
	for i, pair := range strings.Fields(text) {
		left, right, found := strings.Cut(pair, ":")
		mz, errMZ := strconv.ParseFloat(left, 64)
		intensity, errIntensity := strconv.ParseFloat(right, 64)
		if !found || errMZ != nil || errIntensity != nil {
			return Spectrum{}, fmt.Errorf("reading peaks: pair %d is %q; write m/z:intensity, such as 43:100", i+1, pair)
		}
		peaks = append(peaks, Peak{MZ: mz, Intensity: intensity})
	}
	s, err := New(peaks)
	if err != nil {
		return Spectrum{}, fmt.Errorf("reading peaks %q: %w", text, err)
	}
	return s, nil
}

// MustParse is Parse for text known to be right; it panics where Parse fails.
func MustParse(text string) Spectrum {
	s, err := Parse(text)
	if err != nil {
		panic("spectrum: " + err.Error())
	}
	return s
}

// Notation returns the peaks as Parse reads them, with the fewest digits that
// give the same numbers back.
func (s Spectrum) Notation() string {
	var out strings.Builder
	for i, p := range s.Peaks {
		if i > 0 {
			out.WriteByte(' ')
		}
		out.WriteString(strconv.FormatFloat(p.MZ, 'f', -1, 64))
		out.WriteByte(':')
		out.WriteString(strconv.FormatFloat(p.Intensity, 'f', -1, 64))
	}
	return out.String()
}
