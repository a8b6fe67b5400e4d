package pack

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"strings"

	"ionwright/lesson/check"
	"ionwright/lesson/load"
	"ionwright/spectrum"
	"ionwright/spectrum/jcamp"
)

// spectra writes every spectrum of the lesson as JCAMP-DX, with its origin and
// license. Where students are to find out what a compound is, their file leaves
// out what would tell, and the instructor's has it.
func (p *Pack) spectra(b *builder) error {
	for i, c := range b.report.Lesson.Compounds {
		name, hidden, shown := b.shownAs(c)
		if !shown {
			name = c.Name
		}
		file := fmt.Sprintf("spectra/%d-%s", i+1, fileName(name))
		if shown {
			data, err := b.jcamp(c, name, hidden)
			if err != nil {
				return err
			}
			p.add(Entry{file + ".jdx", "the spectrum of " + name + " (JCAMP-DX)", true}, data)
		}
		if shown && !hidden {
			continue
		}
		data, err := b.jcamp(c, c.Name, false)
		if err != nil {
			return err
		}
		p.add(Entry{file + "-key.jdx", "the spectrum of " + c.Name + " with all that is known (JCAMP-DX)", false}, data)
	}
	return nil
}

var unsafe = regexp.MustCompile(`[^a-z0-9]+`)

// fileName is a name in small letters, digits and hyphens.
func fileName(name string) string {
	const longest = 40
	safe := strings.Trim(unsafe.ReplaceAllString(strings.ToLower(name), "-"), "-")
	if safe == "" {
		return "spectrum"
	}
	return strings.TrimRight(safe[:min(len(safe), longest)], "-")
}

// jcamp is a compound's spectrum as a file.
func (b *builder) jcamp(c *load.Compound, name string, hidden bool) ([]byte, error) {
	s := spectrum.Spectrum{Title: field(name + " (" + originWord(c) + ")")}
	for _, p := range c.Spectrum.Peaks {
		const digits = 100 // of the base peak: more says nothing
		if x := math.Round(p.Intensity*digits) / digits; x > 0 {
			s.Peaks = append(s.Peaks, spectrum.Peak{MZ: p.MZ, Intensity: x})
		}
	}
	s.Info = b.info(c)
	if hidden {
		s.Info.Name, s.Info.SourceID = "", ""
	} else if c.Formula == c.Formula.Natural() { // the record has no isotopic labels
		s.Info.Formula = c.Formula
	}
	var out bytes.Buffer
	if err := jcamp.Encode(&out, []jcamp.Block{{Spectrum: s}}, jcamp.PeakTable); err != nil {
		return nil, fmt.Errorf("the spectrum of %q: %w\nhint: shorten origin: or license: of the compound", c.Key, err)
	}
	return out.Bytes(), nil
}

func originWord(c *load.Compound) string {
	if c.Measured {
		return "measured"
	}
	return "computed"
}

// info is what the file says beside the peaks. A license asks that changes be
// named.
func (b *builder) info(c *load.Compound) spectrum.Info {
	src := b.report.Source
	if !c.Measured {
		return spectrum.Info{
			Name: field(c.Name), Origin: spectrum.Computed, Owner: field(orElse(src.Author.Value, theAuthor)),
			License: field(src.License.Value), Comment: "Computed from a structure by a model, not measured.\n" + notice,
		}
	}
	r, given := check.RightsOf(c), c.Spectrum.Info
	info := spectrum.Info{
		Name: field(c.Name), Origin: spectrum.Measured, EnergyEV: given.EnergyEV, Instrument: field(given.Instrument), SourceID: field(r.SourceID),
		Owner: field(orElse(r.Origin, orElse(src.Author.Value, theAuthor))), License: field(r.License),
		Comment: "Changed: m/z at unit resolution, intensities in % of the base peak.",
	}
	if r.Permission != "" {
		info.Comment += "\nPublished because: " + field(r.Permission)
	}
	return info
}

func orElse(s, other string) string {
	if s == "" {
		return other
	}
	return s
}

// field is text that a record can hold: a line, without what begins a comment.
func field(s string) string {
	return strings.Join(strings.Fields(strings.ReplaceAll(s, "$$", "$")), " ")
}
