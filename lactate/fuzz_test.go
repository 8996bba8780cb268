package lactate_test

import (
	"encoding/binary"
	"encoding/json"
	"math"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
	"gonum.org/v1/gonum/interp"
)

// Numbers that arithmetic trips over: both zeros, denormals, the ends of the
// range, neighbours of 1 to the last bit, not a number.
var nasty = []float64{
	0, math.Copysign(0, -1), 1, -1, 1 + 0x1p-52, 1 - 0x1p-53, 5e-324, -5e-324, 0x1p-1022, 1e-300, -1e-300,
	1e300, -1e300, math.MaxFloat64, -math.MaxFloat64, math.Inf(1), math.Inf(-1), math.NaN(), 1e16, 0.1, 0.3, 2, 1e-9, 1e9,
}

// numbers reads bytes as float64s: raw ones, eight bytes each; plausible ones,
// in hundredths after 1 and in tenths by turns, so that ties and straight
// lines are common; or picks of nasty.
func numbers(kind uint8, data []byte) (out []float64) {
	switch kind % 3 {
	case 0:
		for ; len(data) >= 8; data = data[8:] {
			out = append(out, math.Float64frombits(binary.LittleEndian.Uint64(data)))
		}
	case 1:
		for i, b := range data {
			if i%2 == 0 {
				out = append(out, 1+float64(b)/100)
			} else {
				out = append(out, float64(b)/10)
			}
		}
	default:
		for _, b := range data {
			out = append(out, nasty[int(b)%len(nasty)])
		}
	}
	return out
}

func rawBytes(values ...float64) (out []byte) {
	for _, v := range values {
		out = binary.LittleEndian.AppendUint64(out, math.Float64bits(v))
	}
	return out
}

// fuzzTest builds a test of up to 24 stages from numbers: intensity and
// lactate by turns. Heart rate, duration, rest and recovery follow from them.
func fuzzTest(values []float64, extras uint8) lactate.Test {
	var t lactate.Test
	for ; len(values) >= 2 && len(t.Stages) < 24; values = values[2:] {
		s := lactate.Stage{Intensity: values[0], Lactate: values[1]}
		if extras&1 != 0 {
			s.HeartRate = 100 + 40*values[0]
		}
		if extras&2 != 0 {
			s.Duration = time.Duration(values[0] * 1e11)
		}
		t.Stages = append(t.Stages, s)
	}
	if n := len(t.Stages); n > 0 && extras&4 != 0 {
		t.Rest = t.Stages[n/2].Lactate
		for i := range 3 {
			t.Recovery = append(t.Recovery, lactate.RecoverySample{After: time.Duration(i*i+1) * time.Minute, Lactate: t.Stages[n-1].Lactate / float64(i+1)})
		}
	}
	return t
}

// fuzzCurves are the curves that a test is read with.
var fuzzCurves = []func() lactate.Curve{
	nil,
	func() lactate.Curve { return new(curve.Polynomial) },
	func() lactate.Curve { return &curve.Polynomial{Degree: 5} },
	func() lactate.Curve { return new(curve.BrokenLine) },
	func() lactate.Curve { return new(curve.ThreeLine) },
	func() lactate.Curve { return new(interp.PiecewiseLinear) },
	func() lactate.Curve { return new(interp.AkimaSpline) },
	func() lactate.Curve { return new(interp.FritschButland) },
}

func fuzzOptions(which uint8, noise, relative, weight float64) lactate.Options {
	o := lactate.Options{
		Curve: fuzzCurves[int(which)%len(fuzzCurves)],
		Noise: lactate.Noise{Absolute: noise, Relative: relative, Weight: weight},
		Seed:  uint64(which),
	}
	if which&0x40 != 0 {
		o.Resamples = 8
	}
	if which&0x80 != 0 {
		for _, e := range lactate.Catalogue("m/s") {
			o.Methods = append(o.Methods, e.Method)
		}
	}
	return o
}

func isFinite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// checkEstimate: a number, with an interval the right way round, or none.
// Ends may be infinite: the documented sign of an open interval.
func checkEstimate(t *testing.T, what string, e lactate.Estimate) {
	t.Helper()
	if !isFinite(e.Value) {
		t.Errorf("%s: %v", what, e)
	}
	if math.IsNaN(e.Low) != math.IsNaN(e.High) || e.Low > e.High {
		t.Errorf("%s: interval %v", what, e)
	}
}

// checkThreshold: an error and no number, or numbers inside the tested range.
func checkThreshold(t *testing.T, th lactate.Threshold, lo, hi float64) {
	t.Helper()
	if th.Err != nil {
		for _, e := range []lactate.Estimate{th.Intensity, th.Lactate, th.HeartRate} {
			if !math.IsNaN(e.Value) || e.HasInterval() {
				t.Errorf("%v: %v beside %v", th.Method, e, th.Err)
			}
		}
		if th.Err.Error() == "" {
			t.Errorf("%v: an error without words", th.Method)
		}
		return
	}
	checkEstimate(t, th.Method.String(), th.Intensity)
	if !(th.Intensity.Value >= lo && th.Intensity.Value <= hi) {
		t.Errorf("%v: at %v of %v to %v", th.Method, th.Intensity.Value, lo, hi)
	}
	checkEstimate(t, th.Method.String()+", lactate", th.Lactate)
	if !math.IsNaN(th.HeartRate.Value) {
		checkEstimate(t, th.Method.String()+", heart rate", th.HeartRate)
	}
}

