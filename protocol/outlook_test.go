package protocol_test

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

func evenPlan(t interface{ Fatal(...any) }, repeats int, first, last time.Duration) protocol.Plan {
	p, err := protocol.NewPlan(protocol.Request{Pool: pace.SCM(), Repeats: repeats, Start: pace.Pace{Time: first / 4, Per: 100}, Best: last})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Of a swimmer whose curve is known, the forecast is the delta method on that
// curve: width = 2·t·SE. Evidence: D, against lactate.Analysis.DeltaInterval;
// the curve lies on a node of the forecast's rates.
func TestForecastOfKnownCurve(t *testing.T) {
	p := sixOf400(t)
	s := swimmer{1.2, 10, math.Sqrt(11 * 22)}
	sure := lactate.Options{Noise: lactate.Noise{Absolute: 1e-4}, DayToDay: 1e-9}
	// Small noise, so that the earlier tests leave no doubt about the curve.
	out, err := p.Outlook(protocol.Expected{Tests: slices.Repeat([]lactate.Test{s.test(p, 0)}, 3)}, sure)
	if err != nil {
		t.Fatal(err)
	}
	certain := lactate.Options{Noise: sure.Noise, Methods: []lactate.Method{}}
	certain.Noise.Weight = math.Inf(1)
	a, err := lactate.Analyze(s.test(p, 0), certain)
	if err != nil {
		t.Fatal(err)
	}
	z := distuv.UnitNormal.Quantile(0.95)
	student := distuv.StudentsT{Sigma: 1, Nu: 4 + 3}.Quantile(0.95)
	for _, f := range []protocol.Forecast{out.LT1, out.LT2} {
		x, err := a.DeltaInterval(f.Method)
		if err != nil {
			t.Fatal(err)
		}
		se := (x.High - x.Low) / (2 * z)
		if !(math.Abs(f.StandardError/se-1) <= 1e-2) || !(math.Abs(f.Width()/(2*student*se)-1) <= 1e-2) || !(math.Abs(f.Speed.Value-x.Value) <= 1e-4) {
			t.Errorf("%v: %+v, want %v with standard error %v", f.Method, f, x.Value, se)
		}
	}
}

// More repeats between the same ends, and less noise, never widen the forecast;
// twice the noise doubles it, near enough. Evidence: D.
func TestPropForecast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		last := time.Duration(rapid.IntRange(270, 330).Draw(t, "last")) * time.Second
		first := last + time.Duration(rapid.IntRange(30, 60).Draw(t, "range"))*time.Second
		n := rapid.IntRange(4, 10).Draw(t, "repeats")
		o := lactate.Options{Noise: lactate.Noise{Absolute: rapid.Float64Range(0.05, 0.3).Draw(t, "noise"), Relative: rapid.Float64Range(0, 0.05).Draw(t, "relative")}}
		forecast := func(n int, o lactate.Options) [3]float64 {
			out, err := evenPlan(t, n, first, last).Outlook(protocol.Expected{}, o)
			if err != nil {
				t.Fatal(err)
			}
			if out.Shift.BetweenDays < out.Shift.Detectable || !(out.Shift.Detectable > out.Shift.StandardError) {
				t.Fatalf("shift %+v", out.Shift)
			}
			for _, f := range []protocol.Forecast{out.LT1, out.LT2} {
				if !(f.Speed.Low < f.Speed.Value && f.Speed.Value < f.Speed.High && f.Missed >= 0 && f.Missed < 1 && f.Unknown >= 0) {
					t.Fatalf("forecast %+v", f)
				}
			}
			return [3]float64{out.LT1.Width(), out.LT2.Width(), out.Shift.Detectable}
		}
		few, more := forecast(n, o), forecast(n+1, o)
		half := o
		half.Noise.Absolute /= 2
		half.Noise.Relative /= 2
		quiet := forecast(n, half)
		for k, name := range []string{"LT1", "LT2", "shift"} {
			if !(more[k] <= few[k]*(1+1e-9)) {
				t.Fatalf("%s: %v with %d repeats, %v with one more", name, few[k], n, more[k])
			}
			if !(math.Abs(quiet[k]/few[k]-0.5) <= 0.01) {
				t.Fatalf("%s: %v, with half the noise %v", name, few[k], quiet[k])
			}
		}
	})
}

