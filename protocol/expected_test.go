package protocol_test

import (
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"pgregory.net/rapid"
)

// invented are the lactates of an invented test [mmol/L] by speed [m/s]: 400 yd
// in 5:51.7, 5:42.4, 5:32.3, 5:23.4, 5:12.4 and 4:58.8.
func invented(shift float64) lactate.Test {
	var t lactate.Test
	for i, seconds := range []float64{351.7, 342.4, 332.3, 323.4, 312.4, 298.8} {
		v := 365.76/seconds + shift
		y := []float64{1.5, 1.7, 2.3, 3.0, 4.7, 9.9}[i]
		t.Stages = append(t.Stages, lactate.Stage{Intensity: v, Lactate: y, Duration: time.Duration(365.76 / v * float64(time.Second))})
	}
	return t
}

// sameAgain is a plan of the speeds of a test.
func sameAgain(t interface{ Fatal(...any) }, of lactate.Test) protocol.Plan {
	q := protocol.Request{Pool: pace.SCY(), Round: time.Millisecond}
	for _, st := range of.Stages {
		q.Speeds = append(q.Speeds, pace.Speed(st.Intensity))
	}
	p, err := protocol.NewPlan(q)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// D: two tests that differ by a shift alone say of the curve what the later one
// says, wherever it lies: LT1 and LT2 are forecast where that reads them, LT1 is
// the slower, and the forecast moves with the shift, as far to the left as to the
// right.
func TestPureShiftOfTwoTests(t *testing.T) {
	at := func(percent float64) (out *protocol.Outlook, shift float64) {
		shift = percent / 100 * 365.76 / 332.3
		last := invented(shift)
		out, err := sameAgain(t, last).Outlook(protocol.Expected{Tests: []lactate.Test{invented(0), last}}, lactate.Options{})
		if err != nil {
			t.Fatal(err)
		}
		a, err := lactate.Analyze(last, lactate.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for k, f := range []protocol.Forecast{out.LT1, out.LT2} {
			read := []lactate.Threshold{a.LT1, a.LT2}[k].Intensity
			if !(math.Abs(f.Speed.Value-read.Value) <= 0.002) {
				t.Errorf("%+g %%: %v forecast at %.4f m/s, the last test says %.4f", percent, f.Method, f.Speed.Value, read.Value)
			}
		}
		if !(out.LT1.Speed.Value < out.LT2.Speed.Value-0.05) || out.LeftOut != nil {
			t.Errorf("%+g %%: LT1 at %.4f m/s, LT2 at %.4f, left out %v", percent, out.LT1.Speed.Value, out.LT2.Speed.Value, out.LeftOut)
		}
		return out, shift
	}
	still, _ := at(0)
	for _, percent := range []float64{-8, -6.5, -5, -4, -3, -2, -1, -0.5, 0.5, 1, 2, 3, 4, 5, 6.5, 8} {
		out, shift := at(percent)
		for k, f := range []protocol.Forecast{out.LT1, out.LT2} {
			g := []protocol.Forecast{still.LT1, still.LT2}[k]
			t.Logf("%+g %%: %v moves by %.5f m/s of %.5f, width %.4f, unmoved %.4f", percent, f.Method, f.Speed.Value-g.Speed.Value, shift, f.Width(), g.Width())
			if !(math.Abs(f.Speed.Value-g.Speed.Value-shift) <= 2e-4) {
				t.Errorf("%+g %%: %v moves by %.5f m/s, want %.5f", percent, f.Method, f.Speed.Value-g.Speed.Value, shift)
			}
			if !(math.Abs(f.Width()/g.Width()-1) <= 0.01) {
				t.Errorf("%+g %%: %v is %.5f m/s wide, unmoved %.5f", percent, f.Method, f.Width(), g.Width())
			}
		}
	}
}

// D: any swimmer, any shifts between any number of tests: the forecast lies where
// the last test reads its thresholds; the order of the others does not matter,
// and where the last test lies, the forecast lies.
func TestPropPlaceOfTheLastTest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := evenPlan(t, 6, 350*time.Second, 300*time.Second)
		s := swimmer{rapid.Float64Range(0.8, 1.4).Draw(t, "asymptote"), rapid.Float64Range(7, 12).Draw(t, "final"), rapid.Float64Range(12, 20).Draw(t, "rate")}
		shifts := rapid.SliceOfN(rapid.Float64Range(-0.1, 0.1), 2, 5).Draw(t, "shifts")
		forecast := func(shifts []float64) *protocol.Outlook {
			var e protocol.Expected
			for _, shift := range shifts {
				test := s.test(p, 0)
				for i := range test.Stages {
					test.Stages[i].Intensity += shift
				}
				e.Tests = append(e.Tests, test)
			}
			last := e.Tests[len(e.Tests)-1]
			out, err := sameAgain(t, last).Outlook(e, lactate.Options{})
			if err != nil {
				t.Fatal(err)
			}
			a, err := lactate.Analyze(last, lactate.Options{})
			if err != nil {
				t.Fatal(err)
			}
			for k, f := range []protocol.Forecast{out.LT1, out.LT2} {
				read := []lactate.Threshold{a.LT1, a.LT2}[k].Intensity.Value
				if !(math.Abs(f.Speed.Value-read) <= f.StandardError/2) {
					t.Fatalf("%v forecast at %.4f m/s (standard error %.4f), the last test says %.4f", f.Method, f.Speed.Value, f.StandardError, read)
				}
			}
			if !(out.LT1.Speed.Value < out.LT2.Speed.Value) || out.LeftOut != nil {
				t.Fatalf("LT1 at %.4f m/s, LT2 at %.4f, left out %v", out.LT1.Speed.Value, out.LT2.Speed.Value, out.LeftOut)
			}
			return out
		}
		near := func(a, b, tolerance float64) bool { return math.Abs(a-b) <= tolerance }
		in := forecast(shifts)
		last := len(shifts) - 1
		other := slices.Clone(shifts)
		slices.Reverse(other[:last])
		if out := forecast(other); !near(out.LT1.Speed.Value, in.LT1.Speed.Value, 1e-6) || !near(out.LT2.Speed.Value, in.LT2.Speed.Value, 1e-6) ||
			!near(out.LT2.Unknown, in.LT2.Unknown, 1e-6) || !near(out.LT2.StandardError, in.LT2.StandardError, 1e-6) {
			t.Fatalf("%+v, with the others the other way about %+v", in, out)
		}
		slices.Reverse(other[:last])
		other[0], other[last] = other[last], other[0]
		if out := forecast(other); !near(out.LT2.Speed.Value-in.LT2.Speed.Value, other[last]-shifts[last], 2e-3) {
			t.Fatalf("LT2 at %.4f m/s after a shift of %.4f, at %.4f after one of %.4f", in.LT2.Speed.Value, shifts[last], out.LT2.Speed.Value, other[last])
		}
	})
}

