package web

import (
	"context"
	"fmt"
	"strings"

	"ionwright/reading/candidate"
	"ionwright/spectrum"
)

// mostCandidates of a page: each takes tens of milliseconds.
const mostCandidates = 30

// rank compares the structures that were typed, one a line. What can't be read
// is said on the page, beside the reading.
func (s *Server) rank(ctx context.Context, page *readPage, typed spectrum.Spectrum) {
	ranking, err := s.rankLines(ctx, page.Ask, typed)
	if err != nil {
		page.RankProblem = err.Error()
		return
	}
	page.Ranking = ranking
}

func (s *Server) rankLines(ctx context.Context, ask readAsk, typed spectrum.Spectrum) (*candidate.Ranking, error) {
	given, err := ask.given()
	if err != nil {
		return nil, err
	}
	var list []candidate.Structure
	for line := range strings.Lines(ask.Candidates) {
		text := strings.TrimSpace(line)
		if text == "" {
			continue
		}
		if len(list) == mostCandidates {
			return nil, fmt.Errorf("up to %d candidates are compared", mostCandidates)
		}
		p, err := s.predict(ctx, text, usualEV)
		if err != nil {
			return nil, fmt.Errorf("candidate %d: %w", len(list)+1, err)
		}
		list = append(list, candidate.Structure{Name: text, Mol: p.Mol, Prediction: p})
	}
	var ranking candidate.Ranking
	err = s.heavy(ctx, func() error {
		ranking, err = candidate.Rank(ctx, typed, given, list)
		return err
	})
	return &ranking, err
}