// What is known of a swimmer narrows what is believed, not what a sample is off.
func TestForecastAfterATest(t *testing.T) {
	p := sixOf400(t)
	fast := swimmer{0.9, 12, 20}
	blank, err := p.Outlook(protocol.Expected{}, lactate.Options{})
	if err != nil {
		t.Fatal(err)
	}
	after, err := p.Outlook(protocol.Expected{Tests: []lactate.Test{fast.test(p, 0)}}, lactate.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !(after.LT1.Unknown < blank.LT1.Unknown && after.LT2.Unknown < blank.LT2.Unknown) {
		t.Errorf("unknown before a test %v and %v, after it %v and %v", blank.LT1.Unknown, blank.LT2.Unknown, after.LT1.Unknown, after.LT2.Unknown)
	}
	a, err := lactate.Analyze(fast.test(p, 0), lactate.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !(math.Abs(after.LT2.Speed.Value-a.LT2.Intensity.Value) <= after.LT2.StandardError) {
		t.Errorf("LT2 expected at %v after a test that says %v", after.LT2.Speed.Value, a.LT2.Intensity.Value)
	}
	// An earlier test with fewer stages makes the shift harder to see.
	short := fast.test(evenPlan(t, 4, 350*time.Second, 300*time.Second), 0)
	fewer, err := p.Outlook(protocol.Expected{Tests: []lactate.Test{fast.test(p, 0), short}}, lactate.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !(fewer.Shift.Detectable > after.Shift.Detectable) {
		t.Errorf("beside four stages %v is detectable, beside six %v", fewer.Shift.Detectable, after.Shift.Detectable)
	}
}

// No answer says why.
func TestForecastRefuses(t *testing.T) {
	six := sixOf400(t)
	level := sixOf400(t)
	level.Repeats[3].Time = level.Repeats[2].Time
	blank := sixOf400(t)
	blank.Repeats[5].Time = 0
	mixed := sixOf400(t)
	mixed.Repeats[5].Distance, mixed.Repeats[5].Time = 200, 140*time.Second
	cubic := lactate.Options{Curve: func() lactate.Curve { return &curve.Polynomial{} }}
	tests := []struct {
		name string
		plan protocol.Plan
		e    protocol.Expected
		o    lactate.Options
		r    protocol.Rules
		says string
		tell bool // Outlook refuses too
	}{
		{"three repeats", evenPlan(t, 3, 350e9, 300e9), protocol.Expected{}, lactate.Options{}, protocol.Rules{}, "found 3 repeats", true},
		{"nothing", protocol.Plan{}, protocol.Expected{}, lactate.Options{}, protocol.Rules{}, "found 0 repeats", true},
		{"no target", blank, protocol.Expected{}, lactate.Options{}, protocol.Rules{}, "repeat 6 has no target", true},
		{"not faster", level, protocol.Expected{}, lactate.Options{}, protocol.Rules{}, "repeat 4 is not faster", true},
		{"confidence of 2", six, protocol.Expected{}, lactate.Options{Confidence: 2}, protocol.Rules{}, "onfidence", true},
		{"noise NaN", six, protocol.Expected{}, lactate.Options{Noise: lactate.Noise{Absolute: math.NaN()}}, protocol.Rules{}, "NaN", true},
		{"level never reached", six, protocol.Expected{}, lactate.Options{LT2: lactate.Fixed{Lactate: 90}}, protocol.Rules{}, "90", true},
		{"earlier test of nonsense", six, protocol.Expected{Tests: []lactate.Test{{Stages: []lactate.Stage{{Intensity: math.NaN(), Lactate: 2}}}}}, lactate.Options{}, protocol.Rules{}, "earlier test", true},
		{"thirteen repeats", evenPlan(t, 13, 350e9, 300e9), protocol.Expected{}, lactate.Options{}, protocol.Rules{}, "found 13 repeats", false},
		{"two distances", mixed, protocol.Expected{}, lactate.Options{}, protocol.Rules{}, "another distance", false},
		{"a baseline from a stage", six, protocol.Expected{}, lactate.Options{LT1: lactate.AboveBaseline{Rise: 0.5, From: lactate.LowestStage}}, protocol.Rules{}, "curve and its ends alone", false},
		{"a cubic", six, protocol.Expected{}, cubic, protocol.Rules{}, "exponential curve", false},
		{"no room", six, protocol.Expected{}, lactate.Options{}, protocol.Rules{Least: 20 * time.Second}, "do not fit between 5m50s and 5m0s", false},
		{"rules", six, protocol.Expected{}, lactate.Options{}, protocol.Rules{Least: -1}, "least step", false},
		{"enough", six, protocol.Expected{}, lactate.Options{}, protocol.Rules{Enough: math.NaN()}, "enough", false},
	}
	for _, tt := range tests {
		_, err := tt.plan.Outlook(tt.e, tt.o)
		if (err != nil) != tt.tell || tt.tell && (!errors.Is(err, protocol.ErrForecast) || !strings.Contains(err.Error(), tt.says)) {
			t.Errorf("%s: forecast with error %v", tt.name, err)
		}
		if _, err := tt.plan.Better(protocol.NarrowLT2, tt.e, tt.o, tt.r); !errors.Is(err, protocol.ErrForecast) || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: better with error %v, want %q", tt.name, err, tt.says)
		}
		if _, err := tt.plan.NextRepeat(tt.plan.Record(), protocol.NarrowLT2, tt.e, tt.o, tt.r); err == nil {
			t.Errorf("%s: a next repeat", tt.name)
		}
	}
	if _, err := six.Better(protocol.Aim(7), protocol.Expected{}, lactate.Options{}, protocol.Rules{}); err == nil || !strings.Contains(err.Error(), "Aim(7)") {
		t.Errorf("an aim of 7: %v", err)
	}
}

// The better plan keeps to its rules, aims at what it is told, and never claims
// what it does not have. Evidence: D.
func TestPropBetter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		last := time.Duration(rapid.IntRange(270, 330).Draw(t, "last")) * time.Second
		first := last + time.Duration(rapid.IntRange(35, 60).Draw(t, "range"))*time.Second
		p := evenPlan(t, rapid.IntRange(4, 7).Draw(t, "repeats"), first, last)
		r := protocol.Rules{Least: time.Duration(rapid.IntRange(1, 4).Draw(t, "least")) * time.Second}
		aim := protocol.Aim(rapid.IntRange(0, 2).Draw(t, "aim"))
		b, err := p.Better(aim, protocol.Expected{}, lactate.Options{}, r)
		if err != nil {
			t.Fatal(err)
		}
		n := len(p.Repeats)
		for i := range n {
			target := b.Plan.Repeats[i]
			if target.Time%time.Second != 0 || target.AllOut != (i == n-1) {
				t.Fatalf("repeat %+v", target)
			}
			if i > 0 && b.Plan.Repeats[i-1].Time-target.Time < r.Least {
				t.Fatalf("targets %v", seconds(b.Plan))
			}
		}
		if b.Plan.Repeats[0].Time != p.Repeats[0].Time || b.Plan.Repeats[n-1].Time != p.Repeats[n-1].Time {
			t.Fatalf("ends of %v", seconds(b.Plan))
		}
		if !slices.Equal(b.Plan.Rest(), p.Rest()) {
			t.Fatalf("rests %v, want %v", b.Plan.Rest(), p.Rest())
		}
		ratios := []float64{b.LT2, b.LT1, b.Shift}
		if b.AsGood && !slices.Equal(ratios, []float64{1, 1, 1}) || !b.AsGood && !(ratios[aim] <= 0.95) || !(slices.Max(ratios) <= 1+1e-9) {
			t.Fatalf("%v: widths %v, as good %v", aim, ratios, b.AsGood)
		}
		if n > 4 {
			return
		}
		again, err := p.Better(aim, protocol.Expected{}, lactate.Options{}, r)
		if err != nil || !slices.Equal(seconds(again.Plan), seconds(b.Plan)) {
			t.Fatalf("a second time %v, error %v", again, err)
		}
	})
}

