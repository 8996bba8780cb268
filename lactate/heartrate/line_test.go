package heartrate_test

import (
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/heartrate"
	"example.com/steptest/testdata/reference"
)

// hearts makes a test of intensities and heart rates alone.
func hearts(xs, hs []float64) lactate.Test {
	var t lactate.Test
	for i := range xs {
		t.Stages = append(t.Stages, lactate.Stage{Intensity: xs[i], HeartRate: hs[i]})
	}
	return t
}

func fitHearts(t testing.TB, test lactate.Test, o heartrate.Options) *heartrate.Line {
	t.Helper()
	l, err := heartrate.Fit(test, o)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// heartsAgree compares up to an absolute tolerance; equal infinities and two NaN are
// the same.
func heartsAgree(got, want, tol float64) bool {
	return got == want || math.IsNaN(got) && math.IsNaN(want) || math.Abs(got-want) <= tol
}

func sameEstimate(t testing.TB, what string, got, want lactate.Estimate, tol float64) {
	t.Helper()
	if !heartsAgree(got.Value, want.Value, tol) || !heartsAgree(got.Low, want.Low, tol) || !heartsAgree(got.High, want.High, tol) {
		t.Errorf("%s: got %v, want %v ± %g", what, got, want, tol)
	}
}

func heartRateTests(t testing.TB) map[string]lactate.Test {
	tests := referenceTests(t)
	for _, row := range reference.Rows(t, "heart-rate.csv") {
		test := tests[row["test"]]
		test.Stages = append(test.Stages, lactate.Stage{Intensity: reference.Number(t, row["intensity"]), HeartRate: reference.Number(t, row["heart_rate"])})
		tests[row["test"]] = test
	}
	return tests
}

// Evidence C: R 4.2.2, lm and predict(interval = "prediction" and
// "confidence"); the inverse by uniroot on the ends of the prediction
// interval; flattening and straying stages by rstudent; two tests by
// lm(heart_rate ~ after*intensity). Ten significant digits.
func TestHeartRateReference(t *testing.T) {
	tests := heartRateTests(t)
	seen := map[string]int{}
	warned := map[string]string{} // by R
	for _, row := range reference.Rows(t, "heart-rate-expected.csv") {
		name, quantity := row["test"], row["quantity"]
		seen[quantity]++
		var conf, at float64
		if row["confidence"] != "" {
			conf = reference.Number(t, row["confidence"])
		}
		if row["at"] != "" {
			at = reference.Number(t, row["at"])
		}
		want := lactate.Estimate{Value: reference.Number(t, row["value"])}
		if row["low"] != "" {
			want.Low, want.High = reference.Number(t, row["low"]), reference.Number(t, row["high"])
		}
		o := heartrate.Options{Confidence: conf}
		what := strings.Join([]string{name, quantity, row["at"], row["confidence"]}, " ")
		if pair := strings.Split(name, "-"); len(pair) == 2 {
			c, err := heartrate.Compare(fitHearts(t, tests[pair[0]], o), fitHearts(t, tests[pair[1]], o), at, o)
			if err != nil {
				t.Errorf("%s: %v", what, err)
				continue
			}
			got := c.Measured
			if quantity == "change_between_days" {
				got = c.BetweenDays // with the default of 3 /min, as in R
			}
			sameEstimate(t, what, got, want, 1e-8*200)
			continue
		}
		l := fitHearts(t, tests[name], o)
		var got lactate.Estimate
		var err error
		tol := 1e-8 * 200 // heart rates of up to 200
		switch quantity {
		case "intercept":
			got, tol = lactate.Estimate{Value: l.Intercept}, 1e-9*math.Abs(want.Value)
		case "slope":
			got, tol = lactate.Estimate{Value: l.Slope}, 1e-9*math.Abs(want.Value)
		case "residual_error":
			got, tol = lactate.Estimate{Value: l.ResidualError}, 1e-9*math.Abs(want.Value)
		case "prediction":
			got, err = l.HeartRate(at)
		case "mean":
			got, err = l.Mean(at)
		case "inverse":
			got, err = l.Intensity(at)
			tol = 1e-8 * want.Value
		case "flattens", "strays":
			warned[name] += "heart rate " + quantity + " "
			continue
		default:
			t.Fatalf("%s: an unknown quantity", what)
		}
		if err != nil {
			t.Errorf("%s: %v", what, err)
			continue
		}
		sameEstimate(t, what, got, want, tol)
	}
	for _, q := range []string{"intercept", "prediction", "mean", "inverse", "change", "change_between_days", "flattens", "strays"} {
		if seen[q] == 0 {
			t.Errorf("no row of %s", q)
		}
	}
	for name, test := range tests {
		got := ""
		for _, w := range fitHearts(t, test, heartrate.Options{}).Warnings {
			got += string(w.Kind) + " "
		}
		if got != warned[name] {
			t.Errorf("%s: warnings %q, by R %q", name, got, warned[name])
		}
	}
}

// Evidence B: NIST/ITL Norris, certified slope, intercept and residual
// standard deviation, as if x were a speed and y a heart rate.
func TestHeartRateNorris(t *testing.T) {
	l := fitHearts(t, hearts(reference.Column(t, "nist-norris.csv", "x"), reference.Column(t, "nist-norris.csv", "y")), heartrate.Options{})
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"intercept", l.Intercept, -0.262323073774029},
		{"slope", l.Slope, 1.00211681802045},
		{"residual standard deviation", l.ResidualError, 0.884796396144373},
	} {
		if !(math.Abs(c.got-c.want) <= 1e-11*math.Abs(c.want)) {
			t.Errorf("%s: got %.15g, certified %.15g", c.what, c.got, c.want)
		}
	}
}

