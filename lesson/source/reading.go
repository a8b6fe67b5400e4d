package source

// Reading holds the limits from which check advises on the writing.
type Reading struct {
	Grade   float64 // Flesch-Kincaid grade level of a section
	Words   int     // of a sentence
	Minutes float64 // spoken, of a section
}

// usualReading are the limits where the front matter names none; common
// practice, no source.
var usualReading = Reading{Grade: 14, Words: 45, Minutes: 8}

// reading reads the limits.
func (p *reader) reading(f fields) Reading {
	r := usualReading
	v, ok := f.get("reading")
	if !ok || v.shape == empty {
		return r
	}
	limits := fieldsOf("\"reading\"", v.text.Place(), v, &p.diags, "grade", "words", "minutes")
	if x := limits.number("grade"); x > 0 {
		r.Grade = x
	}
	if n := limits.whole("words", 1000); n > 0 {
		r.Words = n
	}
	if x := limits.number("minutes"); x > 0 {
		r.Minutes = x
	}
	return r
}
