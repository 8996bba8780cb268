package lactate_test

import (
	"context"
	"errors"
	"iter"
	"runtime"
	"testing"
	"time"

	"example.com/steptest/lactate"
)

// archive yields n invented tests, every tenth of them empty. It counts in read
// how many were asked for.
func archive(n int, read *int) iter.Seq2[int, lactate.Test] {
	return func(yield func(int, lactate.Test) bool) {
		for i := range n {
			if read != nil {
				*read++
			}
			t := lactate.Test{Stages: append([]lactate.Stage(nil), sixStages.Stages...)}
			t.Stages[5].Lactate += 0.01 * float64(i%100)
			if i%10 == 9 {
				t = lactate.Test{}
			}
			if !yield(i, t) {
				return
			}
		}
	}
}

// D: every result is that of Analyze, in order, faults included.
func TestAnalyzeAllIsAnalyze(t *testing.T) {
	next := 0
	for i, r := range lactate.AnalyzeAll(t.Context(), archive(1000, nil), lactate.Options{}) {
		if i != next {
			t.Fatalf("result %d, expected %d", i, next)
		}
		next++
		if i%10 == 9 {
			if !errors.Is(r.Err, lactate.ErrTooFewStages) {
				t.Errorf("empty test: %v", r.Err)
			}
			continue
		}
		test := lactate.Test{Stages: append([]lactate.Stage(nil), sixStages.Stages...)}
		test.Stages[5].Lactate += 0.01 * float64(i%100)
		want, err := lactate.Analyze(test, lactate.Options{})
		if err != nil || r.Err != nil {
			t.Fatal(err, r.Err)
		}
		// Printed in full, since a NaN is not equal to itself.
		if got, want := exact(r.Analysis.Thresholds), exact(want.Thresholds); got != want {
			t.Fatalf("test %d: %v, want %v", i, got, want)
		}
	}
	if next != 1000 {
		t.Errorf("%d results", next)
	}
}

// D: a caller who stops early has read a bounded number of tests, and no
// goroutine is left.
func TestAnalyzeAllStops(t *testing.T) {
	before := runtime.NumGoroutine()
	read := 0
	for i := range lactate.AnalyzeAll(t.Context(), archive(1_000_000, &read), lactate.Options{}) {
		if i == 100 {
			break
		}
	}
	if limit := 1000 * runtime.GOMAXPROCS(0); read > limit {
		t.Errorf("read %d tests for 101 results, expected no more than %d", read, limit)
	}
	// The last ones may be between their last statement and their end.
	after := 0
	for range 1000 {
		if after = runtime.NumGoroutine(); after <= before {
			return
		}
		time.Sleep(time.Millisecond)
	}
	t.Errorf("%d goroutines before, %d after", before, after)
}

// D: a context that is done ends the stream.
func TestAnalyzeAllCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	n := 0
	for range lactate.AnalyzeAll(ctx, archive(1_000_000, nil), lactate.Options{}) {
		if n++; n == 50 {
			cancel()
		}
	}
	if n != 50 || ctx.Err() == nil {
		t.Errorf("%d results after cancelling at 50", n)
	}
	for range lactate.AnalyzeAll(ctx, archive(10, nil), lactate.Options{}) {
		t.Error("a result from a context that was done")
	}
	for range lactate.AnalyzeAll(t.Context(), archive(0, nil), lactate.Options{}) {
		t.Error("a result from no tests")
	}
}

// D: what is held does not grow with the number of tests: after ten times as
// many, the heap is as large as before, to within what a few dozens of tests
// take. An analysis kept by mistake would be thirty times that.
func TestAnalyzeAllHoldsLittle(t *testing.T) {
	heap := func() uint64 {
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return m.HeapAlloc
	}
	const tests = 20_000
	var early uint64
	for i := range lactate.AnalyzeAll(t.Context(), archive(tests, nil), lactate.Options{}) {
		switch i {
		case tests / 10:
			early = heap()
		case tests - 1:
			if late := heap(); late > early+4<<20 {
				t.Errorf("%d bytes held after %d tests, %d after %d", early, tests/10, late, tests)
			}
		}
	}
}
