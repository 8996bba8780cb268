package lactate

import (
	"context"
	"iter"
	"runtime"
)

// Result is the answer for one test of a stream: an analysis, or the error why
// there is none.
type Result struct {
	Analysis *Analysis
	Err      error
}

// inFlight is how many tests there are between source and caller, for each core.
const inFlight = 64

// AnalyzeAll analyses a stream of tests on all cores and yields the results in
// the order of the tests, each with the key that came with it, as soon as it and those
// before it are there. It holds no more than some dozens of tests a core at a time,
// however many there are, and reads no further ahead than that.
//
// The stream ends after the last test, when the caller stops ranging, or when
// the context is done, within some milliseconds, however many resamples were asked for:
// then the results so far have been yielded, no error says so, and ctx.Err does.
//
// tests runs on a goroutine of its own. If it blocks, the results of the tests before
// are yielded all the same, and the stream goes on when it does. Nothing can interrupt
// it: if the caller stops ranging, AnalyzeAll returns once tests has, or the context is
// done. A tests that still blocks when the context is done is left behind, and its
// goroutine ends when it next yields or returns. A panic of tests, or of a method or
// curve of the options, comes out of the caller's loop.
//
// To share an archive between machines, give each its own part of the tests:
// results do not depend on one another, and each test's random numbers come
// from Options.Seed alone.
func AnalyzeAll[K any](ctx context.Context, tests iter.Seq2[K, Test], o Options) iter.Seq2[K, Result] {
	type job struct {
		key  K
		test Test
		done chan Result // of one
	}
	return func(yield func(K, Result) bool) {
		callers := ctx
		ctx, cancel := context.WithCancel(ctx)
		defer cancel()
		o := o
		o.done = ctx.Done()
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
				for k, t := range tests {
					j := &job{k, t, make(chan Result, 1)}
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
					a, err := Analyze(j.test, o)
					if a != nil {
						a.opts.done = nil
					}
					j.done <- Result{a, err}
				}
				returned = true
			})
		}
		next := func() (j *job, r Result, ok bool) {
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
