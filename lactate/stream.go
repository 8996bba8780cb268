package lactate

import (
	"context"
	"iter"

	"example.com/steptest/lactate/internal/crew"
)

// Result is the answer for one test of a stream: an analysis, or why there is none.
type Result struct {
	Analysis *Analysis
	Err      error
}

// AnalyzeAll analyses a stream of tests on all cores and yields the results in the order of the
// tests, each with the key that came with it, as soon as it and those before it are there. It
// holds, and reads ahead, no more than some dozens of tests a core.
//
// The stream ends after the last test, when the caller stops ranging, or within some
// milliseconds when the context is done; of that no error but ctx.Err tells.
//
// tests runs on a goroutine of its own. If it blocks, the results of the tests before are
// yielded all the same. Nothing can interrupt it: if the caller stops ranging, AnalyzeAll
// returns once tests has, or the context is done. A tests that still blocks then is left
// behind, and its goroutine ends when it next yields or returns. A panic of tests, or of a
// method or curve of the options, comes out of the caller's loop.
//
// To share an archive between machines, give each its own part of the tests: results do not
// depend on one another, and each test's random numbers come from Options.Seed alone.
func AnalyzeAll[K any](ctx context.Context, tests iter.Seq2[K, Test], o Options) iter.Seq2[K, Result] {
	return crew.InOrder(ctx, tests, func(ctx context.Context, t Test) Result {
		o := o
		o.done = ctx.Done()
		a, err := Analyze(t, o)
		if a != nil {
			a.opts.done = nil
		}
		return Result{a, err}
	})
}
