package rival

import (
	"context"
	"slices"
	"sync"

	"ionwright/ionize"
	"ionwright/mol/smiles"
	"ionwright/reading/candidate"
)

// batchOf is how many structures each worker computes before they are judged
// and saved; of those the spectra are then let go.
const batchOf = 4

// compute computes the spectra of the structures kept and judges them, from
// where an earlier search stopped.
func (s *search) compute(ctx context.Context) error {
	for i := range s.far.Judged { // of an earlier search: graphs aren't saved
		m, err := smiles.Parse(s.far.Judged[i].SMILES)
		if err != nil {
			return err
		}
		s.far.Judged[i].Mol = m
	}
	if len(s.kept) == 0 { // the answer's own match is looked at nevertheless
		return s.judge(ctx, nil)
	}
	first := len(s.far.Judged) + len(s.far.Refused)
	for batch := range slices.Chunk(s.kept[min(first, len(s.kept)):], batchOf*s.options.Workers) {
		list, refused, err := s.predict(ctx, batch)
		if err == nil {
			err = s.judge(ctx, list)
		}
		if err != nil {
			s.save()
			return err
		}
		s.far.Refused = append(s.far.Refused, refused...)
		s.options.Progress("spectra computed", len(s.far.Judged)+len(s.far.Refused), len(s.kept))
		s.save()
	}
	if first == len(s.kept) {
		return s.judge(ctx, nil)
	}
	return nil
}

// predict computes the spectra of structures on all cores; those beyond the
// engine are named apart.
func (s *search) predict(ctx context.Context, batch []look) (list []candidate.Structure, refused []string, err error) {
	predictions := make([]*ionize.Prediction, len(batch))
	next := make(chan int, len(batch))
	for i := range batch {
		next <- i
	}
	close(next)
	var group sync.WaitGroup
	for range s.options.Workers {
		group.Go(func() {
			for i := range next {
				if p, err := ionize.Predict(ctx, batch[i].m, ionize.Settings{}); err == nil {
					predictions[i] = p
				}
			}
		})
	}
	group.Wait()
	if ctx.Err() != nil {
		return nil, nil, ctx.Err()
	}
	for i, p := range predictions {
		if p == nil {
			refused = append(refused, batch[i].text)
			continue
		}
		list = append(list, candidate.Structure{Name: batch[i].text, Mol: batch[i].m, Prediction: p})
	}
	return list, refused, nil
}