// A send-off stays a send-off.
func TestBetterKeepsSendOff(t *testing.T) {
	p, err := protocol.NewPlan(protocol.Request{Pool: pace.SCM(), Repeats: 6, Start: pace.Must(pace.ParsePace("1:27.5/100 m")), Best: 300 * time.Second, SendOff: 7 * time.Minute})
	if err != nil {
		t.Fatal(err)
	}
	b, err := p.Better(protocol.NarrowLT2, protocol.Expected{}, lactate.Options{}, protocol.Rules{})
	if err != nil {
		t.Fatal(err)
	}
	for i, r := range b.Plan.Repeats {
		if r.Leave != time.Duration(i)*7*time.Minute {
			t.Errorf("repeat %d leaves at %v", r.Number, r.Leave)
		}
	}
}

// Where there is no room to move, even steps are as good, and the answer says so.
func TestEvenStepsAsGood(t *testing.T) {
	p := evenPlan(t, 6, 320e9, 300e9)
	b, err := p.Better(protocol.NarrowLT2, protocol.Expected{}, lactate.Options{}, protocol.Rules{Least: 4 * time.Second})
	if err != nil {
		t.Fatal(err)
	}
	if !b.AsGood || !slices.Equal(seconds(b.Plan), []float64{320, 316, 312, 308, 304, 300}) {
		t.Errorf("%+v", b)
	}
}