// D, simulation: how far LT1 and LT2 of the day lie from the forecast is what
// Unknown says, for swimmers as they are believed to be, noise as stated, days
// that differ, and training of any size between the tests.
func TestUnknownAgainstSimulation(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 4))
	n := 1500
	if testing.Short() {
		n = 450
	}
	p := sixOf400(t)
	const day, middle = 0.008, (400./350 + 400./300) / 2
	for _, tests := range []int{1, 3} {
		var off, stated [2]float64
		found := [2]int{}
		for range n {
			s := swimmer{1.1 + 0.3*rng.NormFloat64(), 9 + 3*rng.NormFloat64(), math.Sqrt(11*22) * math.Exp(math.Log(2)/2*rng.NormFloat64())}
			s.asymptote, s.final = max(s.asymptote, 0.4), max(s.final, 4)
			s.rate = min(max(s.rate, 8), 30)
			var e protocol.Expected
			for i := range tests {
				test := s.noisy(p, day*middle*rng.NormFloat64(), rng)
				if i < tests-1 { // trained since, and the plan followed
					place := 0.05 * rng.NormFloat64()
					for k := range test.Stages {
						test.Stages[k].Intensity += place
					}
				}
				e.Tests = append(e.Tests, test)
			}
			out, err := p.Outlook(e, lactate.Options{DayToDay: day})
			if err != nil {
				t.Fatal(err)
			}
			truth, err := lactate.Analyze(s.test(p, day*middle*rng.NormFloat64()), lactate.Options{})
			if err != nil {
				continue
			}
			for k, f := range []protocol.Forecast{out.LT1, out.LT2} {
				th := []lactate.Threshold{truth.LT1, truth.LT2}[k]
				if th.Err != nil {
					continue
				}
				d := th.Intensity.Value - f.Speed.Value
				off[k] += d * d
				stated[k] += f.Unknown * f.Unknown
				found[k]++
			}
		}
		for k, name := range []string{"LT1", "LT2"} {
			ratio := math.Sqrt(stated[k] / off[k])
			t.Logf("after %d tests, %s: unknown %.4f m/s, found %.4f off, ratio %.3f, in %d of %d", tests, name,
				math.Sqrt(stated[k]/float64(found[k])), math.Sqrt(off[k]/float64(found[k])), ratio, found[k], n)
			if !(math.Abs(ratio-1) <= 0.10) {
				t.Errorf("after %d tests, %s: unknown is %.3f of what is found", tests, name, ratio)
			}
		}
	}
}

