package lactate_test

import (
	"context"
	"errors"
	"iter"
	"runtime"
	"sync/atomic"
	"testing"
	"time"

	"example.com/steptest/lactate"
)

// failing is a caller's method that does what it is told after a number of calls.
type failingMethod struct {
	calls *atomic.Int64
	after int64
	end   func()
}

func (m failingMethod) Locate(t lactate.Test, _ lactate.Curve) (float64, error) {
	if m.calls.Add(1) > m.after {
		m.end()
	}
	return t.Stages[1].Intensity, nil
}

func (failingMethod) String() string { return "failing" }

var errCallers = errors.New("the caller's own panic")

// D: a panic of a caller's method comes out where the caller called, not on a worker,
// where nobody could recover it. So does Goexit, as t.FailNow calls it.
func TestPanicComesOut(t *testing.T) {
	options := func(after int64, end func()) lactate.Options {
		return lactate.Options{Resamples: 2000, Methods: []lactate.Method{failingMethod{new(atomic.Int64), after, end}}}
	}
	stream := func(n int) iter.Seq2[int, lactate.Test] { return archive(n, nil) }
	calls := map[string]func(o lactate.Options){
		"Analyze": func(o lactate.Options) { _, _ = lactate.Analyze(sixStages, o) },
		"Compare": func(o lactate.Options) {
			_, _ = lactate.Compare(sixStages, sixStages, lactate.CompareOptions{Options: o})
		},
		"AnalyzeAll": func(o lactate.Options) {
			o.Resamples = 0
			for range lactate.AnalyzeAll(t.Context(), stream(5000), o) {
			}
		},
	}
	for name, call := range calls {
		for _, after := range []int64{0, 1, 700} {
			var got any
			done := make(chan struct{})
			go func() {
				defer close(done)
				defer func() { got = recover() }()
				call(options(after, func() { panic(errCallers) }))
			}()
			<-done
			if got != errCallers {
				t.Errorf("%s, panic after %d calls: recovered %v", name, after, got)
			}
			left, gone := false, make(chan struct{})
			go func() {
				defer close(gone)
				call(options(after, runtime.Goexit))
				left = true
			}()
			<-gone
			if left {
				t.Errorf("%s, Goexit after %d calls: the call returned", name, after)
			}
		}
	}
}

// D: a panic of the source comes out of the loop, after the results of the tests before.
func TestPanicOfSource(t *testing.T) {
	n := 0
	defer func() {
		if got := recover(); got != errCallers || n != 100 {
			t.Errorf("recovered %v after %d results, want 100", got, n)
		}
	}()
	source := func(yield func(int, lactate.Test) bool) {
		for i, test := range archive(100, nil) {
			if !yield(i, test) {
				return
			}
		}
		panic(errCallers)
	}
	for range lactate.AnalyzeAll(t.Context(), source, lactate.Options{}) {
		n++
	}
	t.Error("no panic")
}

// D: results are handed out while the source stalls, and the stream ends with its
// context although the source still blocks.
func TestAnalyzeAllStalls(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	release, left := make(chan struct{}), make(chan struct{})
	source := func(yield func(int, lactate.Test) bool) {
		defer close(left)
		for i := range 7 {
			if !yield(i, sixStages) {
				return
			}
		}
		<-release
		yield(7, sixStages)
	}
	n := 0
	for i, r := range lactate.AnalyzeAll(ctx, source, lactate.Options{}) {
		if i != n || r.Err != nil {
			t.Fatal(i, r.Err)
		}
		if n++; n == 7 { // the source waits, and would wait for ever
			time.AfterFunc(10*time.Millisecond, cancel)
		}
	}
	if n != 7 {
		t.Errorf("%d results, want 7", n)
	}
	close(release)
	<-left // its goroutine ends when it next yields
}

// D: a context that ends stops an analysis whose resamples would take minutes. The
// bound is far above what it takes and far below what the resamples would.
func TestAnalyzeAllEndsInMidst(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	var started atomic.Int64
	slow := failingMethod{&started, 500, func() {
		cancel()
		time.Sleep(time.Millisecond)
	}}
	for range lactate.AnalyzeAll(ctx, archive(8, nil), lactate.Options{Resamples: 1_000_000, LT1: slow, LT2: slow, Methods: []lactate.Method{slow}}) {
		t.Error("a result after the end of the context")
	}
	// Each core may finish the block of resamples that it has begun.
	if calls, most := started.Load(), int64(500+1000*runtime.GOMAXPROCS(0)); calls > most {
		t.Errorf("%d calls of the method, want at most %d", calls, most)
	}
}

// D: what a stream returns can be asked on, after its context has ended.
func TestAnalyzeAllAnswersAfter(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	var a *lactate.Analysis
	for _, r := range lactate.AnalyzeAll(ctx, archive(1, nil), lactate.Options{Resamples: 300}) {
		a = r.Analysis
	}
	cancel()
	band, err := a.Band(3)
	if err != nil {
		t.Fatal(err)
	}
	want := analysed(t, sixStages, lactate.Options{Resamples: 300})
	same, err := want.Band(3)
	if err != nil {
		t.Fatal(err)
	}
	for i := range band {
		if band[i] != same[i] {
			t.Errorf("%+v, want %+v", band[i], same[i])
		}
	}
}