// Evidence D: x = 1, 2, 3 and y = 101, 102, 104 have the line 99⅓ + 1.5x and
// the residuals 1/6, −1/3, 1/6: s² = 1/6 with one degree of freedom, for which
// Student's t at 50 % two-sided is tan(π/4) = 1. So at x = 2 the reading lies
// within √(1/6·4/3) and the line within √(1/18); x for y at the mean within
// √(1/6·4/3)/√(1.5² − 1/12) · 1.5/1.5 of 2, by Fieller.
func TestHeartRateByHand(t *testing.T) {
	l := fitHearts(t, hearts([]float64{3, 1, 2}, []float64{104, 101, 102}), heartrate.Options{Confidence: 0.5})
	mean := 307. / 3
	for _, c := range []struct {
		what string
		read func(float64) (lactate.Estimate, error)
		at   float64
		half float64
		want float64
	}{
		{"reading", l.HeartRate, 2, math.Sqrt(1. / 6 * 4 / 3), mean},
		{"line", l.Mean, 2, math.Sqrt(1. / 18), mean},
		{"reading at the end", l.HeartRate, 3, math.Sqrt(1. / 6 * (1 + 1./3 + 1./2)), mean + 1.5},
		// a = b² − s²/Sxx; half-width s·√(a(1 + 1/n))/a
		{"intensity", l.Intensity, mean, math.Sqrt(1./6*4/3) / math.Sqrt(2.25-1./12), 2},
	} {
		got, err := c.read(c.at)
		if err != nil {
			t.Fatal(err)
		}
		sameEstimate(t, c.what, got, lactate.Estimate{Value: c.want, Low: c.want - c.half, High: c.want + c.half}, 1e-12)
	}
	if w := l.Warnings; len(w) != 1 || w[0].Kind != heartrate.WarnFewStages {
		t.Errorf("warnings %v, want that three are few", w)
	}
}

// Evidence D: without the last stage the line is that of the others, and ends
// with them.
func TestHeartRateWithoutLast(t *testing.T) {
	test := heartRateTests(t)["F1"]
	slices.Reverse(test.Stages)
	l := fitHearts(t, test, heartrate.Options{WithoutLast: true})
	others := fitHearts(t, lactate.Test{Stages: test.Stages[1:]}, heartrate.Options{})
	if l.Slope != others.Slope || l.Highest != 1.28 || len(l.Warnings) != 0 {
		t.Errorf("got %+v, want %+v", l, others)
	}
	if _, err := l.HeartRate(1.36); !errors.Is(err, lactate.ErrOutsideRange) {
		t.Errorf("at the stage left out: %v, want ErrOutsideRange", err)
	}
	// Where the last stage has no heart rate, nothing more is left out.
	test.Stages[0].HeartRate = 0
	if got := fitHearts(t, test, heartrate.Options{WithoutLast: true}); got.Stages != 6 {
		t.Errorf("%d stages, want 6", got.Stages)
	}
}