// A swimmer who follows the advice, more or less, against a model of the test:
// every next repeat is one of the plan, faster than the last, and the test ends
// all out. Evidence: D.
func TestPropNextRepeat(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := evenPlan(t, rapid.IntRange(4, 6).Draw(t, "repeats"), 350e9, 300e9)
		s := swimmer{
			rapid.Float64Range(0.8, 1.4).Draw(t, "asymptote"),
			rapid.Float64Range(6, 12).Draw(t, "final"),
			rapid.Float64Range(11, 22).Draw(t, "rate"),
		}
		rec := p.Record()
		enough := false
		for swum := 0; ; swum++ {
			a, err := p.NextRepeat(rec, protocol.NarrowLT2, protocol.Expected{}, lactate.Options{}, protocol.Rules{})
			if err != nil && swum > 0 && strings.Contains(err.Error(), "repeats with a sample") {
				return // too many samples were lost
			}
			if err != nil {
				t.Fatal(err)
			}
			left := len(p.Repeats) - swum
			if a.Left != left {
				t.Fatalf("%d left after %d, want %d", a.Left, swum, left)
			}
			if left == 0 {
				if a.Next.Number != 0 {
					t.Fatalf("next %+v", a.Next)
				}
				return
			}
			if left == 1 && (!a.Next.AllOut || !a.Enough) {
				t.Fatalf("the last: %+v", a)
			}
			if a.Next.AllOut && left > 1 {
				return // swum too near the end for the rest
			}
			if a.Next.Number != swum+1 || a.Width < 0 || a.AllOutWidth < 0 || math.IsNaN(a.Width+a.AllOutWidth) {
				t.Fatalf("after %d: %+v", swum, a)
			}
			if a.AllOutWidth > 0 && !(a.AllOutWidth >= a.Width*0.9) {
				t.Fatalf("after %d: all out next %v, after all %v", swum, a.AllOutWidth, a.Width)
			}
			enough = enough || a.Enough
			last := time.Duration(math.MaxInt64)
			if swum > 0 {
				last = rec.Repeats[swum-1].Time
			}
			if !(a.Next.Time < last) {
				t.Fatalf("next in %v after %v", a.Next.Time, last)
			}
			off := time.Duration(rapid.IntRange(-1500, 1500).Draw(t, "off")) * time.Millisecond
			rep := &rec.Repeats[swum]
			rep.Time = min(a.Next.Time+off, last-100*time.Millisecond)
			if rapid.IntRange(0, 5).Draw(t, "lost") > 0 {
				v, _ := rep.Speed()
				y := s.asymptote + (s.final-s.asymptote)*math.Exp(s.rate*(v.MetresPerSecond()-400./300))
				rep.Lactate = math.Round(10*max(0.5, y+rapid.Float64Range(-0.4, 0.4).Draw(t, "error"))) / 10
			}
		}
	})
}

