package crew

import (
	"context"
	"iter"
	"runtime"
)

// inFlight is how many items there are between source and caller, for each core.
const inFlight = 64

// InOrder calls do for each item on all cores and yields the results in the order of the
// items, each with its key, as soon as it and those before it are there. It ends after
// the last item, when the caller stops ranging, or when ctx is done; the context that do
// gets is done then. items runs on a goroutine of its own, which is left behind if it
// still blocks when ctx is done.
func InOrder[K, T, R any](ctx context.Context, items iter.Seq2[K, T], do func(context.Context, T) R) iter.Seq2[K, R] {
	type job struct {
		key  K
		item T
		done chan R // of one
	}
	return func(yield func(K, R) bool) {
		callers := ctx
		ctx, cancel := context.WithCancel(ctx)
		defer cancel()
		cores := runtime.GOMAXPROCS(0)
		work := make(chan *job)
		order := make(chan *job, inFlight*cores)
		source, stopped := new(crew), make(chan struct{})
		workers, failed := new(crew), make(chan struct{}, cores)

		go func() {
			defer close(stopped)
			defer close(order)
			defer close(work)
			source.guard(func() {
				for k, t := range items {
					j := &job{k, t, make(chan R, 1)}
					for _, to := range []chan *job{order, work} {
						select {
						case to <- j:
						case <-ctx.Done():
							return
						}
					}
				}
			})
		}()
		for range cores {
			workers.run(func() {
				returned := false
				defer func() {
					if !returned {
						failed <- struct{}{}
					}
				}()
				for {
					var j *job
					select {
					case j = <-work:
					case <-ctx.Done():
					}
					if j == nil || ctx.Err() != nil { // no more, or no longer
						break
					}
					j.done <- do(ctx, j.item)
				}
				returned = true
			})
		}
		next := func() (j *job, r R, ok bool) {
			select {
			case j, ok = <-order:
			case <-ctx.Done():
			}
			if !ok {
				return nil, r, false
			}
			select {
			case r = <-j.done:
			case <-failed:
				return nil, r, false
			case <-ctx.Done():
				return nil, r, false
			}
			return j, r, ctx.Err() == nil
		}
		for {
			j, r, ok := next()
			if !ok || !yield(j.key, r) {
				break
			}
		}
		cancel()
		workers.wait()
		select {
		case <-stopped:
			source.raise()
		case <-callers.Done():
		}
	}
}