func TestHeartRateOutside(t *testing.T) {
	l := fitHearts(t, heartRateTests(t)["F1"], heartrate.Options{})
	for _, x := range []float64{0, 1.02, 1.37, -1, math.NaN(), math.Inf(1)} {
		for _, read := range []func(float64) (lactate.Estimate, error){l.HeartRate, l.Mean} {
			e, err := read(x)
			var r *lactate.OutsideRangeError
			if !errors.Is(err, lactate.ErrOutsideRange) || !errors.As(err, &r) || r.Highest != 1.36 || !math.IsNaN(e.Value) {
				t.Errorf("at %v: %v, %v, want ErrOutsideRange", x, e, err)
			}
		}
		if _, err := heartrate.Compare(l, l, x, heartrate.Options{}); !errors.Is(err, lactate.ErrOutsideRange) {
			t.Errorf("change at %v: %v, want ErrOutsideRange", x, err)
		}
	}
	for _, h := range []float64{90, 190, math.NaN(), math.Inf(-1)} {
		if e, err := l.Intensity(h); !errors.Is(err, lactate.ErrOutsideRange) || !math.IsNaN(e.Value) {
			t.Errorf("at %v /min: %v, %v, want ErrOutsideRange", h, e, err)
		}
	}
	_, err := l.Intensity(190) // the ends of the line, by R: 114.4, 176.8
	if want := "lactate: heart rate: found 190 /min, outside the tested range, want 114.4 to 176.8 /min"; err.Error() != want {
		t.Errorf("got %q, want %q", err, want)
	}
}

func TestHeartRateErrors(t *testing.T) {
	speeds := []float64{1, 1.1, 1.2, 1.3}
	for _, c := range []struct {
		name string
		test lactate.Test
		o    heartrate.Options
		want error  // nil: any
		text string // part of it
	}{
		{"no stages", lactate.Test{}, heartrate.Options{}, lactate.ErrTooFewStages, "found 0"},
		{"no heart rates", hearts(speeds, make([]float64, 4)), heartrate.Options{}, lactate.ErrTooFewStages, "found 0"},
		{"two heart rates", hearts(speeds, []float64{0, 120, 0, 140}), heartrate.Options{}, lactate.ErrTooFewStages, "found 2"},
		{"two without the last", hearts(speeds[:3], []float64{110, 120, 130}), heartrate.Options{WithoutLast: true}, lactate.ErrTooFewStages, "found 2"},
		{"one intensity", hearts([]float64{1, 1, 1}, []float64{110, 120, 130}), heartrate.Options{}, lactate.ErrTooFewStages, "one intensity"},
		{"pace for speed", hearts([]float64{90, 85, 80, 75}, []float64{110, 120, 130, 140}), heartrate.Options{}, heartrate.ErrNotRising, "pace"},
		{"level", hearts(speeds, []float64{120, 120, 120, 120}), heartrate.Options{}, heartrate.ErrNotRising, ""},
		{"not a number", hearts(speeds, []float64{110, math.NaN(), 130, -1}), heartrate.Options{}, nil, "stage 4"},
		{"confidence", hearts(speeds, []float64{110, 120, 130, 140}), heartrate.Options{Confidence: 90}, nil, "found 90"},
		{"day to day", hearts(speeds, []float64{110, 120, 130, 140}), heartrate.Options{DayToDay: math.NaN()}, nil, "DayToDay"},
		{"too large", hearts([]float64{1e300, 2e300, 3e300}, []float64{1, 2, 3}), heartrate.Options{}, nil, "too large"},
	} {
		l, err := heartrate.Fit(c.test, c.o)
		if l != nil || err == nil || c.want != nil && !errors.Is(err, c.want) || !strings.Contains(err.Error(), c.text) {
			t.Errorf("%s: got %v, %v", c.name, l, err)
		}
	}
	var zero heartrate.Line
	for _, read := range []func(float64) (lactate.Estimate, error){zero.HeartRate, zero.Mean, zero.Intensity} {
		if _, err := read(0); err == nil {
			t.Error("the zero line answers")
		}
	}
	if _, err := heartrate.Compare(nil, &zero, 0, heartrate.Options{}); err == nil {
		t.Error("nothing is compared")
	}
}