// An earlier test of plainly another shape says nothing, and the outlook says
// so; what is left is as if it had not been. Evidence: D.
func TestOtherShapeIsLeftOut(t *testing.T) {
	p := sixOf400(t)
	now, other := swimmer{1.1, 9, 20}.test(p, 0), swimmer{1.4, 9, 8}.test(p, 0)
	with, err := p.Outlook(protocol.Expected{Tests: []lactate.Test{now, other, now}}, lactate.Options{})
	if err != nil {
		t.Fatal(err)
	}
	without, err := p.Outlook(protocol.Expected{Tests: []lactate.Test{now, now}}, lactate.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(with.LeftOut, []int{1}) {
		t.Errorf("left out %v, want test 1", with.LeftOut)
	}
	with.LeftOut = nil
	if !reflect.DeepEqual(with, without) {
		t.Errorf("%+v, want %+v", with, without)
	}
}

// D, simulation: tests of one shape are hardly ever taken for two.
func TestOneShapeIsKept(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	p := sixOf400(t)
	out, n := 0, 300
	for i := range n {
		s := swimmers()[i%27]
		o, err := p.Outlook(protocol.Expected{Tests: []lactate.Test{s.noisy(p, 0.03*rng.NormFloat64(), rng), s.noisy(p, 0, rng)}}, lactate.Options{})
		if err != nil {
			t.Fatal(err)
		}
		out += len(o.LeftOut)
	}
	t.Logf("%d of %d left out", out, n)
	if !(out <= n/50) {
		t.Errorf("%d of %d tests of the same shape were left out", out, n)
	}
}

// In the middle of a test, after earlier ones: the shape is known from before, the
// place of the day from today's samples, so that the repeats that are left go
// where a level of lactate lies today. Evidence: D.
func TestTodayMovesTheNextRepeat(t *testing.T) {
	p := evenPlan(t, 7, 350*time.Second, 300*time.Second)
	s := swimmer{1.1, 9, 15}
	e := protocol.Expected{Tests: []lactate.Test{s.test(p, -0.01), s.test(p, 0.01), s.test(p, 0)}}
	o := lactate.Options{LT2: lactate.Fixed{Lactate: 4}}
	var before time.Duration
	for _, move := range []float64{-0.03, 0, 0.03} { // √2 days are 0.014 m/s
		rec := p.Record()
		for i, st := range s.test(p, move).Stages[:3] {
			rec.Repeats[i].Time, rec.Repeats[i].Lactate = p.Repeats[i].Time, st.Lactate
		}
		a, err := p.NextRepeat(rec, protocol.NarrowLT2, e, o, protocol.Rules{Round: 100 * time.Millisecond})
		if err != nil {
			t.Fatal(err)
		}
		var sum time.Duration
		for _, r := range a.Plan.Repeats[3:6] {
			sum += r.Time
		}
		t.Logf("%+.2f m/s: %v", move, seconds(a.Plan))
		if before != 0 && !(sum < before) {
			t.Errorf("moved by %+.2f m/s: those in between take %v, before %v", move, sum, before)
		}
		before = sum
	}
}
