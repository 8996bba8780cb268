package forecast_test

import (
	"math"
	"strings"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/forecast"
	"pgregory.net/rapid"
)

// A swimmer who follows the advice, more or less, against a model of the test:
// every next stage is one of the test, faster than the last, and the test ends
// all out. Evidence: D.
func TestPropNext(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := even(stagesToPlace(t), 350e9, 300e9)
		s := swimmer{
			rapid.Float64Range(0.8, 1.4).Draw(t, "asymptote"),
			rapid.Float64Range(6, 12).Draw(t, "final"),
			rapid.Float64Range(11, 22).Draw(t, "rate"),
		}
		var done []lactate.Stage
		enough := false
		for swum := 0; ; swum++ {
			a, err := forecast.Next(p, done, forecast.NarrowLT2, forecast.Expected{}, lactate.Options{}, forecast.Rules{})
			if err != nil && swum > 0 && strings.Contains(err.Error(), "stages with a sample") {
				return // too many samples were lost
			}
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
				return
			}
			if left == 1 && (a.Next != len(p)-1 || !a.Enough) {
				t.Fatalf("the last: %+v", a)
			}
			if a.Next == len(p)-1 && left > 1 {
				return // swum too near the end for the rest
			}
			if a.Next != swum || a.Width < 0 || a.AllOutWidth < 0 || math.IsNaN(a.Width+a.AllOutWidth) {
				t.Fatalf("after %d: %+v", swum, a)
			}
			if a.AllOutWidth > 0 && !(a.AllOutWidth >= a.Width*0.9) {
				t.Fatalf("after %d: all out next %v, after all %v", swum, a.AllOutWidth, a.Width)
			}
			enough = enough || a.Enough
			last := time.Duration(math.MaxInt64)
			if swum > 0 {
				last = done[swum-1].Duration
			}
			next := a.Stages[a.Next].Duration
			if !(next < last) {
				t.Fatalf("next in %v after %v", next, last)
			}
			off := time.Duration(rapid.IntRange(-1500, 1500).Draw(t, "off")) * time.Millisecond
			st := over(min(next+off, last-100*time.Millisecond))[0]
			if rapid.IntRange(0, 5).Draw(t, "lost") > 0 {
				y := s.asymptote + (s.final-s.asymptote)*math.Exp(s.rate*(st.Intensity-400./300))
				st.Lactate = math.Round(10*max(0.5, y+rapid.Float64Range(-0.4, 0.4).Draw(t, "error"))) / 10
			}
			done = append(done, st)
		}
	})
}

// Today's samples change the advice: a swimmer whose lactate rises early is sent
// where it rises.
func TestNextLearns(t *testing.T) {
	p := even(7, 350e9, 300e9)
	next := func(s swimmer) float64 {
		a, err := forecast.Next(p, s.test(p, 0).Stages[:3], forecast.NarrowLT2, forecast.Expected{}, lactate.Options{}, forecast.Rules{})
		if err != nil {
			t.Fatal(err)
		}
		return a.Stages[a.Next].Duration.Seconds()
	}
	gentle, sharp := next(swimmer{0.9, 12, 9}), next(swimmer{1.1, 10, 24})
	if !(gentle > sharp) {
		t.Errorf("next in %v s where lactate rises gently, %v s where it rises sharply", gentle, sharp)
	}
	if _, err := forecast.Next(p, over(330e9, 340e9), forecast.NarrowLT2, forecast.Expected{}, lactate.Options{}, forecast.Rules{}); err == nil || !strings.Contains(err.Error(), "stage 2 was not faster") {
		t.Errorf("slower: %v", err)
	}
	if _, err := forecast.Next(p, even(8, 350e9, 300e9), forecast.NarrowLT2, forecast.Expected{}, lactate.Options{}, forecast.Rules{}); err == nil || !strings.Contains(err.Error(), "found 8") {
		t.Errorf("more than planned: %v", err)
	}
	a, err := forecast.Next(p, over(302e9), forecast.NarrowLT2, forecast.Expected{}, lactate.Options{}, forecast.Rules{})
	if err != nil || a.Next != len(p)-1 || !a.Enough {
		t.Errorf("nearly at the end: %+v, error %v", a, err)
	}
}

