package lactate

import (
	"context"
	"iter"

	"example.com/steptest/lactate/internal/crew"
)

// Result is the answer for one test of a stream: an analysis, or the error why
// there is none.
type Result struct {
	Analysis *Analysis
	Err      error
}

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
