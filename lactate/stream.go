package lactate

import (
	"context"
	"iter"
	"runtime"
	"sync"
)

// Result is the answer for one test of a stream: an analysis, or the error why
// there is none.
type Result struct {
	Analysis *Analysis
	Err      error
}

// Tests handed over together, which costs little beside the analysis, and groups in flight for each core.
const (
	groupSize = 32
	inFlight  = 2
)

// AnalyzeAll analyses a stream of tests on all cores and yields the results in
// the order of the tests, each with the key that came with it. It holds no more
// than some dozens of tests a core at a time, however many there are, and reads
// no further ahead than that.
//
// The stream ends after the last test, when the caller stops ranging, or when
// the context is done: then the results so far have been yielded, no error says
// so, and ctx.Err does. tests runs on a goroutine of its own, which has ended
// when the stream has.
//
// To share an archive between machines, give each its own part of the tests:
// results do not depend on one another, and each test's random numbers come
// from Options.Seed alone.
func AnalyzeAll[K any](ctx context.Context, tests iter.Seq2[K, Test], o Options) iter.Seq2[K, Result] {
	type group struct {
		keys    []K
		tests   []Test
		results []Result
		done    chan struct{}
	}
	return func(yield func(K, Result) bool) {
		ctx, cancel := context.WithCancel(ctx)
		cores := runtime.GOMAXPROCS(0)
		work := make(chan *group)
		order := make(chan *group, inFlight*cores)
		var wg sync.WaitGroup
		defer wg.Wait()
		defer cancel() // runs first, so that the wait ends

		wg.Add(1 + cores)
		go func() {
			defer wg.Done()
			defer close(order)
			defer close(work)
			var g *group
			// hand passes a group on; it reports whether to go on.
			hand := func() bool {
				for _, to := range []chan *group{order, work} {
					select {
					case to <- g:
					case <-ctx.Done():
						return false
					}
				}
				g = nil
				return true
			}
			for k, t := range tests {
				if ctx.Err() != nil {
					return
				}
				if g == nil {
					g = &group{done: make(chan struct{})}
				}
				g.keys, g.tests = append(g.keys, k), append(g.tests, t)
				if len(g.tests) == groupSize && !hand() {
					return
				}
			}
			if g != nil {
				hand()
			}
		}()
		for range cores {
			go func() {
				defer wg.Done()
				for g := range work {
					g.results = make([]Result, len(g.tests))
					for i, t := range g.tests {
						if ctx.Err() != nil {
							break
						}
						g.results[i].Analysis, g.results[i].Err = Analyze(t, o)
					}
					close(g.done)
				}
			}()
		}
		for g := range order {
			select {
			case <-g.done:
			case <-ctx.Done():
				return
			}
			for i, k := range g.keys {
				if ctx.Err() != nil || !yield(k, g.results[i]) {
					return
				}
			}
		}
	}
}