// In the middle of a test, after earlier ones: the shape is known from before, the
// place of the day from today's samples, so that the stages that are left go
// where a level of lactate lies today. Evidence: D.
func TestTodayMovesTheNextStage(t *testing.T) {
	p := even(7, 350*time.Second, 300*time.Second)
	s := swimmer{1.1, 9, 15}
	e := forecast.Expected{Tests: []lactate.Test{s.test(p, -0.01), s.test(p, 0.01), s.test(p, 0)}}
	o := lactate.Options{LT2: lactate.Fixed{Lactate: 4}}
	var before time.Duration
	for _, move := range []float64{-0.03, 0, 0.03} { // √2 days are 0.014 m/s
		a, err := forecast.Next(p, s.test(p, move).Stages[:3], forecast.NarrowLT2, e, o, forecast.Rules{Round: 100 * time.Millisecond})
		if err != nil {
			t.Fatal(err)
		}
		var sum time.Duration
		for _, st := range a.Stages[3:6] {
			sum += st.Duration
		}
		t.Logf("%+.2f m/s: %v", move, seconds(a.Stages))
		if before != 0 && !(sum < before) {
			t.Errorf("moved by %+.2f m/s: those in between take %v, before %v", move, sum, before)
		}
		before = sum
	}
}

// In a test that has lost its samples the stages that are left still have
// targets, in even steps.
func TestNextWithLostSamples(t *testing.T) {
	p := even(6, 350*time.Second, 300*time.Second)
	a, err := forecast.Next(p, begun(p, 0, 0, 0, 2.9), forecast.NarrowLT2, forecast.Expected{}, lactate.Options{}, forecast.Rules{})
	if err != nil || a.Next != 4 || a.Left != 2 || a.Width != 0 || a.Enough {
		t.Fatalf("%+v, %v", a, err)
	}
	if next := a.Stages[a.Next].Duration; !(next < p[3].Duration && next > p[5].Duration) {
		t.Errorf("next in %v, between %v and %v", next, p[3].Duration, p[5].Duration)
	}
}

// D: before anything is swum, the width of the advice is that of the outlook on the
// stages it advises; with three swum, going all out next is enough only if it widens
// the interval by no more than the rules allow.
func TestWidthIsThatOfTheOutlook(t *testing.T) {
	p := sixOf400()
	known := forecast.Expected{Tests: []lactate.Test{swimmer{1.1, 9, 15.5}.test(even(5, 350e9, 300e9), 0)}}
	for _, aim := range []forecast.Aim{forecast.NarrowLT2, forecast.NarrowLT1, forecast.NarrowShift} {
		a, err := forecast.Next(p, nil, aim, known, lactate.Options{}, forecast.Rules{})
		if err != nil {
			t.Fatal(err)
		}
		out, err := forecast.Of(a.Stages, known, lactate.Options{})
		if err != nil {
			t.Fatal(err)
		}
		// Printed tables: Student's t at 95 % with 4 + 6 + 5 − 4 degrees of freedom.
		want := [...]float64{out.LT2.Width(), out.LT1.Width(), 2 * 1.796 * out.Shift.StandardError}[aim]
		if !(math.Abs(a.Width/want-1) <= 0.02) {
			t.Errorf("%v: %.5f m/s wide, by the outlook %.5f", aim, a.Width, want)
		}
	}
	y := swimmer{1.1, 9, 15.5}.test(p, 0)
	for _, enough := range []float64{0.001, 10} {
		a, err := forecast.Next(p, y.Stages[:4], forecast.NarrowLT2, known, lactate.Options{}, forecast.Rules{Enough: enough})
		if err != nil {
			t.Fatal(err)
		}
		if !(a.AllOutWidth > a.Width) || a.Enough != (enough == 10) || a.Enough != (a.AllOutWidth <= (1+enough)*a.Width) {
			t.Errorf("%+v, enough is %v", a, enough)
		}
	}
}