// Where the readings scatter so much that the slope could be zero, the
// intensity is open on both sides; JSON leaves the ends out.
func TestHeartRateOpen(t *testing.T) {
	l := fitHearts(t, hearts([]float64{1, 1.1, 1.2, 1.3}, []float64{120, 150, 110, 145}), heartrate.Options{})
	e, err := l.Intensity(130)
	if err != nil || !math.IsInf(e.Low, -1) || !math.IsInf(e.High, 1) {
		t.Errorf("got %v, %v, want an interval open on both sides", e, err)
	}
	for _, v := range []any{e, l} {
		if b, err := json.Marshal(v); err != nil || strings.Contains(string(b), "low\":null") {
			t.Errorf("JSON %s, %v", b, err)
		}
	}
	c, err := heartrate.Compare(l, l, 1.1, heartrate.Options{})
	if err != nil || c.Measured.Value != 0 {
		t.Errorf("a line against itself: %v, %v", c, err)
	}
	if b, err := json.Marshal(c); err != nil {
		t.Errorf("JSON %s, %v", b, err)
	}
}

// drawHearts draws a plausible test.
func drawHearts(t *rapid.T) lactate.Test {
	n := rapid.IntRange(3, 9).Draw(t, "stages")
	var test lactate.Test
	x := rapid.Float64Range(0.5, 300).Draw(t, "first")
	step := x * rapid.Float64Range(0.01, 0.1).Draw(t, "step")
	for range n {
		test.Stages = append(test.Stages, lactate.Stage{Intensity: x, HeartRate: math.Round(rapid.Float64Range(60, 200).Draw(t, "heart rate"))})
		x += step * rapid.Float64Range(0.5, 2).Draw(t, "gap")
	}
	return test
}

// Property: an intensity lies in the interval for a heart rate exactly where
// the heart rate lies in the prediction interval at that intensity.
func TestHeartRateIntervalsAreOneRegion(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, err := heartrate.Fit(drawHearts(t), heartrate.Options{})
		if err != nil {
			return
		}
		lo, _ := l.Mean(l.Lowest)
		hi, _ := l.Mean(l.Highest)
		f := rapid.Float64Range(0.001, 0.999)
		h := lo.Value + f.Draw(t, "share of heart rates")*(hi.Value-lo.Value)
		x := l.Lowest + f.Draw(t, "share of intensities")*(l.Highest-l.Lowest)
		in, err := l.Intensity(h)
		if err != nil {
			t.Fatal(err)
		}
		if math.IsInf(in.Low, -1) && math.IsInf(in.High, 1) {
			return // nothing is claimed
		}
		band, err := l.HeartRate(x)
		if err != nil {
			t.Fatal(err)
		}
		slack := 1e-9 * (hi.Value - lo.Value + band.High - band.Low)
		inside := in.Low <= x && x <= in.High
		if inside != (band.Low <= h && h <= band.High) && math.Abs(h-band.Low) > slack && math.Abs(h-band.High) > slack {
			t.Fatalf("%v in %v is %v, but %v in %v is not", x, in, inside, h, band)
		}
		// And back.
		y, err := l.HeartRate(in.Value)
		if err != nil || !heartsAgree(y.Value, h, 1e-9*h) {
			t.Fatalf("heart rate %v gives intensity %v gives heart rate %v, %v", h, in, y, err)
		}
	})
}

