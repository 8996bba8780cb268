package forecast_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/forecast"
)

// A swimmer who follows the advice, more or less, against a model of the test: every
// next stage is one of the test, faster than the last, and the test ends all out.
// Evidence: D.
func TestNextToTheEnd(t *testing.T) {
	rng := rand.New(rand.NewPCG(16, 1))
	tests := 2
	if *long {
		tests = 40
	}
	for i := range tests {
		p := even(5+i%3, 370e9, 300e9)
		s := swimmers()[rng.IntN(27)]
		var done []lactate.Stage
		for swum := 0; ; swum++ {
			a, err := forecast.Next(p, done, forecast.Expected{}, lactate.Options{}, forecast.Rules{})
			if err != nil {
				t.Fatal(err)
			}
			left := len(p) - swum
			if a.Left != left {
				t.Fatalf("%d left after %d, want %d", a.Left, swum, left)
			}
			if left == 0 {
				if a.Next != -1 {
					t.Fatalf("next %+v", a.Next)
				}
				break
			}
			if left == 1 && (a.Next != len(p)-1 || !a.Enough) {
				t.Fatalf("the last: %+v", a)
			}
			if a.Reason == forecast.NoRoom {
				break // swum too near the end for the rest
			}
			if l := a.Lactate; !(l.Low > 0 && l.Low < l.Value && l.Value < l.High) {
				t.Fatalf("after %d: %+v", swum, l)
			}
			if a.Next != swum || swum < 3 && a.Reason == forecast.Narrower {
				t.Fatalf("after %d: %+v", swum, a)
			}
			for _, w := range []forecast.Widths{a.LT1, a.LT2} {
				// Nearly: of tests without a baseline an open end counts less than one at its floor.
				if !(w.All >= 0 && w.AllOut >= 0) || w.AllOut > 0 && !(w.AllOut >= 0.7*w.All) {
					t.Fatalf("after %d: all out next %v, after all %v", swum, w.AllOut, w.All)
				}
			}
			last := time.Duration(math.MaxInt64)
			if swum > 0 {
				last = done[swum-1].Duration
			}
			next := a.Stages[a.Next].Duration
			if !(next < last) {
				t.Fatalf("next in %v after %v", next, last)
			}
			off := time.Duration(rng.IntN(3000)-1500) * time.Millisecond
			st := over(min(next+off, last-100*time.Millisecond))[0]
			if rng.IntN(6) > 0 {
				y := s.asymptote + (s.final-s.asymptote)*math.Exp(s.rate*(st.Intensity-400./300))
				st.Lactate = math.Round(10*max(0.5, y+0.2*rng.NormFloat64())) / 10
			}
			done = append(done, st)
		}
	}
}

// Before three samples targets stay as planned; after a stage that was too fast those
// that are left are spread evenly. Evidence: D.
func TestNextKeepsThePlan(t *testing.T) {
	p := even(6, 350e9, 300e9)
	for swum := range 3 {
		a, err := forecast.Next(p, begun(p, []float64{1.1, 1.3}[:swum]...), forecast.Expected{}, lactate.Options{}, forecast.Rules{})
		if err != nil || a.Reason != forecast.AsPlanned || !slices.Equal(seconds(a.Stages), seconds(p)) {
			t.Errorf("after %d: %+v, %v", swum, a, err)
		}
	}
	fast := over(350e9, 328e9)
	fast[0].Lactate, fast[1].Lactate = 1.1, 1.9
	a, err := forecast.Next(p, fast, forecast.Expected{}, lactate.Options{}, forecast.Rules{})
	if err != nil || a.Reason != forecast.SpreadAnew || !slices.Equal(seconds(a.Stages), []float64{350, 328, 321, 314, 307, 300}) {
		t.Errorf("%v %+v, %v", seconds(a.Stages), a, err)
	}
	kept, err := forecast.Next(p, fast, forecast.Expected{}, lactate.Options{}, forecast.Rules{Keep: true})
	if err != nil || kept.Reason != a.Reason || !slices.Equal(kept.Stages, a.Stages) || kept.Lactate != a.Lactate || kept.LT1 != (forecast.Widths{}) || kept.Enough {
		t.Errorf("without the search: %+v, %v", kept, err)
	}
}

