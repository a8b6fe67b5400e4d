package fit

import (
	"runtime"
	"sync"
)

// parallel runs task for 0 to n-1, as many at a time as there are processors,
// and returns the error of the first task that failed, in their order. Each
// task must write only what is its own.
func parallel(n int, task func(k int) error) error {
	errs := make([]error, n)
	free := make(chan struct{}, runtime.GOMAXPROCS(0))
	var all sync.WaitGroup
	for k := range n {
		free <- struct{}{}
		all.Go(func() {
			defer func() { <-free }()
			errs[k] = task(k)
		})
	}
	all.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