// Property: the unit of intensity and the order of stages do not matter.
func TestHeartRateUnits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		test := drawHearts(t)
		scale := rapid.Float64Range(0.01, 1000).Draw(t, "scale")
		other := lactate.Test{Stages: rapid.Permutation(test.Stages).Draw(t, "order")}
		for i := range other.Stages {
			other.Stages[i].Intensity *= scale
		}
		a, errA := heartrate.Fit(test, heartrate.Options{})
		b, errB := heartrate.Fit(other, heartrate.Options{})
		if (errA == nil) != (errB == nil) {
			if a != nil && a.Slope*a.Lowest < 1e-9 || b != nil && b.Slope*b.Lowest < 1e-9 {
				return // level but for rounding
			}
			t.Fatalf("%v, but scaled %v", errA, errB)
		}
		if errA != nil {
			return
		}
		x := a.Lowest + 0.4*(a.Highest-a.Lowest)
		ya, errA := a.HeartRate(x)
		yb, errB := b.HeartRate(x * scale)
		if errA != nil || errB != nil || !heartsAgree(ya.Value, yb.Value, 1e-6) || !heartsAgree(ya.Low, yb.Low, 1e-6) || !heartsAgree(ya.High, yb.High, 1e-6) {
			t.Fatalf("%v, %v, but scaled %v, %v", ya, errA, yb, errB)
		}
	})
}

// Evidence D: 90 % intervals hold what they are for in 90 of 100 simulated
// tests with normal scatter: the reading to come, the line, the intensity of a
// reading, the change between two tests. The tolerance is four standard errors
// of the count.
func TestHeartRateCoverage(t *testing.T) {
	const n = 4000
	rng := rand.New(rand.NewPCG(7, 7))
	xs := []float64{1.05, 1.1, 1.15, 1.2, 1.24, 1.3}
	truth := func(x float64) float64 { return 110 + 260*(x-1.05) }
	simulate := func() *heartrate.Line {
		hs := make([]float64, len(xs))
		for i, x := range xs {
			hs[i] = truth(x) + 2.5*rng.NormFloat64()
		}
		return fitHearts(t, hearts(xs, hs), heartrate.Options{})
	}
	held := map[string]int{}
	count := func(what string, e lactate.Estimate, err error, v float64) {
		if err != nil {
			t.Fatal(err)
		}
		if e.Low <= v && v <= e.High {
			held[what]++
		}
	}
	for range n {
		l, m := simulate(), simulate()
		x := 1.12 + 0.1*rng.Float64()
		reading := truth(x) + 2.5*rng.NormFloat64()
		e, err := l.HeartRate(x)
		count("reading", e, err, reading)
		e, err = l.Mean(x)
		count("line", e, err, truth(x))
		e, err = l.Intensity(reading)
		count("intensity", e, err, x)
		c, err := heartrate.Compare(l, m, x, heartrate.Options{})
		count("change", c.Measured, err, 0)
	}
	for what, k := range held {
		if got, tol := float64(k)/n, 4*math.Sqrt(0.9*0.1/n); !(math.Abs(got-0.9) <= tol) {
			t.Errorf("%s: held in %.3f, want 0.9 ± %.3f", what, got, tol)
		}
	}
	if len(held) != 4 {
		t.Errorf("held %v", held)
	}
}

func FuzzHeartRate(f *testing.F) {
	f.Add(1.0, 120.0, 1.1, 130.0, 1.2, 142.0, 1.15)
	f.Add(1e-300, 1e300, 2e-300, 1.0, 3e-300, 1e308, 2e-300)
	f.Fuzz(func(t *testing.T, x1, h1, x2, h2, x3, h3, at float64) {
		l, err := heartrate.Fit(hearts([]float64{x1, x2, x3}, []float64{h1, h2, h3}), heartrate.Options{})
		if err != nil {
			return
		}
		for _, read := range []func(float64) (lactate.Estimate, error){l.HeartRate, l.Mean, l.Intensity} {
			e, err := read(at)
			if err == nil && !(e.Low <= e.Value && e.Value <= e.High) {
				t.Errorf("at %v: %v", at, e)
			}
		}
		if _, err := json.Marshal(l); err != nil {
			t.Error(err)
		}
	})
}
