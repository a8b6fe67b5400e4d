package main

import (
	"bytes"
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"ionwright/draw"
	"ionwright/draw/apparatus"
	"ionwright/draw/motion"
	"ionwright/draw/output"
	"ionwright/sector"
	"ionwright/spectrum"
)

// drawnPaths is how many ions have their paths drawn where none are named.
const drawnPaths = 4

// draw writes the figures and the animation into a folder.
func (s *swept) draw() error {
	folder := *s.flags.out
	ending := "." + *s.flags.format
	if _, err := output.FormatOf("figure" + ending); err != nil {
		return wrongUsage("--format: there is no format %q; there are svg, png and pdf", *s.flags.format)
	}
	paths, err := numbers("paths", *s.flags.paths)
	if err != nil {
		return err
	}
	film, err := motion.New(s.recording, motion.Options{Name: s.beam.name, MZ: paths})
	if err != nil {
		return err
	}
	if len(paths) == 0 {
		paths = s.strongest()
	}
	recorded := *s.recording
	if s.counted != nil {
		recorded.Trace = s.counted.Trace
	}
	figures := []struct {
		name string
		make func() (draw.Figure, error)
	}{
		{"instrument", func() (draw.Figure, error) {
			return apparatus.Rays(s.instrument, apparatus.RayOptions{MZ: paths, Field: sector.Tesla(*s.flags.draw)})
		}},
		{"field", func() (draw.Figure, error) { return apparatus.FieldCurve(s.instrument, paths, 0, 0) }},
		{"trace", func() (draw.Figure, error) { return apparatus.Recording(&recorded, s.beam.name) }},
		{"peak", func() (draw.Figure, error) {
			return apparatus.Peak(s.recording, s.measuredAt(), apparatus.RecordingOptions{})
		}},
	}
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return fmt.Errorf("making the folder %q: %w", folder, reason(err))
	}
	write := func(name string, text []byte) error {
		path := filepath.Join(folder, name)
		if err := replaceFile(path, text); err != nil {
			return fmt.Errorf("writing %q: %w", path, reason(err))
		}
		s.files = append(s.files, path)
		return nil
	}
	for _, one := range figures {
		f, err := one.make()
		if err != nil {
			return err
		}
		var text bytes.Buffer
		if err := output.Write(&text, one.name+ending, f, output.Options{}); err != nil {
			return err
		}
		if err := write(one.name+ending, text.Bytes()); err != nil {
			return err
		}
	}
	for _, one := range []struct {
		name string
		make func() ([]byte, error)
	}{{"sweep.svg", film.SVG}, {"sweep.html", film.HTML}} {
		text, err := one.make()
		if err != nil {
			return err
		}
		if err := write(one.name, text); err != nil {
			return err
		}
	}
	return nil
}

// strongest are the m/z of the strongest peaks at unit m/z, the strongest
// first: the paths are drawn at its field.
func (s *swept) strongest() []float64 {
	peaks := slices.Clone(s.beam.spectrum.Peaks)
	slices.SortStableFunc(peaks, func(a, b spectrum.Peak) int { return cmp.Compare(b.Intensity, a.Intensity) })
	var out []float64
	var seen []int
	for _, p := range peaks {
		if unit := spectrum.UnitMZ(p.MZ); !slices.Contains(seen, unit) {
			seen, out = append(seen, unit), append(out, p.MZ)
		}
		if len(out) == drawnPaths {
			break
		}
	}
	return out
}
