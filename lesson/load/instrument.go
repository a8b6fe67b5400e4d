package load

import (
	"errors"
	"io/fs"
	"strings"

	"ionwright/lesson/diag"
	"ionwright/lesson/source"
	"ionwright/sector"
)

// slitShare is the slits' width of an instrument whose lesson states none, as
// a part of the path radius: a resolving power of 500.
const slitShare = 1.0 / 1000

const maxDescription = 64 << 10 // bytes of an instrument's description

// loadInstrument makes an instrument: a preset or what a file describes, with
// what the lesson changes of it; or two equal slits half a circle apart.
func loadInstrument(fsys fs.FS, s source.Instrument) (*Instrument, *diag.Diagnostic) {
	i := &Instrument{Source: s, Key: s.Key.Value, Name: s.Name.Value}
	if i.Name == "" {
		i.Name = i.Key
	}
	switch {
	case !s.Preset.IsZero():
		preset, ok := sector.Preset(s.Preset.Value)
		if !ok {
			d := diag.New(diag.WrongType, s.Preset.Place(), "there is no preset %q", s.Preset.Value).
				Suggesting("the presets are %s", strings.Join(sector.PresetNames(), ", "))
			return nil, &d
		}
		i.Sector = preset
	case !s.File.IsZero():
		data, d, ok := source.OpenFile(fsys, s.File, maxDescription)
		if !ok {
			return nil, &d
		}
		described, err := sector.ReadDescription(data)
		if err != nil {
			d := diag.New(diag.WrongType, s.File.Place(), "the instrument %q in %q: %v", i.Key, s.File.Value, err)
			return nil, &d
		}
		i.Sector = described
	case s.Radius == 0 || s.Voltage == 0:
		return nil, nil // reported where it is read
	default:
		i.Sector.SourceSlit = sector.Metre(s.Radius * slitShare)
		i.Sector.CollectorSlit = i.Sector.SourceSlit
	}
	i.Sector.Name = i.Name
	if s.Radius != 0 {
		i.Sector.Radius = sector.Metre(s.Radius)
	}
	if s.Voltage != 0 {
		i.Sector.Voltage = sector.Volt(s.Voltage)
	}
	if s.Slit != 0 {
		i.Sector.SourceSlit, i.Sector.CollectorSlit = sector.Metre(s.Slit), sector.Metre(s.Slit)
	}
	if err := i.Sector.Check(); err != nil {
		d := diag.New(diag.WrongType, s.Key.Place(), "the instrument %q can't be: %v", i.Key, err)
		var setting *sector.SettingError
		if errors.As(err, &setting) {
			d = d.Suggesting("change the %s", setting.Name)
		}
		return nil, &d
	}
	return i, nil
}
