package web

import (
	"context"
	"fmt"
	"math"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"ionwright/draw"
	"ionwright/draw/apparatus"
	"ionwright/draw/plot"
	"ionwright/sector"
)

// demonstratePage is what the template shows.
type demonstratePage struct {
	Ask          shown
	Problem      problem
	Instruments  []string
	Voltage      int     // V, of the slider
	Slit         float64 // mm, of the slider
	UsualVoltage int     // of the instrument
	UsualSlit    float64
	WhatIfs      []whatIf
	WhatIf       *whatIf
	Sentence     string
	Arrivals     []arrival
	Apparatus    *shownFigure
	Recording    *shownFigure
	Caution      string
	FrameAddress string
	SweepAddress string
}

// demonstrate shows the instrument.
func (s *Server) demonstrate(w http.ResponseWriter, r *http.Request) error {
	ask, err := readShown(r)
	page := &demonstratePage{Ask: ask, WhatIfs: whatIfs(), Caution: sector.Caution}
	for _, i := range sector.Presets() {
		page.Instruments = append(page.Instruments, i.Name)
	}
	usual := sector.Presets()[ask.Instrument]
	page.UsualVoltage, page.UsualSlit = int(usual.Voltage), millimetres(usual.CollectorSlit)
	page.Voltage, page.Slit = page.UsualVoltage, page.UsualSlit
	if err == nil {
		err = s.fillDemonstrate(r.Context(), page)
	}
	if page.Problem, err = problemOf(err); err != nil {
		return err
	}
	return s.renderStatus(w, r, page.Problem.status, "demonstrate", "/demonstrate", "Demonstrate", page)
}

func (s *Server) fillDemonstrate(ctx context.Context, page *demonstratePage) error {
	ask := page.Ask
	before, err := s.setUp(ctx, ask)
	if err != nil {
		return err
	}
	page.Voltage, page.Slit = int(before.instrument.Voltage), millimetres(before.instrument.CollectorSlit)
	now := before.changed(ask)
	page.FrameAddress, page.SweepAddress = ask.addressAt("/demonstrate/frame"), ask.addressAt("/demonstrate/sweep")
	if page.Arrivals, err = arrivals(before, now); err != nil {
		return err
	}
	if found, ok := whatIfNamed(ask.WhatIf); ok {
		page.WhatIf = &found
	}
	page.Sentence = now.sentence()
	instrument, err := showApparatus(now, ask)
	if err != nil {
		return badRequest(err)
	}
	recording, err := now.record()
	if err != nil {
		return badRequest(err)
	}
	f, err := apparatus.Recording(recording, now.name)
	if err != nil {
		return badRequest(err)
	}
	if page.Recording, err = show("trace", f, ask.figureAddress); err != nil {
		return err
	}
	page.Apparatus = instrument
	return nil
}

// millimetres of a slit, as the slider has them.
func millimetres(m sector.Metre) float64 { return math.Round(float64(m)*1e5) / 100 }

// sentence says what the instrument is set to.
func (u setUp) sentence() string {
	i := u.instrument
	power := ""
	if r, err := i.ResolvingPower(); err == nil {
		power = fmt.Sprintf("; the slits leave a resolving power of about %s", strconv.FormatFloat(r, 'f', 0, 64))
	}
	return fmt.Sprintf("%s: ions accelerated by %.0f V on a path of radius %.0f cm, slits of %s mm%s.", upperFirst(i.Name), float64(i.Voltage),
		float64(i.Radius)*100, strconv.FormatFloat(float64(i.CollectorSlit)*1000, 'g', 3, 64), power)
}

