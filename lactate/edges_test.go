package lactate_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Where a rule of a comparison begins, just on either side. Constructed.
func TestCompareEdges(t *testing.T) {
	compare := func(a, b lactate.Test, o lactate.Options) *lactate.Change {
		t.Helper()
		c, err := lactate.Compare(a, b, o)
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	// Seven stages less six parameters leave one degree of freedom for the F test.
	three := march()
	three.Stages = []lactate.Stage{three.Stages[0], three.Stages[3], three.Stages[5]}
	four := january()
	four.Stages = []lactate.Stage{four.Stages[0], four.Stages[2], four.Stages[3], four.Stages[5]}
	if c := compare(four, three, lactate.Options{}); math.IsNaN(c.Shape.F) || math.IsNaN(c.Shape.PValue) {
		t.Errorf("four stages and three: %+v", c.Shape)
	}
	// Shared range of lactate: a third of all is enough, 0.29 is not. So it is
	// below 1 mmol/L.
	for _, r := range []struct {
		lo1, hi1, lo2, hi2 float64
		little             bool
	}{{1, 6, 3.1, 11, true}, {1, 6, 2.5, 11, false}, {0.3, 0.6, 0.5, 0.9, true}, {0.3, 0.75, 0.5, 0.9, false}} {
		between := func(lo, hi float64) lactate.Test {
			return sampled(func(x float64) float64 { return lo + (hi-lo)*math.Expm1(12*(x-1.1))/math.Expm1(12*0.25) }, 1.1, 1.15, 1.2, 1.25, 1.3, 1.35)
		}
		if c := compare(between(r.lo1, r.hi1), between(r.lo2, r.hi2), lactate.Options{}); has(c.Warnings, lactate.LittleShared) != r.little {
			t.Errorf("%+v: %v", r, c.Warnings)
		}
	}
	// Dmax between ends that differ by 0.3 % of LT2 or by 0.6 %, the curve the
	// same: the ends decide only in the second.
	f := func(x float64) float64 { return 1 + math.Exp(14*(x-1.22)) }
	whole := sampled(f, 1.1, 1.15, 1.2, 1.25, 1.3, 1.36)
	for last, want := range map[float64]bool{1.3638: false, 1.3675: true} {
		if c := compare(whole, sampled(f, 1.1, 1.15, 1.2, 1.25, 1.3, last), lactate.Options{}); has(c.Warnings, lactate.EndsDecide) != want {
			t.Errorf("to 1.36 and %v, reference %v: %v, %v", last, c.Reference, c.Measured.Verdict, c.Warnings)
		}
	}
	// A threshold that one of the tests does not have decides nothing.
	noRise := ramp(1, 1.1, 1.2, 1.3, 1.4, 1.45)
	o := lactate.Options{LT1: lactate.Fixed{Lactate: 2}, LT2: lactate.ModifiedMaxDistance{}}
	if c := compare(noRise, january(), o); c.Before.LT2.Err == nil || has(c.Warnings, lactate.EndsDecide) {
		t.Errorf("no modified Dmax before: %v, %v", c.Before.LT2.Err, c.Warnings)
	}
	if c := compare(january(), noRise, o); c.After.LT2.Err == nil || has(c.Warnings, lactate.EndsDecide) {
		t.Errorf("no modified Dmax after: %v, %v", c.After.LT2.Err, c.Warnings)
	}
	// Levels at the ends of the shared range are read.
	if c := compare(january(), january(), lactate.Options{}); len(c.Levels) != 8 || c.Levels[0].Intensity != 1.10 || c.Levels[7].Intensity != 1.36 {
		t.Errorf("six stages and two thresholds: %+v", c.Levels)
	}
}

// A curve that does not say how much its fit left over is taken to pass through
// all points, so that residuals say nothing: with no weight for the stated noise
// there is no interval, with half an observation there is.
func TestNothingLeftOver(t *testing.T) {
	for _, c := range []struct {
		weight float64
		known  bool
	}{{-1, false}, {0.5, true}} {
		a, err := lactate.Analyze(january(), lactate.Options{
			Curve: func() lactate.Curve { return bare{new(curve.Exponential)} },
			Noise: lactate.Noise{Absolute: 0.2, Weight: c.weight}, Resamples: 50,
		})
		if err != nil {
			t.Fatal(err)
		}
		if a.LT1.Intensity.HasInterval() != c.known || has(a.Warnings, lactate.NoScale) == c.known {
			t.Errorf("weight %v: %v, %v", c.weight, a.LT1.Intensity, a.Warnings)
		}
	}
	// Half an observation is enough to pool; the factor is the square root of the
	// mean square, and rounding moves into Absolute.
	n := lactate.Noise{Absolute: 0.2, Relative: 0.03, Resolution: 0.5, Weight: 0.5}
	pooled, err := lactate.PooledNoise(n)
	if err != nil || pooled.Weight != 0.5 {
		t.Fatalf("%+v, %v", pooled, err)
	}
	factor := pooled.Relative / n.Relative
	if want := factor * math.Sqrt(0.2*0.2+0.5*0.5/12); !(math.Abs(pooled.Absolute-want) <= 1e-12) {
		t.Errorf("absolute %v, want %v", pooled.Absolute, want)
	}
	if _, err := lactate.PooledNoise(n, january(), lactate.Test{}); err == nil || !strings.Contains(err.Error(), "test 2") {
		t.Errorf("one of two tests that cannot be fitted: %v", err)
	}
}

// D: the trend of two tests carried on. With the shift d at age t, variance V of
// measurement and D of a day, a new place at age a = r·t is expected at r·d, and
// known with the variance r²(V + 2D) − 2rD + 2D, of which r²V is measured.
func TestExpectedOfTwo(t *testing.T) {
	start := time.Date(2025, 1, 4, 0, 0, 0, 0, time.UTC)
	s, err := lactate.FollowSeason([]lactate.Dated{{Date: start, Test: january()}, {Date: start.AddDate(0, 0, 42), Test: march()}}, lactate.Options{Confidence: 0.8})
	if err != nil {
		t.Fatal(err)
	}
	se := s.Tests[1].Measured.StandardError
	day := 0.008 * s.Reference
	v, d := se*se, day*day
	for _, r := range []float64{0.5, 1, 2} {
		got, err := s.Expected(start.Add(time.Duration(r * float64(42*24*time.Hour))))
		if err != nil {
			t.Fatal(err)
		}
		variance := r*r*(v+2*d) - 2*r*d + 2*d
		share := r * r * v / variance
		dof := float64(s.DegreesOfFreedom) + 4 // four observations of stated noise
		half := distuv.StudentsT{Sigma: 1, Nu: dof / (share * share)}.Quantile(0.9) * math.Sqrt(variance)
		close2(t, "value", got.Value, r*s.Tests[1].Measured.Shift.Value, 1e-9)
		close2(t, "low", got.Value-got.Low, half, 1e-9)
		close2(t, "high", got.High-got.Value, half, 1e-9)
	}
	if _, err := lactate.FollowSeason([]lactate.Dated{{Date: start, Test: january()}, {Date: start.AddDate(0, 0, 42), Test: march()}, {Date: start.AddDate(0, 0, 84)}}, lactate.Options{}); err == nil || !strings.Contains(err.Error(), "2025-03-29") {
		t.Errorf("one test without stages: %v", err)
	}
}

// Every test but the first is asked whether the ends of its range decide.
func TestSeasonEndsDecide(t *testing.T) {
	f := func(x float64) float64 { return 1 + math.Exp(14*(x-1.22)) }
	start := time.Date(2025, 1, 4, 0, 0, 0, 0, time.UTC)
	whole, cut := sampled(f, 1.1, 1.15, 1.2, 1.25, 1.3, 1.36), sampled(f, 1.1, 1.15, 1.2, 1.25, 1.3, 1.33)
	for i, tests := range [][]lactate.Test{{whole, whole, whole}, {whole, cut, whole}, {whole, whole, cut}, {whole, cut}} {
		var dated []lactate.Dated
		for j, test := range tests {
			dated = append(dated, lactate.Dated{Date: start.AddDate(0, 0, 42*j), Test: test})
		}
		s, err := lactate.FollowSeason(dated, lactate.Options{})
		if err != nil || has(s.Warnings, lactate.EndsDecide) != (i > 0) {
			t.Errorf("%d: %v, %v", i, s.Warnings, err)
		}
	}
}

// Names that two readings of a definition need.
func TestNamesApart(t *testing.T) {
	for got, want := range map[string]string{
		lactate.CurveName(&curve.Polynomial{Degree: 3}):                "cubic",
		lactate.CurveName(&curve.Polynomial{Degree: 4}):                "polynomial of degree 4",
		lactate.FixedSlope{}.String():                                  "fixed slope, not given",
		lactate.Baseline(5).String():                                   "Baseline(5)",
		lactate.LogLogMaxDistance{}.String():                           "Dmax from the log–log point",
		lactate.LogLogMaxDistance{Ends: lactate.MeasuredEnds}.String(): "Dmax from the log–log point, measured ends",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if s := (lactate.FixedSlope{Slope: 1, Per: "m/s"}).String(); !strings.Contains(s, "1 ") || strings.Contains(s, "not given") {
		t.Errorf("%q", s)
	}
	if (&lactate.NotReachedError{Level: 4, Lowest: 5, Highest: 4}).Above() {
		t.Error("4 lies above an end of 4")
	}
	// Levels that differ in the fourth digit are told apart, and stay short where
	// three do.
	for e, want := range map[lactate.NotReachedError]string{
		{Level: 2, Lowest: 2.00046, Highest: 9}:              "2 mmol/L: level not reached inside the tested range: the curve starts above it, at 2.0005 mmol/L",
		{Level: 4, Lowest: 1, Highest: math.Nextafter(4, 0)}: "4 mmol/L: level not reached inside the tested range: the curve ends at 3.9999999999999996 mmol/L",
		{Level: 4, Lowest: 1, Highest: 3.21}:                 "4 mmol/L: level not reached inside the tested range: the curve ends at 3.21 mmol/L",
	} {
		if got := e.Error(); got != "lactate: "+want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	for e, want := range map[lactate.StageError]string{
		{Stage: 0, Field: "lactate", Value: -1, Want: "x"}:          "lactate: stage 1: lactate: found -1, expected x",
		{Stage: 0, Field: "recovery lactate", Value: -1, Want: "x"}: "lactate: recovery sample 1: lactate: found -1, expected x",
		{Stage: -1, Field: "rest", Value: -1, Want: "x"}:            "lactate: rest: found -1, expected x",
	} {
		if got := e.Error(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// D: what is read at the very first or last stage, and at a sample at once after
// the last one.
func TestAtTheEnds(t *testing.T) {
	a, err := lactate.Analyze(january(), lactate.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range []lactate.Stage{january().Stages[0], january().Stages[5]} {
		if h, err := a.HeartRateAt(s.Intensity); err != nil || h != s.HeartRate {
			t.Errorf("heart rate at %v: %v, %v", s.Intensity, h, err)
		}
		if y, err := a.LactateAt(s.Intensity); err != nil || y != a.Curve.Predict(s.Intensity) {
			t.Errorf("lactate at %v: %v, %v", s.Intensity, y, err)
		}
	}
	l := fitHearts(t, january(), lactate.HeartRateOptions{})
	for _, x := range []float64{l.Lowest, l.Highest} {
		h, err := l.Mean(x)
		if err != nil {
			t.Fatal(err)
		}
		if back, err := l.Intensity(h.Value); err != nil || !(math.Abs(back.Value-x) <= 1e-12) {
			t.Errorf("intensity of %v: %v, %v", h.Value, back, err)
		}
	}
	// Two stages of one intensity at either end are two intensities with the third.
	for _, xs := range [][]float64{{1, 1, 2}, {1, 2, 2}} {
		if _, err := lactate.FitHeartRate(hearts(xs, []float64{120, 122, 150}), lactate.HeartRateOptions{}); err != nil {
			t.Errorf("%v: %v", xs, err)
		}
	}
	test := january()
	test.Recovery = []lactate.RecoverySample{{After: 0, Lactate: 9}, {After: time.Minute, Lactate: 10}}
	if err := test.Check(); err != nil {
		t.Errorf("a sample at once: %v", err)
	}
	test.Rest = -1
	if err := test.Check(); err == nil || strings.Contains(err.Error(), "recovery") {
		t.Errorf("a sample at once, beside a fault: %v", err)
	}
}

// D: a rise that a stage at or before the curve's minimum has is none.
func TestObservedRiseAfterTheMinimum(t *testing.T) {
	dip := ramp(4.6, 1.2, 1.0, 1.1, 1.4, 2.6, 5.8)
	c := fitted(t, new(curve.Polynomial), dip)
	m := lactate.ObservedRise{}
	x, err := m.Locate(dip, c)
	if low, y := c.(*curve.Polynomial).Minimum(1.1, 1.4); err != nil || !(low > 1.1) || !(y+1 < 4.6) || x != 1.35 && x != 1.4 {
		t.Errorf("%v, %v; the curve is lowest at %v: %v", x, err, low, y)
	}
	// On an exponential the minimum is the first stage itself.
	high := ramp(2.8, 1.0, 1.1, 1.3, 1.8, 4.0, 8.0)
	if x, err := m.Locate(high, fitted(t, new(curve.Exponential), high)); err != nil || x != 1.35 {
		t.Errorf("%v, %v", x, err)
	}
}

// D: a flat lactate minimum test is no minimum, and one at an end is not reached.
func TestLactateMinimumEdges(t *testing.T) {
	for _, c := range []struct {
		ys   []float64
		want error
		says string
	}{
		{[]float64{2, 2, 2}, lactate.ErrShape, ""},
		{[]float64{1, 2, 5}, lactate.ErrNotReached, "below"},
		{[]float64{5, 2, 1}, lactate.ErrNotReached, "above"},
		{[]float64{2, 1, 2}, nil, ""},
	} {
		test := lactate.LactateMinimumTest{Stages: stages([]float64{1, 2, 3}, c.ys).Stages}
		p, err := lactate.LactateMinimum(test)
		if !errors.Is(err, c.want) || err != nil && !strings.Contains(err.Error(), c.says) || err == nil && p.Intensity != 2 {
			t.Errorf("%v: %+v, %v", c.ys, p, err)
		}
	}
	for raised, want := range map[float64]error{1: lactate.ErrShape, 1.01: nil} {
		_, err := lactate.LactateMinimum(lactate.LactateMinimumTest{
			Raised: []lactate.RecoverySample{{After: time.Minute, Lactate: raised}}, Stages: stages([]float64{1, 2, 3}, []float64{2, 1, 2}).Stages})
		if !errors.Is(err, want) {
			t.Errorf("raised to %v: %v", raised, err)
		}
	}
}

// D: two log–log lines that are less steep than lactate in proportion to
// intensity still have a join.
func TestLogLogOfASlowRise(t *testing.T) {
	slow := sampled(func(x float64) float64 { return math.Max(1, math.Sqrt(x/1.2)) }, 1.05, 1.1, 1.15, 1.2, 1.25, 1.3, 1.35)
	located(t, lactate.LogLog{}, slow, nil, 1.2, 1e-9)
}

// D: resting lactate below 1 mmol/L has its share in an interval: with noise in
// the resting sample and next to none in the stages, a level above rest moves by
// the slope's share of it.
func TestRestIsResampled(t *testing.T) {
	test := january()
	test.Rest = 0.9
	for i := range test.Stages { // on the curve itself
		test.Stages[i].Lactate = 0.95 + math.Exp(14*(test.Stages[i].Intensity-1.2))
	}
	width := func(m lactate.Method) float64 {
		a, err := lactate.Analyze(test, lactate.Options{LT1: m, Resamples: 400, Noise: lactate.Noise{Absolute: 0.1, Weight: math.Inf(1)}})
		if err != nil || a.LT1.Err != nil {
			t.Fatal(err, a.LT1.Err)
		}
		return a.LT1.Intensity.High - a.LT1.Intensity.Low
	}
	if fixed, rest := width(lactate.Fixed{Lactate: 1.9}), width(lactate.AboveBaseline{Rise: 1, From: lactate.RestingSample}); !(rest > 1.2*fixed) {
		t.Errorf("%v wide above rest, %v at the same level", rest, fixed)
	}
}

// constant is a definition with one answer.
type constant struct {
	name string
	at   float64
}

func (c constant) Locate(lactate.Test, lactate.Curve) (float64, error) { return c.at, nil }
func (c constant) String() string                                      { return c.name }

// Of readings that agree the first is named.
func TestSpreadNamesTheFirst(t *testing.T) {
	var entries []lactate.Entry
	for _, c := range []constant{{"a", 1.2}, {"b", 1.2}, {"c", 1.3}, {"d", 1.3}} {
		entries = append(entries, lactate.Entry{Method: c, Target: lactate.SecondThreshold})
	}
	p, err := lactate.SideBySide(january(), lactate.SideBySideOptions{Entries: entries, Unit: "m/s"})
	if err != nil {
		t.Fatal(err)
	}
	if s := p.Spread(lactate.SecondThreshold); s.Lowest.Method.String() != "a" || s.Highest.Method.String() != "c" {
		t.Errorf("%+v", s)
	}
}

// Stages are called by the numbers that they were given, not by their place in
// order of intensity.
func TestWarningsNumberAsGiven(t *testing.T) {
	xs := []float64{1.1, 1.15, 1.2, 1.25, 1.36, 1.34} // the last, all out, was slower than the one before
	test := stages(xs, []float64{1.2, 1.3, 1.7, 2.5, 7.6, 10.4})
	test.Stages = append(test.Stages[:2:2], append([]lactate.Stage{{Intensity: 1.18}}, test.Stages[2:]...)...) // a lost sample counts
	a, err := lactate.Analyze(test, lactate.Options{})
	if err != nil {
		t.Fatal(err)
	}
	var said []string
	for _, w := range a.Warnings {
		said = append(said, w.Text)
	}
	all := strings.Join(said, "\n")
	for _, want := range []string{
		"lactate falls from 10.4 to 7.6 mmol/L between stages 7 and 6",
		"stage 6, of the highest intensity, has less lactate (7.6 mmol/L) than stage 7 (10.4)",
	} {
		if !strings.Contains(all, want) {
			t.Errorf("%q is not in\n%s", want, all)
		}
	}
}

// D: a stage is warned about where the line of the others, worked out without it,
// misses it by its share of 5 % of Student's t, and by 2 /min at least; the last
// one below by 5 %, one-sided. Stages are numbered as given.
func TestHeartRateStraysByRefit(t *testing.T) {
	xs := []float64{1.2, 1.1, 1.15, 1.25, 1.3, 1.35} // the first two not in order
	noise := []float64{0.4, -0.5, 0.3, -0.6, 0.5, -0.1}
	for _, where := range []int{0, 2, 5} {
		for k := -60; k <= 60; k++ {
			hs := make([]float64, len(xs))
			for i, x := range xs {
				hs[i] = 120 + 200*(x-1.1) + noise[i]
			}
			hs[where] += float64(k) / 10
			l := fitHearts(t, hearts(xs, hs), lactate.HeartRateOptions{})
			said := ""
			for _, w := range l.Warnings {
				said += w.Text + "\n"
			}
			for i := range xs {
				off, ratio, n := deleted(xs, hs, i)
				dist := distuv.StudentsT{Sigma: 1, Nu: n - 3}
				flat := i == 5 && ratio < dist.Quantile(0.05)
				stray := !flat && math.Abs(ratio) > dist.Quantile(1-0.05/2/n)
				enough := math.Abs(off) >= 2
				if got := strings.Contains(said, "flattens"); i == 5 && got != (flat && enough) {
					t.Fatalf("stage 6 off by %v, ratio %v: %q", off, ratio, said)
				}
				side := map[bool]string{true: "below", false: "above"}[off < 0]
				text := fmt.Sprintf("stage %d has a heart rate of %.0f /min, %.0f %s the line", i+1, hs[i], math.Abs(off), side)
				if strings.Contains(said, text) != (stray && enough) {
					t.Fatalf("stage %d off by %v, ratio %v: %q", i+1, off, ratio, said)
				}
			}
		}
	}
}

// deleted returns how far a reading lies from the line of the others, and that in
// its standard errors.
func deleted(xs, hs []float64, without int) (off, ratio, n float64) {
	var x, y []float64
	for i := range xs {
		if i != without {
			x, y = append(x, xs[i]), append(y, hs[i])
		}
	}
	a, b := stat.LinearRegression(x, y, nil, false)
	rss := 0.0
	for i := range x {
		r := y[i] - a - b*x[i]
		rss += r * r
	}
	m := float64(len(x))
	mean, variance := stat.PopMeanVariance(x, nil)
	d := xs[without] - mean
	off = hs[without] - a - b*xs[without]
	return off, off / math.Sqrt(rss/(m-2)*(1+1/m+d*d/(m*variance))), m + 1
}

// Four stages are enough to see a last heart rate that flattens, also where it lies
// far from the others; of two fastest ones neither is the last.
func TestHeartRateFlattens(t *testing.T) {
	for _, c := range []struct {
		name   string
		xs, hs []float64
		want   lactate.WarningKind
	}{
		{"four stages", []float64{1.1, 1.2, 1.3, 1.4}, []float64{120, 130, 140.01, 141}, lactate.HeartRateFlattens},
		{"the last far away", []float64{1, 1.01, 1.02, 3}, []float64{120, 121, 122, 170}, lactate.HeartRateFlattens},
		{"two fastest", []float64{1.1, 1.2, 1.3, 1.35, 1.4, 1.4}, []float64{120, 130, 140.01, 145, 150, 141}, lactate.HeartRateStrays},
	} {
		l := fitHearts(t, hearts(c.xs, c.hs), lactate.HeartRateOptions{})
		for _, kind := range []lactate.WarningKind{lactate.HeartRateFlattens, lactate.HeartRateStrays} {
			if has(l.Warnings, kind) != (kind == c.want) {
				t.Errorf("%s: %v, want %q", c.name, l.Warnings, c.want)
			}
		}
	}
	// The last stage is the fastest, however slow.
	l := fitHearts(t, hearts([]float64{0.6, 0.7, 0.8, 0.9}, []float64{120, 130, 140, 141}), lactate.HeartRateOptions{WithoutLast: true})
	if l.Stages != 3 || l.Highest != 0.8 {
		t.Errorf("without the last: %+v", l)
	}
}

// D: power rises at a rate far below 1 per W, and compares as speed does.
func TestCompareWatts(t *testing.T) {
	watts := func(test lactate.Test) lactate.Test {
		return mapped(test, func(x float64) float64 { return 200 * x }, same)
	}
	speed, err := lactate.Compare(january(), march(), lactate.Options{})
	if err != nil {
		t.Fatal(err)
	}
	power, err := lactate.Compare(watts(january()), watts(march()), lactate.Options{})
	if err != nil || !(power.Rate < 1) {
		t.Fatal(power, err)
	}
	close2(t, "shift", power.Shift.Value, 200*speed.Shift.Value, 1e-6)
	close2(t, "standard error", power.Measured.StandardError, 200*speed.Measured.StandardError, 1e-6)
}

// D: a comparison reads its first test as Analyze does, draws and all.
func TestCompareReadsAsAnalyze(t *testing.T) {
	o := lactate.Options{Resamples: 100, Seed: 3}
	a, err := lactate.Analyze(january(), o)
	if err != nil {
		t.Fatal(err)
	}
	c, err := lactate.Compare(january(), march(), o)
	if err != nil || c.Before.LT1.Intensity != a.LT1.Intensity || c.Before.LT2.Intensity != a.LT2.Intensity {
		t.Errorf("%v, %v and %v, %v: %v", c.Before.LT1.Intensity, c.Before.LT2.Intensity, a.LT1.Intensity, a.LT2.Intensity, err)
	}
	// One resample is one.
	o.Resamples = 1
	if a, err = lactate.Analyze(january(), o); err != nil || !a.LT2.Intensity.HasInterval() {
		t.Errorf("one resample: %v, %v", a.LT2.Intensity, err)
	}
	if c, err = lactate.Compare(january(), march(), o); err != nil || !c.Levels[0].LactateChange.HasInterval() {
		t.Errorf("one resample: %v, %v", c.Levels, err)
	}
	three := january()
	three.Stages = three.Stages[3:]
	for n, want := range map[int]bool{0: false, 1: true} {
		a, err := lactate.Analyze(three, lactate.Options{Resamples: n, Noise: lactate.Noise{Absolute: 0.2, Weight: -1}})
		if err != nil || has(a.Warnings, lactate.NoScale) != want {
			t.Errorf("%d resamples without a scale: %v, %v", n, a.Warnings, err)
		}
	}
	if _, err := lactate.PooledNoise(lactate.Noise{Absolute: 0.2, Weight: -1}, three); !errors.Is(err, lactate.ErrTooFewStages) {
		t.Errorf("nothing to pool: %v", err)
	}
	// The most resamples are allowed, one more is not.
	for n, want := range map[int]bool{1_000_000: false, 1_000_001: true} {
		if _, err := lactate.Analyze(lactate.Test{}, lactate.Options{Resamples: n}); strings.Contains(err.Error(), "Resamples") != want {
			t.Errorf("%d resamples: %v", n, err)
		}
	}
}

// Noise in lactate is needed, of any kind; a watch alone is none.
func TestNoiseOfSomeKind(t *testing.T) {
	for n, want := range map[lactate.Noise]bool{
		{Timing: time.Second}: true, {Absolute: 1}: false, {Relative: 0.03}: false, {Resolution: 0.1}: false,
	} {
		_, err := lactate.Analyze(january(), lactate.Options{Noise: n})
		if (err != nil) != want || want && !strings.Contains(err.Error(), "no lactate error at all") {
			t.Errorf("%+v: %v", n, err)
		}
	}
}

// Limits of a test: the largest numbers, the slightest fall, a definition that
// answers with the ends of the tested range.
func TestLimits(t *testing.T) {
	most := lactate.Stage{Intensity: math.MaxFloat64, Lactate: math.MaxFloat64, HeartRate: math.MaxFloat64}
	if err := (lactate.Test{Rest: math.MaxFloat64, Stages: []lactate.Stage{most}}).Check(); err != nil {
		t.Errorf("the largest numbers: %v", err)
	}
	if b, err := json.Marshal(lactate.Estimate{Value: math.MaxFloat64, Low: math.NaN(), High: math.NaN()}); err != nil || !strings.Contains(string(b), "e+308") {
		t.Errorf("%s, %v", b, err)
	}
	if _, err := lactate.Analyze(ramp(2, 1.99, 1.98, 1.97, 1.96), lactate.Options{}); !errors.Is(err, lactate.ErrNotRising) {
		t.Errorf("falls by 0.04: %v", err)
	}
	for _, x := range []float64{1.10, 1.36} {
		a, err := lactate.Analyze(january(), lactate.Options{LT2: constant{"at an end", x}})
		if err != nil || a.LT2.Err != nil || a.LT2.Intensity.Value != x {
			t.Errorf("at %v: %v, %v", x, a.LT2, err)
		}
	}
}

// D: the tangent from the recovery, against a search of a hundred thousand
// places: early, and between the last two stages.
func TestRecoveryTangentByGrid(t *testing.T) {
	for back, last := range map[time.Duration]bool{15 * time.Second: true, 4 * time.Minute: false} {
		test := january()
		for i := range test.Stages {
			test.Stages[i].Duration = 5 * time.Minute
		}
		c := fitted(t, new(curve.Exponential), test)
		end := c.Predict(1.36)
		// Back at the value at the end exactly at the last sample, which is enough.
		test.Recovery = []lactate.RecoverySample{{After: back / 2, Lactate: 12}, {After: back, Lactate: end}}
		x, err := lactate.RecoveryTangent{}.Locate(test, c)
		if err != nil {
			t.Fatal(err)
		}
		best, at := math.Inf(1), 0.0
		for i := range 100_001 {
			s := 300 + 1500*float64(i)/100_000 // seconds, over five gaps between stages
			k := min(int(s/300)-1, 4)
			a, b := test.Stages[k].Intensity, test.Stages[k+1].Intensity
			v := a + (b-a)*(s/300-float64(k+1))
			if f := (c.Predict(v) - end) / (1800 + back.Seconds() - s); f < best {
				best, at = f, v
			}
		}
		if !(math.Abs(x-at) <= 1e-5) || (x > 1.30) != last {
			t.Errorf("back after %v: %v, by search %v", back, x, at)
		}
	}
	// Samples above the last stage's own, but not above the curve's end: lactate
	// was never back, since it was never above.
	below := january()
	c := fitted(t, new(curve.Exponential), below)
	end := c.Predict(1.36)
	for i := range below.Stages {
		below.Stages[i].Duration = time.Minute
	}
	below.Stages[5].Lactate = end - 0.5
	below.Recovery = []lactate.RecoverySample{{After: time.Minute, Lactate: end - 0.2}, {After: 2 * time.Minute, Lactate: end - 0.3}}
	if x, err := (lactate.RecoveryTangent{}).Locate(below, c); !errors.Is(err, lactate.ErrShape) {
		t.Errorf("%v, %v", x, err)
	}
	missing := january()
	for i := range missing.Stages {
		missing.Stages[i].Duration = time.Minute
	}
	missing.Stages[0].Duration = 0
	if _, err := (lactate.RecoveryTangent{}).Locate(missing, fitted(t, new(curve.Exponential), missing)); err == nil || !strings.Contains(err.Error(), "stage 1 ") {
		t.Errorf("%v", err)
	}
}

// D: the peak may be the sample of the last stage, of a test below 1 m/s and of
// two stages of one intensity, the second lost.
func TestPeakAtTheEnd(t *testing.T) {
	for _, s := range [][]lactate.Stage{
		{{Intensity: 0.8, Lactate: 2}, {Intensity: 0.9, Lactate: 8}},
		{{Intensity: 1.2, Lactate: 2}, {Intensity: 1.3, Lactate: 8}, {Intensity: 1.3}},
		{{Intensity: 1.2, Lactate: 2}, {Intensity: 1.3}, {Intensity: 1.3, Lactate: 8}},
	} {
		p, err := lactate.PeakLactate(lactate.Test{Stages: s, Recovery: []lactate.RecoverySample{{After: time.Minute, Lactate: 7}}})
		if err != nil || p != (lactate.Peak{Lactate: 8, Passed: true}) {
			t.Errorf("%v: %+v, %v", s, p, err)
		}
	}
	// A last stage without a sample has no say.
	p, err := lactate.PeakLactate(lactate.Test{
		Stages:   []lactate.Stage{{Intensity: 1, Lactate: 9}, {Intensity: 1.3}},
		Recovery: []lactate.RecoverySample{{After: time.Minute, Lactate: 7}},
	})
	if err != nil || p.Lactate != 7 || p.Passed {
		t.Errorf("%+v, %v", p, err)
	}
}

// uneven is in proportion to intensity, but for the last bit.
type uneven struct{ bare }

func (uneven) Predict(x float64) float64 { return 0.1*x + 0.2*x }

// D: lactate in proportion to intensity has no lowest equivalent, and none is found
// in the last bit of the numbers.
func TestFlatEquivalent(t *testing.T) {
	if _, err := (lactate.LowestLactateEquivalent{}).Locate(january(), uneven{}); !errors.Is(err, lactate.ErrShape) || !strings.Contains(err.Error(), "as low at an end") {
		t.Errorf("uneven: %v", err)
	}
	test := sampled(func(x float64) float64 { return 2 * x }, 1, 1.25, 1.5, 1.75, 2)
	x, err := lactate.LowestLactateEquivalent{}.Locate(test, bare{fitted(t, &curve.Polynomial{Degree: 1}, test)})
	if !errors.Is(err, lactate.ErrShape) {
		t.Errorf("%v, %v", x, err)
	}
}

// More warnings, just on either side of their limits.
func TestMoreWarningLimits(t *testing.T) {
	square := func(k float64) lactate.Test { // dips by 0.0025·k from 1.10 to 1.15
		return sampled(func(x float64) float64 { return 1 + k*(x-1.15)*(x-1.15) }, 1.1, 1.15, 1.2, 1.25, 1.3, 1.36)
	}
	parabola := func() lactate.Curve { return &curve.Polynomial{Degree: 2} }
	wrong := january()
	wrong.Stages[3].Lactate = 5
	four := wrong
	four.Stages = wrong.Stages[2:]
	for _, c := range []struct {
		name string
		test lactate.Test
		o    lactate.Options
		kind lactate.WarningKind
		want bool
	}{
		{"last equals the one before", ramp(1, 1.1, 1.3, 1.9, 8.2, 8.2), lactate.Options{}, lactate.NotMaximal, false},
		{"falls to the lowest", ramp(1.6, 1.2, 1.5, 1.2, 3, 8), lactate.Options{}, lactate.LactateFell, true},
		{"dips by 0.06", square(24), lactate.Options{Curve: parabola}, lactate.CurveDips, true},
		{"dips by 0.04", square(16), lactate.Options{Curve: parabola}, lactate.CurveDips, false},
		{"bends a little", ramp(1, 2.3, 3.65, 5.05, 6.5, 8), lactate.Options{Curve: parabola}, lactate.CurveUnbent, false},
		{"wrong sample", wrong, lactate.Options{}, lactate.CurveMisses, true},
		{"wrong sample, little weight", wrong, lactate.Options{Noise: lactate.Noise{Absolute: 0.2, Weight: 0.5}}, lactate.CurveMisses, true},
		{"wrong sample, no weight", wrong, lactate.Options{Noise: lactate.Noise{Absolute: 0.2, Weight: -1}}, lactate.CurveMisses, false},
		{"wrong sample of four", four, lactate.Options{}, lactate.CurveMisses, true},
	} {
		a, err := lactate.Analyze(c.test, c.o)
		if err != nil || has(a.Warnings, c.kind) != c.want {
			t.Errorf("%s: %v, %v", c.name, a, err)
		}
	}
}