func checkAnalysis(t *testing.T, a *lactate.Analysis) {
	t.Helper()
	if !isFinite(a.Lowest) || !isFinite(a.Highest) || !(a.Lowest <= a.Highest) {
		t.Errorf("tested range %v to %v", a.Lowest, a.Highest)
	}
	for _, th := range append([]lactate.Threshold{a.LT1, a.LT2}, a.Thresholds...) {
		checkThreshold(t, th, a.Lowest, a.Highest)
	}
	if _, err := json.Marshal(a); err != nil {
		t.Error(err)
	}
}

func addTests(f *testing.F, add func(kind uint8, data []byte)) {
	add(0, rawBytes(1.15, 1.4, 1.18, 1.5, 1.22, 1.7, 1.26, 1.8, 1.3, 2.7, 1.34, 4.6, 1.4, 9.1))
	add(0, rawBytes(1e300, 9, 5e-324, 1, 1e299, 2, 1e298, 1.5, 1, 1))
	add(0, rawBytes(1, 1, 1+0x1p-52, 2, 1+0x1p-51, 9, 1+0x1p-50, 12))
	add(0, rawBytes(1, 1e-300, 2, 5e-324, 3, 1e300, 4, math.MaxFloat64))
	add(1, []byte{10, 14, 20, 15, 30, 16, 40, 28, 50, 90, 50, 92})
	add(2, []byte{2, 2, 4, 2, 21, 22, 23, 18, 20, 11, 9, 13})
}

// Any numbers as a test, any noise, eight kinds of curve, every method: an
// error, or numbers inside the tested range; nothing panics.
func FuzzAnalyze(f *testing.F) {
	addTests(f, func(kind uint8, data []byte) {
		f.Add(kind, data, uint8(7), uint8(0xc0), 0.0, 0.0, 0.0)
		f.Add(kind, data, uint8(7), uint8(0xc1), 1e-300, 1e300, math.Inf(1))
		f.Add(kind, data, uint8(0), uint8(0xc7), 1e300, 0.0, 5e-324)
	})
	f.Fuzz(func(t *testing.T, kind uint8, data []byte, extras, which uint8, noise, relative, weight float64) {
		a, err := lactate.Analyze(fuzzTest(numbers(kind, data), extras), fuzzOptions(which, noise, relative, weight))
		if err != nil {
			return
		}
		checkAnalysis(t, a)
		for _, m := range []lactate.Method{lactate.Fixed{}, lactate.MaxDistance{}} {
			if e, err := a.DeltaInterval(m); err == nil {
				checkEstimate(t, "delta method, "+m.String(), e)
			}
		}
		if band, err := a.Band(5); err == nil {
			for _, p := range band {
				checkEstimate(t, "band", p.Lactate)
			}
		}
	})
}

func checkJudgement(t *testing.T, what string, j lactate.Judgement) {
	t.Helper()
	checkEstimate(t, what, j.Shift)
	if !isFinite(j.StandardError) || j.StandardError < 0 || !(j.Probability >= 0 && j.Probability <= 1) || j.Grade == lactate.Faster != (j.Shift.Low > 0) || j.Grade == lactate.Slower != (j.Shift.High < 0) || !isFinite(j.Detectable) || j.Detectable < 0 {
		t.Errorf("%s: %+v", what, j)
	}
}

// Any two tests: an error, or numbers.
func FuzzCompare(f *testing.F) {
	addTests(f, func(kind uint8, data []byte) {
		f.Add(kind, data, data, uint8(7), uint8(0x40), 0.0, 0.0, 0.0)
		f.Add(kind, data, data[:len(data)/16*16], uint8(7), uint8(0), 1e-300, 1e300, math.Inf(1))
		f.Add(kind, data, rawBytes(1.2, 1.3, 1.3, 1.9, 1.4, 6, 1.45, 9), uint8(0), uint8(1), 0.2, 0.0, -1.0)
	})
	f.Fuzz(func(t *testing.T, kind uint8, first, second []byte, extras, which uint8, noise, relative, weight float64) {
		before, after := fuzzTest(numbers(kind, first), extras), fuzzTest(numbers(kind, second), extras)
		o := fuzzOptions(which, noise, relative, weight)
		c, err := lactate.Compare(before, after, lactate.CompareOptions{Options: o})
		if err != nil {
			return
		}
		checkAnalysis(t, c.Before)
		checkAnalysis(t, c.After)
		checkJudgement(t, "measured", c.Measured)
		checkJudgement(t, "between days", c.BetweenDays)
		checkEstimate(t, "shift", c.Shift)
		if e := c.Exponential; !isFinite(c.Reference) || e != nil && !(isFinite(e.Rate) && isFinite(e.Asymptote) && isFinite(e.RSS)) {
			t.Errorf("common shape %+v, reference %v", e, c.Reference)
		}
		if math.IsNaN(c.Shape.F) != math.IsNaN(c.Shape.PValue) || c.Shape.PValue < 0 || c.Shape.PValue > 1 {
			t.Errorf("shape %+v", c.Shape)
		}
		for _, tc := range c.Thresholds {
			if tc.Err == nil {
				checkEstimate(t, "change of "+tc.Method.String(), tc.Change)
			}
		}
		for _, l := range c.Levels {
			checkEstimate(t, "lactate before", l.LactateBefore)
			checkEstimate(t, "lactate after", l.LactateAfter)
			checkEstimate(t, "change of lactate", l.LactateChange)
		}
		if _, err := json.Marshal(c); err != nil {
			t.Error(err)
		}
	})
}