func upperFirst(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// record sweeps over all ions in steps that are fine enough for the narrowest
// peak: of the lightest ion, since peaks are as wide as the field over twice
// the resolving power.
func (u setUp) record() (*sector.Recording, error) {
	from, to, err := u.sweepRange()
	if err != nil {
		return nil, err
	}
	const fewest, most, perPeak = 2000, 200_000, 5
	steps := fewest
	if power, err := u.instrument.ResolvingPower(); err == nil {
		steps = int(min(most, max(fewest, perPeak*2*power*float64(to-from)/float64(from))))
	}
	return sector.Sweep(u.instrument, u.ions, sector.SweepSettings{From: from, To: to, Steps: steps})
}

func (d shown) figureAddress(name string) string { return d.addressAt("/demonstrate/figure/" + name) }

// showApparatus draws the instrument with its strongest ions, for paper and
// for browsers without scripts.
func showApparatus(u setUp, d shown) (*shownFigure, error) {
	f, err := apparatusFigure(u, d)
	if err != nil {
		return nil, err
	}
	return show("instrument", f, d.figureAddress)
}

func apparatusFigure(u setUp, d shown) (draw.Figure, error) {
	const most = 5
	var mzs []float64
	for range most {
		best := -1
		for k, ion := range u.ions {
			taken := false
			for _, mz := range mzs {
				taken = taken || mz == ion.MZ
			}
			if !taken && (best < 0 || ion.Intensity > u.ions[best].Intensity) {
				best = k
			}
		}
		if best >= 0 {
			mzs = append(mzs, u.ions[best].MZ)
		}
	}
	return apparatus.Rays(u.instrument, apparatus.RayOptions{MZ: mzs, Field: sector.Tesla(d.Field)})
}

// demonstrateFigure sends a figure as a file.
func (s *Server) demonstrateFigure(w http.ResponseWriter, r *http.Request) error {
	ask, u, err := s.asked(r)
	if err != nil {
		return err
	}
	name := r.PathValue("name")
	if stem, _, _ := strings.Cut(name, "."); stem == "trace" {
		recording, err := u.record()
		if err != nil {
			return badRequest(err)
		}
		f, err := apparatus.Recording(recording, u.name)
		if err != nil {
			return badRequest(err)
		}
		return sendFigure(w, name, f)
	}
	f, err := apparatusFigure(u, ask)
	if err != nil {
		return badRequest(err)
	}
	return sendFigure(w, name, f)
}

// asked is the set-up that a request is about.
func (s *Server) asked(r *http.Request) (shown, setUp, error) {
	ask, err := readShown(r)
	if err != nil {
		return ask, setUp{}, err
	}
	u, err := s.setUp(r.Context(), ask)
	if err != nil {
		return ask, u, err
	}
	return ask, u.changed(ask), nil
}

// livePaths is about how many paths a live view shows; its ions share them.
const livePaths = 120

// liveFrame is one moment of the live view: sector's frame with the paths as
// whole numbers, which a browser reads faster.
type liveFrame struct {
	Field    sector.Tesla  `json:"field"`
	Layout   sector.Layout `json:"layout"`
	Beams    []liveBeam    `json:"beams"`
	Sentence string        `json:"sentence"`
}

type liveBeam struct {
	MZ        float64    `json:"mz"`
	Intensity float64    `json:"intensity"`
	Share     float64    `json:"share"`
	Paths     []livePath `json:"paths"`
}

type livePath struct {
	Points  []int32 `json:"points"` // x, y, x, y ... in units of 10 micrometres
	Arrives bool    `json:"arrives"`
}

// tenMicrometres are in a metre.
const tenMicrometres = 1e5

func newLiveFrame(f *sector.Frame) liveFrame {
	out := liveFrame{Field: f.Field, Layout: f.Layout, Sentence: frameSentence(f), Beams: make([]liveBeam, len(f.Beams))}
	for i, b := range f.Beams {
		beam := liveBeam{MZ: b.MZ, Intensity: b.Intensity, Share: b.Share, Paths: make([]livePath, len(b.Rays))}
		for k, ray := range b.Rays {
			points := make([]int32, 0, 2*len(ray.Points))
			for _, p := range ray.Points {
				points = append(points, int32(math.Round(p.X*tenMicrometres)), int32(math.Round(p.Y*tenMicrometres)))
			}
			beam.Paths[k] = livePath{points, ray.End == sector.Collected}
		}
		out.Beams[i] = beam
	}
	return out
}

// demonstrateFrame computes where the ions fly at one field.
func (s *Server) demonstrateFrame(w http.ResponseWriter, r *http.Request) error {
	ask, u, err := s.asked(r)
	if err != nil {
		return err
	}
	f, err := u.instrument.Frame(u.ions, sector.FrameSettings{Field: sector.Tesla(ask.Field), Rays: max(3, livePaths/len(u.ions))})
	if err != nil {
		return badRequest(err)
	}
	return writeJSON(w, newLiveFrame(f))
}

// frameSentence says what arrives, for who can't see it.
func frameSentence(f *sector.Frame) string {
	var reach []string
	for _, b := range f.Beams {
		if b.Share > 0.01 {
			reach = append(reach, plot.MZ(b.MZ, 0))
		}
	}
	switch {
	case len(reach) == 0:
		return fmt.Sprintf("%.3f T: no ion reaches the detector.", float64(f.Field))
	case len(reach) > 6:
		return fmt.Sprintf("%.3f T: %d kinds of ions reach the detector.", float64(f.Field), len(reach))
	}
	return fmt.Sprintf("%.3f T: m/z %s reaches the detector.", float64(f.Field), strings.Join(reach, ", "))
}

// liveSweep is what the trace of the live view is drawn from.
type liveSweep struct {
	From     float64   `json:"from"` // T
	To       float64   `json:"to"`
	Signal   []float64 `json:"signal"` // at equal steps from From to To, 0 to 1
	Arrivals []arrival `json:"arrivals"`
	Voltage  float64   `json:"voltage"`
}

// livePoints of the trace that a live view draws.
const livePoints = 1200

// heights thins a signal out to so many points, 0 to 1 of its highest; each is
// the highest of those it stands for, so that narrow peaks keep their height.
func heights(signal []float64, points int) []float64 {
	top := slices.Max(signal)
	out := make([]float64, min(points, len(signal)))
	for i, y := range signal {
		k := i * len(out) / len(signal)
		if top > 0 {
			out[k] = max(out[k], math.Round(y/top*1e4)/1e4)
		}
	}
	return out
}

// demonstrateSweep records a whole sweep.
func (s *Server) demonstrateSweep(w http.ResponseWriter, r *http.Request) error {
	_, u, err := s.asked(r)
	if err != nil {
		return err
	}
	recording, err := u.record()
	if err != nil {
		return badRequest(err)
	}
	trace := recording.Trace
	out := liveSweep{From: trace.X[0], To: trace.X[len(trace.X)-1], Voltage: float64(u.instrument.Voltage), Signal: heights(trace.Y, livePoints)}
	all, err := arrivals(u, u)
	if err != nil {
		return err
	}
	for _, a := range all {
		if !a.Beyond {
			out.Arrivals = append(out.Arrivals, a)
		}
	}
	return writeJSON(w, out)
}
