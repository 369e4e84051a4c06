package many

import "sync"

// waiting is how many items for each worker may be begun and not yet told: so
// much a slow garden can hold the others up, and so much is held in memory.
const waiting = 4

// InOrder works on items by several workers at once and tells the results in
// the order of the items. next gives the items, one after another, until more
// is false; done gets the results one at a time. Memory is bounded by the
// workers, not by the items. It stops at the first error of next or done and
// returns it, when all that was begun has ended; results in order before an
// error of next are still told.
func InOrder[T, R any](workers int, next func() (item T, more bool, err error), work func(T) R, done func(R) error) error {
	type job struct {
		item   T
		result chan R
	}
	jobs := make(chan job)
	order := make(chan chan R, waiting*workers)
	stop := make(chan struct{})
	var failed error // of next; read when order is closed

	var wait sync.WaitGroup
	for range workers {
		wait.Go(func() {
			for j := range jobs {
				j.result <- work(j.item)
			}
		})
	}
	wait.Go(func() {
		defer close(order)
		defer close(jobs)
		for {
			select {
			case <-stop:
				return
			default:
			}
			item, more, err := next()
			if err != nil || !more {
				failed = err
				return
			}
			j := job{item, make(chan R, 1)}
			select {
			case order <- j.result:
			case <-stop:
				return
			}
			jobs <- j // a worker always comes for it
		}
	})
	err := tell(order, done)
	close(stop)
	for range order { // what was begun is let end, untold
	}
	wait.Wait()
	if err != nil {
		return err
	}
	return failed
}

func tell[R any](order <-chan chan R, done func(R) error) error {
	for result := range order {
		if err := done(<-result); err != nil {
			return err
		}
	}
	return nil
}
