package sector

import (
	"fmt"
	"math"
	"strconv"
)

// FrameSettings say what a live view shows at one moment. The zero value
// shows the first ion flying down the central path.
type FrameSettings struct {
	Field         Tesla // of the magnet; 0: what brings the first ion down the central path
	Voltage       Volt  // 0: the instrument's own
	SourceSlit    Metre // 0: the instrument's own
	CollectorSlit Metre // 0: the instrument's own
	Rays          int   // of each ion, evenly spread over the divergence of the beam, 1 to 101; 0: 1, the middle one
}

// Frame is an instrument with the ions that fly through it at one moment:
// what a live view draws. As JSON its lengths are in m, angles in rad, the
// field in T and the voltage in V.
type Frame struct {
	Field   Tesla   `json:"field"`
	Voltage Volt    `json:"voltage"`
	MZ      float64 `json:"mz"` // that flies down the central path
	Layout  Layout  `json:"layout"`
	Beams   []Beam  `json:"beams"`  // one for each ion, in the order given
	Signal  float64 `json:"signal"` // what the detector records: the sum of the beams' currents
}

// Beam is what becomes of the ions of one kind.
type Beam struct {
	MZ        float64 `json:"mz"`
	Intensity float64 `json:"intensity"` // current that leaves the source
	Share     float64 `json:"share"`     // of it that gets through the collector slit, 0 to 1
	Current   float64 `json:"current"`   // Intensity times Share
	Rays      []Ray   `json:"rays"`
}

// Reaches reports whether any of the ions reach the detector.
func (b Beam) Reaches() bool { return b.Share > 0 }

// Polyline is a path of straight pieces, in m.
type Polyline []Point

// MarshalJSON writes the path as [[x,y],...], rounded to a micrometre.
func (p Polyline) MarshalJSON() ([]byte, error) {
	out := make([]byte, 0, 20*len(p)+2)
	out = append(out, '[')
	for at, v := range p {
		if at > 0 {
			out = append(out, ',')
		}
		out = append(out, '[')
		out = appendMicrometres(out, v.X)
		out = append(out, ',')
		out = appendMicrometres(out, v.Y)
		out = append(out, ']')
	}
	return append(out, ']'), nil
}

func appendMicrometres(out []byte, metres float64) []byte {
	return strconv.AppendFloat(out, math.Round(metres*1e6)/1e6, 'f', -1, 64)
}

// mostRays and mostBeams bound what one frame can hold.
const (
	mostRays  = 101
	mostBeams = 10_000
)

// Frame flies ions through the instrument at one field and returns their
// paths, as polylines from the source slit to where each ends, with what the
// detector records. Rays come from the middle of the source slit; the shares
// are those of the whole beam, with its slopes and energies. Nothing but the
// settings decides the result, so a view can ask anew for every moment.
//
// It fails like Check and Field, naming the setting, and for a field beyond
// the magnet's.
func (i Instrument) Frame(ions []Ion, set FrameSettings) (*Frame, error) {
	if set.Voltage != 0 {
		i.Voltage = set.Voltage
	}
	if set.SourceSlit != 0 {
		i.SourceSlit = set.SourceSlit
	}
	if set.CollectorSlit != 0 {
		i.CollectorSlit = set.CollectorSlit
	}
	if set.Rays == 0 {
		set.Rays = 1
	}
	if set.Rays < 0 || set.Rays > mostRays {
		return nil, &SettingError{"number of rays", float64(set.Rays), "", fmt.Sprintf("expected 1 to %d for each ion", mostRays)}
	}
	if len(ions) > mostBeams {
		return nil, &SettingError{"number of ions", float64(len(ions)), "", fmt.Sprintf("expected at most %d", mostBeams)}
	}
	s, err := i.readyFor(ions, nil)
	if err != nil {
		return nil, err
	}
	b := set.Field
	if b == 0 {
		if b, err = i.Field(ions[0].MZ); err != nil {
			return nil, err
		}
	}
	if i.MaxField > 0 && b > i.MaxField {
		return nil, beyond(b, i.MaxField)
	}
	t, err := i.tracerOf(s.optics, b)
	if err != nil {
		return nil, err
	}
	f := &Frame{Field: b, Voltage: i.Voltage, MZ: t.center, Layout: i.layout(s.optics), Beams: make([]Beam, len(ions))}
	fronts := t.fronts(set.Rays)
	for at, ion := range ions {
		beam := Beam{MZ: ion.MZ, Intensity: ion.Intensity, Rays: t.rays(ion.MZ, fronts)}
		beam.Share = s.share(deviation(ion.MZ, t.center))
		beam.Current = beam.Intensity * beam.Share
		f.Signal += beam.Current
		f.Beams[at] = beam
	}
	return f, nil
}