// Any tests on any days: an error, or numbers. Bytes of days are signed days
// after a first one; as many tests as days, which share the numbers.
func FuzzSeason(f *testing.F) {
	addTests(f, func(kind uint8, data []byte) {
		f.Add(kind, append(data, data...), []byte{0, 42}, uint8(7), uint8(0), 0.0, 0.0, 0.0, int64(40))
		f.Add(kind, data, []byte{0}, uint8(7), uint8(1), 1e-300, 1e300, math.Inf(1), int64(math.MaxInt64))
	})
	season := []byte{10, 14, 20, 15, 30, 16, 40, 28, 50, 90, 10, 12, 20, 13, 30, 15, 40, 22, 55, 95, 12, 14, 22, 14, 32, 16, 42, 27, 58, 93}
	f.Add(uint8(1), season, []byte{0, 42, 84}, uint8(0), uint8(0), 0.0, 0.0, 0.0, int64(126))
	f.Fuzz(func(t *testing.T, kind uint8, data, days []byte, extras, which uint8, noise, relative, weight float64, ahead int64) {
		if len(days) < 1 || len(days) > 8 {
			return
		}
		values := numbers(kind, data)
		start := time.Date(2025, 1, 6, 0, 0, 0, 0, time.UTC)
		per := len(values) / len(days) / 2 * 2
		var tests []lactate.DatedTest
		for i, d := range days {
			tests = append(tests, lactate.DatedTest{Date: start.AddDate(0, 0, int(int8(d))), Test: fuzzTest(values[i*per:(i+1)*per], extras)})
		}
		s, err := lactate.FollowSeason(tests, lactate.CompareOptions{Options: fuzzOptions(which&0x8f, noise, relative, weight)})
		if err != nil {
			return
		}
		checkJudgement(t, "trend", s.Trend)
		for _, st := range s.Tests[1:] {
			checkJudgement(t, "measured", st.Measured)
			checkJudgement(t, "between days", st.BetweenDays)
		}
		if _, err := json.Marshal(s); err != nil {
			t.Error(err)
		}
		e, err := s.Expected(start.AddDate(0, 0, int(ahead)))
		if err == nil {
			checkEstimate(t, "expected", e)
		}
	})
}

// Any test by every definition, on both common curves, and with each stage
// left out: an error, or numbers inside the tested range.
func FuzzSideBySide(f *testing.F) {
	addTests(f, func(kind uint8, data []byte) {
		f.Add(kind, data, uint8(7), uint8(0x40))
		f.Add(kind, data, uint8(0), uint8(0))
	})
	f.Fuzz(func(t *testing.T, kind uint8, data []byte, extras, which uint8) {
		test := fuzzTest(numbers(kind, data), extras)
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, s := range test.Stages {
			if s.Lactate > 0 {
				lo, hi = min(lo, s.Intensity), max(hi, s.Intensity)
			}
		}
		o := fuzzOptions(which, 0, 0, 0)
		o.Curve = nil
		p, err := lactate.SideBySide(test, lactate.SideBySideOptions{Unit: "m/s", Options: o})
		if err == nil {
			for _, row := range p.Rows {
				for _, th := range row.Cells {
					if th.Err == nil && math.IsNaN(th.Lactate.Value) && !row.Definition.OnCurve {
						th.Lactate.Value = 0 // no curve could be fitted
					}
					checkThreshold(t, th, lo, hi)
				}
			}
			for _, target := range []lactate.Target{0, 1, 2, 3} {
				s := p.Spread(target)
				if s.Answers > 0 && !(s.Lowest.Intensity <= s.Highest.Intensity) {
					t.Errorf("spread %+v", s)
				}
			}
		}
		inf, err := lactate.Influence(test, o)
		if err != nil {
			return
		}
		for _, r := range append([]lactate.Influenced{inf.LT1, inf.LT2}, inf.Thresholds...) {
			checkThreshold(t, r.Whole, lo, hi)
			for _, th := range r.Without {
				checkThreshold(t, th, lo, hi)
			}
			if !isFinite(r.Shift) || r.Most >= len(inf.LeftOut) {
				t.Errorf("%v: shift %v, most %v", r.Whole.Method, r.Shift, r.Most)
			}
		}
	})
}