// Today's samples change the advice: a swimmer whose lactate rises early is sent
// where it rises.
func TestNextRepeatLearns(t *testing.T) {
	p := evenPlan(t, 7, 350e9, 300e9)
	next := func(s swimmer) float64 {
		rec := p.Record()
		for i, st := range s.test(p, 0).Stages[:3] {
			rec.Repeats[i].Time, rec.Repeats[i].Lactate = p.Repeats[i].Time, st.Lactate
		}
		a, err := p.NextRepeat(rec, protocol.NarrowLT2, protocol.Expected{}, lactate.Options{}, protocol.Rules{})
		if err != nil {
			t.Fatal(err)
		}
		return a.Next.Time.Seconds()
	}
	gentle, sharp := next(swimmer{0.9, 12, 9}), next(swimmer{1.1, 10, 24})
	if !(gentle > sharp) {
		t.Errorf("next in %v s where lactate rises gently, %v s where it rises sharply", gentle, sharp)
	}
	rec := p.Record()
	rec.Repeats[1].Time = 340e9
	if _, err := p.NextRepeat(rec, protocol.NarrowLT2, protocol.Expected{}, lactate.Options{}, protocol.Rules{}); err == nil || !strings.Contains(err.Error(), "repeat 2 was swum before repeat 1") {
		t.Errorf("out of order: %v", err)
	}
	rec.Repeats[0].Time = 330e9
	if _, err := p.NextRepeat(rec, protocol.NarrowLT2, protocol.Expected{}, lactate.Options{}, protocol.Rules{}); err == nil || !strings.Contains(err.Error(), "repeat 2 was not faster") {
		t.Errorf("slower: %v", err)
	}
	rec.Repeats[0].Time, rec.Repeats[1].Time = 302e9, 0
	a, err := p.NextRepeat(rec, protocol.NarrowLT2, protocol.Expected{}, lactate.Options{}, protocol.Rules{})
	if err != nil || !a.Next.AllOut || !a.Enough {
		t.Errorf("nearly at the end: %+v, error %v", a, err)
	}
}

// D: however many earlier tests there are, the day of the next one is not known
// from them: where the curve lies is that of the last test, and what is believed
// of a level of lactate stays about as wide as two days differ, √2·DayToDay.
func TestManyTestsLeaveTheDayOpen(t *testing.T) {
	p := sixOf400(t)
	test := swimmer{1.1, 9, 15}.test(p, 0)
	o := lactate.Options{LT2: lactate.Fixed{Lactate: 4}, DayToDay: 0.008}
	unknown := func(tests int) float64 {
		var earlier protocol.Expected
		for range tests {
			earlier.Tests = append(earlier.Tests, test)
		}
		out, err := p.Outlook(earlier, o)
		if err != nil {
			t.Fatal(err)
		}
		return out.LT2.Unknown / out.LT2.Speed.Value
	}
	one, many := unknown(1), unknown(12)
	days := math.Sqrt2 * o.DayToDay
	t.Logf("unknown after one test %.4f, after twelve %.4f, two days %.4f", one, many, days)
	if !(many >= 0.9*days && many <= 1.2*days && one > many) {
		t.Errorf("after one test %.4f, after twelve %.4f, expected about %.4f", one, many, days)
	}
}
