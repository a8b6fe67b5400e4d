package isomer

import (
	"context"
	"fmt"
	"hash/crc32"
	"iter"
	"strings"
	"sync"
)

// Position is a place in the order of a space's structures, from which [Run]
// can go on. The zero value is the beginning.
type Position struct {
	Piece uint64 // pieces of the space before it
	Made  uint64 // structures of the piece before it, whether they were left out or not
}

// Token writes a position of the space for a later run.
func (s *Space) Token(p Position) string {
	return fmt.Sprintf("%d-%d-%08x", p.Piece, p.Made, s.sum())
}

// ParseToken reads what [Space.Token] wrote, of a space of the same formula and
// options.
func (s *Space) ParseToken(text string) (Position, error) {
	var p Position
	var sum uint32
	var rest string
	n, _ := fmt.Sscanf(text+" ", "%d-%d-%x%s", &p.Piece, &p.Made, &sum, &rest)
	if n != 3 {
		return Position{}, fmt.Errorf("%q is no token to resume from: it has the form 12-345-0a1b2c3d", text)
	}
	if sum != s.sum() {
		return Position{}, fmt.Errorf("the token %q is from another formula or other options", text)
	}
	return p, nil
}

// order is the version of the order of structures: raise it when that changes.
const order = 1

// sum tells spaces apart.
func (s *Space) sum() uint32 {
	var b strings.Builder
	fmt.Fprint(&b, order, s.formula, s.options.LowestValences, s.options.Kekule, s.options.Without)
	for _, r := range []*Range{s.options.Rings, s.options.RingSizes} {
		if r != nil {
			fmt.Fprint(&b, *r)
		}
		b.WriteByte('/')
	}
	for _, o := range s.options.Occurs {
		fmt.Fprint(&b, o.Pattern, o.Range)
	}
	return crc32.ChecksumIEEE([]byte(b.String()))
}

// All goes through the structures on one core, each once, in an order that
// stays the same. The structure is overwritten by the next step. An error is
// the last thing it yields.
func (s *Space) All(ctx context.Context) iter.Seq2[*Structure, error] {
	return func(yield func(*Structure, error) bool) {
		var made int
		var failed error
		f := &filler{}
		f.visit = func(st *Structure) bool {
			if made++; made%1024 == 0 && ctx.Err() != nil {
				failed = ctx.Err()
				return false
			}
			return yield(st, nil)
		}
		err := s.each(ctx, func(w work) bool {
			if failed = f.run(w); failed != nil {
				return false
			}
			return !f.stopped
		})
		if failed == nil {
			failed = err
		}
		if failed != nil && (!f.stopped || ctx.Err() != nil) {
			yield(nil, failed)
		}
	}
}

// Runner goes through a space on several cores.
type Runner struct {
	Workers int // 1 where it is less
	From    Position
	// Every, where it is more than 1, looks at one structure of so many only,
	// spread evenly over the order in which they are made: a sample of those
	// that [Space.Bound] counts, before the tests of patterns. Where the first of
	// a piece of the space stands is drawn for each piece by a fixed rule, so that
	// pieces smaller than Every have their share too, and the same space gives the
	// same sample.
	Every uint64
}

// phase is where the sample of a piece begins: any number below every, evenly
// spread over the pieces (the finalizer of MurmurHash3).
func (r Runner) phase(piece uint64) uint64 {
	if r.Every <= 1 {
		return 0
	}
	x := piece + 1
	x ^= x >> 33
	x *= 0xff51afd7ed558ccd
	x ^= x >> 33
	x *= 0xc4ceb9fe1a85ec53
	x ^= x >> 33
	return x % r.Every
}

const (
	batch = 32  // pieces that a worker takes at a time
	chunk = 128 // results that it hands over at a time
	ahead = 4   // chunks that it may be ahead
)