// What is no test under way is refused; too near the end, the last is the next.
func TestNextRefuses(t *testing.T) {
	p := even(7, 350e9, 300e9)
	if _, err := forecast.Next(p, over(330e9, 340e9), forecast.Expected{}, lactate.Options{}, forecast.Rules{}); err == nil || !strings.Contains(err.Error(), "stage 2 was not faster") {
		t.Errorf("slower: %v", err)
	}
	if _, err := forecast.Next(p, even(8, 350e9, 300e9), forecast.Expected{}, lactate.Options{}, forecast.Rules{}); err == nil || !strings.Contains(err.Error(), "found 8") {
		t.Errorf("more than planned: %v", err)
	}
	a, err := forecast.Next(p, over(302e9), forecast.Expected{}, lactate.Options{}, forecast.Rules{})
	if err != nil || a.Next != len(p)-1 || !a.Enough {
		t.Errorf("nearly at the end: %+v, error %v", a, err)
	}
}

// The sample of the next stage is expected where the curve of the day lies: the prior
// before any, what the last test showed after one, and what today shows. Evidence: D.
func TestSample(t *testing.T) {
	p := sixOf400()
	s := swimmer{1.1, 9, 15}
	truth := s.test(p, 0)
	o := lactate.Options{Confidence: 0.99}
	sample := func(swum []lactate.Stage, at int, e forecast.Expected) lactate.Estimate {
		x, err := forecast.Sample(p, swum, p[at].Intensity, e, o)
		if err != nil {
			t.Fatal(err)
		}
		if !(x.Low <= x.Value && x.Value <= x.High && x.Low > 0) {
			t.Fatalf("%+v", x)
		}
		return x
	}
	before := sample(nil, 4, forecast.Expected{})
	known := sample(nil, 4, forecast.Expected{Tests: []lactate.Test{truth}})
	today := sample(truth.Stages[:4], 4, forecast.Expected{Tests: []lactate.Test{truth}})
	want := truth.Stages[4].Lactate
	t.Logf("true %.2f: %.2f, %.2f, %.2f", want, before, known, today)
	if !(known.High-known.Low < before.High-before.Low) || !(today.High-today.Low <= known.High-known.Low) {
		t.Errorf("widths %+v, %+v, %+v; want them to narrow", before, known, today)
	}
	for _, x := range []lactate.Estimate{before, known, today} {
		if !(x.Low < want && want < x.High) {
			t.Errorf("%+v does not hold %v", x, want)
		}
	}
	// Moved by more than a day: today's samples count.
	moved := s.test(p, -0.03)
	if x := sample(moved.Stages[:4], 4, forecast.Expected{Tests: []lactate.Test{truth}}); !(x.Value > today.Value+0.5) {
		t.Errorf("%+v after a day on which lactate is higher, %+v on another", x, today)
	}
}

// In a test that has lost its samples the stages that are left still have
// targets, in even steps.
func TestNextWithLostSamples(t *testing.T) {
	p := even(6, 350*time.Second, 300*time.Second)
	a, err := forecast.Next(p, begun(p, 0, 0, 0, 2.9), forecast.Expected{}, lactate.Options{}, forecast.Rules{})
	if err != nil || a.Next != 4 || a.Left != 2 || a.LT1 != (forecast.Widths{}) || a.Enough {
		t.Fatalf("%+v, %v", a, err)
	}
	if next := a.Stages[a.Next].Duration; !(next < p[3].Duration && next > p[5].Duration) {
		t.Errorf("next in %v, between %v and %v", next, p[3].Duration, p[5].Duration)
	}
}

// Going all out next is enough only if it widens neither interval by more than the
// rules allow. Evidence: D.
func TestEnough(t *testing.T) {
	p := sixOf400()
	y := swimmer{1.1, 9, 15.5}.test(p, 0)
	for _, enough := range []float64{0.001, 10} {
		a, err := forecast.Next(p, y.Stages[:4], forecast.Expected{}, lactate.Options{}, forecast.Rules{Enough: enough})
		if err != nil {
			t.Fatal(err)
		}
		if a.Enough != (enough == 10) || a.Enough != (a.LT1.AllOut <= (1+enough)*a.LT1.All && a.LT2.AllOut <= (1+enough)*a.LT2.All) {
			t.Errorf("%+v, enough is %v", a, enough)
		}
	}
}
