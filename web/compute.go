package web

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"ionwright/ionize"
	"ionwright/mol"
	"ionwright/mol/names"
	"ionwright/reading"
	"ionwright/spectrum"
)

const (
	usualEV    = 70
	longestAsk = 2000 // bytes of a structure's text
	mostPeaks  = 3000 // in an address
)

type predictionKey struct {
	text string
	ev   float64
}

// molecule reads a structure as somebody types it.
func molecule(text string) (*mol.Mol, error) {
	if len(text) > longestAsk {
		return nil, badRequest(fmt.Errorf("the structure has %d characters; up to %d are taken", len(text), longestAsk))
	}
	m, err := names.Structure(text)
	if err != nil {
		return nil, badRequest(err)
	}
	return m, nil
}

// predict computes what becomes of a structure, or remembers it.
func (s *Server) predict(ctx context.Context, text string, ev float64) (*ionize.Prediction, error) {
	text = strings.TrimSpace(text)
	return s.computed.get(predictionKey{text, ev}, func() (p *ionize.Prediction, err error) {
		m, err := molecule(text)
		if err != nil {
			return nil, err
		}
		err = s.heavy(ctx, func() error {
			p, err = ionize.Predict(ctx, m, ionize.Settings{EnergyEV: ev})
			return err
		})
		if err != nil && ctx.Err() == nil {
			return nil, badRequest(err)
		}
		return p, err
	})
}

// Warm unpacks the tables that computed spectra and readings need, so that the
// first visitor doesn't wait for it.
func (s *Server) Warm() {
	p, err := s.predict(s.ctx, "butan-2-one", usualEV)
	if err != nil {
		s.options.Report("error: preparing: " + err.Error()) // it is tried again when somebody asks
		return
	}
	_ = reading.Read(p.Spectrum(), reading.Given{})
}

// typedPeaks reads peaks as somebody types or pastes them: pairs of m/z and
// intensity, divided by colons, spaces, commas, tabs or lines.
func typedPeaks(text string) (spectrum.Spectrum, error) {
	if strings.Contains(text, ":") {
		s, err := spectrum.Parse(strings.NewReplacer(",", " ", ";", " ", "\r", " ", "\n", " ", "\t", " ").Replace(text))
		return checkedPeaks(s, err)
	}
	fields := strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" \t\r\n,;", r) })
	if len(fields)%2 != 0 {
		return spectrum.Spectrum{}, badRequest(fmt.Errorf("there are %d numbers; write pairs of m/z and intensity, such as 43:100 58:25, or a pair a line", len(fields)))
	}
	var pairs []string
	for i := 0; i+1 < len(fields); i += 2 {
		pairs = append(pairs, fields[i]+":"+fields[i+1])
	}
	s, err := spectrum.Parse(strings.Join(pairs, " "))
	return checkedPeaks(s, err)
}

func checkedPeaks(s spectrum.Spectrum, err error) (spectrum.Spectrum, error) {
	switch _, any := s.Base(); {
	case err != nil:
		return s, badRequest(err)
	case len(s.Peaks) > mostPeaks:
		return s, badRequest(fmt.Errorf("there are %d peaks; up to %d are taken", len(s.Peaks), mostPeaks))
	case !any:
		return s, badRequest(errors.New("there is no peak with an intensity"))
	case s.Peaks[len(s.Peaks)-1].MZ > highestMZ:
		return s, badRequest(fmt.Errorf("the highest m/z is %g; up to %d are taken", s.Peaks[len(s.Peaks)-1].MZ, highestMZ))
	}
	return s, nil
}

// highestMZ that a spectrum may have: far above what is ionized by electrons.
const highestMZ = 5000

// carriedPeaks is how a spectrum is written into an address: unit m/z, % of
// the base peak, the strongest where there are many.
func carriedPeaks(s spectrum.Spectrum) string {
	const most, least = 400, 0.05
	s = s.Unit().Scaled(100).AtLeast(least)
	if len(s.Peaks) > most {
		kept, err := spectrum.New(s.Strongest(most))
		if err == nil {
			s = kept
		}
	}
	var out []string
	for _, p := range s.Peaks {
		out = append(out, fmt.Sprintf("%g:%.4g", p.MZ, p.Intensity))
	}
	return strings.Join(out, " ")
}