// Run goes through the space. Each worker has its own function from
// newWork, which gets one structure at a time (to be read only until it
// returns) and tells whether its result is wanted. The results are handed to
// sink in the order of [Space.All], each with the position after it; the
// memory taken doesn't grow with their number. Run ends early with sink's
// error, or the context's; the last position that sink got is then where to
// go on.
func Run[T any](ctx context.Context, s *Space, r Runner, newWork func() func(*Structure) (T, bool), sink func(T, Position) error) error {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	type result struct {
		value T
		after Position
	}
	type task struct {
		first  uint64
		pieces []work
		out    chan []result
		err    error // why results are missing from here on; set before out is closed
	}
	todo := make(chan *task)
	inOrder := make(chan *task, max(1, r.Workers)+2)
	var makeErr error
	var group sync.WaitGroup
	group.Go(func() {
		defer close(todo)
		defer close(inOrder)
		var next *task
		send := func() bool {
			t := next
			next = nil
			select {
			case inOrder <- t:
			case <-ctx.Done():
				return false
			}
			select {
			case todo <- t:
				return true
			case <-ctx.Done():
				return false
			}
		}
		piece := uint64(0)
		makeErr = s.each(ctx, func(w work) bool {
			defer func() { piece++ }()
			if piece < r.From.Piece {
				return ctx.Err() == nil
			}
			if next == nil {
				next = &task{first: piece, out: make(chan []result, ahead)}
			}
			next.pieces = append(next.pieces, w)
			size := batch
			if w.core == nil || len(w.core.a) == w.core.n {
				size = 1 // the largest pieces
			}
			return len(next.pieces) < size || send()
		})
		if next != nil {
			send()
		}
	})
	for range max(1, r.Workers) {
		group.Go(func() {
			work := newWork()
			f := &filler{every: r.Every}
			for t := range todo {
				var results []result
				hand := func() bool {
					select {
					case t.out <- results:
						results = nil
						return true
					case <-ctx.Done():
						t.err = ctx.Err()
						return false
					}
				}
				for i, w := range t.pieces {
					at := t.first + uint64(i)
					skip := uint64(0)
					if at == r.From.Piece {
						skip = r.From.Made
					}
					f.visited, f.phase = 0, r.phase(at)
					f.visit = func(st *Structure) bool {
						if f.visited <= skip {
							return true
						}
						if f.visited%1024 == 0 && ctx.Err() != nil {
							t.err = ctx.Err()
							return false
						}
						v, wanted := work(st)
						if !wanted {
							return true
						}
						results = append(results, result{v, Position{at, f.visited}})
						return len(results) < chunk || hand()
					}
					if err := f.run(w); err != nil {
						t.err = err
					}
					if t.err != nil {
						break
					}
				}
				if len(results) > 0 {
					hand()
				}
				f.stopped = false
				close(t.out)
			}
		})
	}
	defer group.Wait()
	defer cancel()
	for t := range inOrder {
		for open := true; open; {
			select {
			case results, ok := <-t.out:
				open = ok
				for _, x := range results {
					if err := sink(x.value, x.after); err != nil {
						return err
					}
				}
			case <-ctx.Done():
				return ctx.Err()
			}
		}
		if t.err != nil {
			return t.err
		}
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	return makeErr
}

// Count returns how many structures the space has, or math.MaxUint64 for
// more. Where no rule but the lists' own applies, it adds up lengths of lists
// instead of making the structures.
func (s *Space) Count(ctx context.Context, workers int) (uint64, error) {
	return s.count(ctx, workers, false)
}

// Bound returns how many structures the space would have without the tests
// that are made on complete ones: patterns that could not be looked for
// earlier, and Kekule forms. It is quick where Count isn't.
func (s *Space) Bound(ctx context.Context, workers int) (uint64, error) {
	return s.count(ctx, workers, true)
}

func (s *Space) count(ctx context.Context, workers int, bound bool) (uint64, error) {
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	pieces := make(chan []work, 2)
	var mutex sync.Mutex
	total := uint64(0)
	var group sync.WaitGroup
	for range max(1, workers) {
		group.Go(func() {
			f := &filler{bound: bound}
			f.interrupted = func() bool { return ctx.Err() != nil }
			for list := range pieces {
				for _, w := range list {
					if err := f.run(w); err != nil {
						cancel(err)
					}
				}
			}
			mutex.Lock()
			total = add(total, f.total)
			mutex.Unlock()
		})
	}
	var list []work
	err := s.each(ctx, func(w work) bool {
		list = append(list, w)
		if len(list) >= batch || w.core == nil || len(w.core.a) == w.core.n {
			select {
			case pieces <- list:
				list = nil
			case <-ctx.Done():
				return false
			}
		}
		return true
	})
	if list != nil && ctx.Err() == nil {
		pieces <- list
	}
	close(pieces)
	group.Wait()
	if cause := context.Cause(ctx); cause != nil {
		return 0, cause
	}
	return total, err
}
