package main

import (
	"context"
	"fmt"
	"io"
	"math"
	"slices"
	"text/tabwriter"

	"ionwright/sector"
)

// sectorSpeed prints how fast ions fly through the preset instruments, in
// seconds of processor time of one core: a million through a sweep of 500
// fields, and the paths of 300 for a live view. Beside it, how well the three
// ways to compute a path agree.
func sectorSpeed(ctx context.Context, out io.Writer) error {
	t := tabwriter.NewWriter(out, 2, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(t, "instrument\t1e6 ions x 500 fields (s)\tframe, 300 ions (ms)\tpoints a path\tenergy kept to\timage against Barber's rule\tsecond order (in radii)\t")
	for _, i := range sector.Presets() {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		million, err := millionIons(i)
		if err != nil {
			return err
		}
		frame, points, err := frames(i)
		if err != nil {
			return err
		}
		checks, err := pathChecks(i)
		if err != nil {
			return err
		}
		fmt.Fprintf(t, "%s\t%.3f\t%.3f\t%d\t%s\t\n", i.Name, million, 1000*frame, points, checks)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	fmt.Fprintln(out, "targets: 1 s and 2 ms on one core; energy 1e-9, Barber's rule 1e-3; published second order of a symmetric instrument: -1")
	return nil
}

// processorMedian runs work five times and returns the middle processor time, s.
func processorMedian(work func() error) (float64, error) {
	var seconds []float64
	for range 5 {
		start := processorTime()
		if err := work(); err != nil {
			return 0, err
		}
		seconds = append(seconds, processorTime()-start)
	}
	slices.Sort(seconds)
	return seconds[len(seconds)/2], nil
}

func millionIons(i sector.Instrument) (float64, error) {
	i.SourceSlit, i.CollectorSlit = i.Radius/500, i.Radius/500 // so that 500 fields meet all ions
	ions := []sector.Ion{{MZ: 98, Intensity: 1}, {MZ: 99, Intensity: 2}, {MZ: 100, Intensity: 3}, {MZ: 101, Intensity: 1}}
	return processorMedian(func() error {
		swarm, err := sector.FlySwarm(i, ions, sector.SweepSettings{Steps: 500}, 1_000_000, 1)
		if err == nil && swarm.Flown != 1_000_000 {
			err = fmt.Errorf("%d ions of a million flew", swarm.Flown)
		}
		return err
	})
}

// frames returns the time of one frame with 300 ions, all of different m/z,
// and how many points their paths have on average.
func frames(i sector.Instrument) (seconds float64, points int, err error) {
	const count, repeat = 300, 50
	var ions []sector.Ion
	for k := range count {
		ions = append(ions, sector.Ion{MZ: 85 + 0.1*float64(k), Intensity: 1})
	}
	b, err := i.Field(100)
	if err != nil {
		return 0, 0, err
	}
	seconds, err = processorMedian(func() error {
		for range repeat {
			f, err := i.Frame(ions, sector.FrameSettings{Field: b})
			if err != nil {
				return err
			}
			points = 0
			for _, beam := range f.Beams {
				points += len(beam.Rays[0].Points)
			}
		}
		return nil
	})
	return seconds / repeat, points / count, err
}

// pathChecks measures the accuracy of the magnet's paths.
func pathChecks(i sector.Instrument) (string, error) {
	i.Electric = nil
	if i.Angle == 0 {
		i.Angle = math.Pi
	}
	if i.Angle != math.Pi {
		i.Before = i.Radius / sector.Metre(math.Tan(float64(i.Angle)/2)) // symmetric
	}
	b, err := i.Field(100)
	if err != nil {
		return "", err
	}
	track, err := i.Follow(100, b, 0, 0.001, 1e-13)
	if err != nil {
		return "", err
	}
	after, err := i.ImageDistance()
	if err != nil {
		return "", err
	}
	// Barber's rule: source, center of bend and image on one line, so that the
	// angles seen from the center add up with that of the magnet to half a circle.
	r := float64(i.Radius)
	line := math.Atan(float64(i.Before)/r) + float64(i.Angle) + math.Atan(float64(after)/r)
	second, err := i.Aberration()
	if err != nil {
		return "", err
	}
	return fmt.Sprintf("%.0e\t%.0e\t%.6f", math.Abs(track.Energy-1), math.Abs(line/math.Pi-1), float64(second)/r), nil
}
