package lactate_test

import (
	"math"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
	"example.com/steptest/testdata/reference"
)

func referencePairs(t testing.TB) map[string][2]lactate.Test {
	pairs := map[string][2]lactate.Test{}
	for _, row := range reference.Rows(t, "retests.csv") {
		p := pairs[row["pair"]]
		i := int(reference.Number(t, row["after"]))
		p[i].Stages = append(p[i].Stages, lactate.Stage{Intensity: reference.Number(t, row["intensity"]), Lactate: reference.Number(t, row["lactate"])})
		pairs[row["pair"]] = p
	}
	return pairs
}

// C: three invented pairs, R 4.2.2 nls(lactate ~ a + b*exp(c*(x - shift*after))),
// see testdata/reference/README.md.
func TestReferenceRetests(t *testing.T) {
	pairs := referencePairs(t)
	for _, row := range reference.Rows(t, "retests-expected.csv") {
		id := row["pair"]
		c, err := lactate.Compare(pairs[id][0], pairs[id][1], lactate.CompareOptions{Options: lactate.Options{Curve: exponential}})
		if err != nil {
			t.Fatal(id, err)
		}
		within(t, id+" shift", c.Shift.Value, reference.Number(t, row["shift"]), 1e-6)
		within(t, id+" rate", c.Exponential.Rate, reference.Number(t, row["rate"]), 1e-6)
		within(t, id+" asymptote", c.Exponential.Asymptote, reference.Number(t, row["asymptote"]), 1e-6)
		within(t, id+" residual sum of squares", c.Exponential.RSS, reference.Number(t, row["residual_sum_of_squares"]), 1e-6)
		within(t, id+" standard error", c.Exponential.FitErrors[1], reference.Number(t, row["shift_standard_error"]), 1e-3)
		if got, want := c.Exponential.DegreesOfFreedom, int(reference.Number(t, row["degrees_of_freedom"])); got != want {
			t.Errorf("%s: %d degrees of freedom, want %d", id, got, want)
		}
	}
}

// D: a season of two tests is a comparison.
func TestSeasonOfTwoIsCompare(t *testing.T) {
	day := time.Date(2026, 1, 5, 0, 0, 0, 0, time.UTC)
	for id, p := range referencePairs(t) {
		c, err := lactate.Compare(p[0], p[1], lactate.CompareOptions{})
		if err != nil {
			t.Fatal(id, err)
		}
		s, err := lactate.FollowSeason([]lactate.DatedTest{{day.AddDate(0, 0, 42), p[1]}, {day, p[0]}}, lactate.CompareOptions{})
		if err != nil {
			t.Fatal(id, err)
		}
		if got := s.Tests[1]; got.Measured.Shift != c.Measured.Shift || got.BetweenDays.Shift != c.BetweenDays.Shift || got.BetweenDays.Probability != c.BetweenDays.Probability {
			t.Errorf("%s: season %+v, comparison %+v", id, got, c.Measured)
		}
		// Six weeks apart: the trend is the shift by 28/42.
		within(t, id+" trend", s.Trend.Shift.Value, c.Shift.Value*28/42, 1e-12)
		within(t, id+" its error", s.Trend.StandardError, c.BetweenDays.StandardError*28/42, 1e-12)
		e, err := s.Expected(day.AddDate(0, 0, 42))
		if err != nil {
			t.Fatal(err)
		}
		if !(math.Abs(e.Value-c.Shift.Value) <= c.BetweenDays.StandardError) || !(e.Low < e.Value && e.Value < e.High) {
			t.Errorf("%s: expected %+v at the second test's date, where the shift is %v", id, e, c.Shift.Value)
		}
	}
}

// D: on exponentials without noise a curve that moves right by 0.03 m/s, swum
// with the same stages, is a shift of 0.03 and no change of Dmax at all, which
// is warned of; a level of lactate moves by 0.03.
func TestDmaxDoesNotFollowAShift(t *testing.T) {
	on := func(shift float64) lactate.Test {
		e := curve.Exponential{A: 1, B: 7 * math.Exp(-14*(1.45+shift)), C: 14}
		return sampled(e.Predict, 1.10, 1.17, 1.24, 1.31, 1.38, 1.45)
	}
	warned := func(c *lactate.Change) bool { return has(c.Warnings, lactate.WarnEndsDecide) }
	o := lactate.Options{Curve: exponential, LT2: lactate.MaxDistance{}, Methods: []lactate.Method{lactate.Fixed{Lactate: 4}}}
	c := compared(t, on(0), on(0.03), lactate.CompareOptions{Options: o})
	near(t, "shift", c.Shift.Value, 0.03, 1e-9)
	near(t, "change of Dmax", c.Thresholds[1].Change.Value, 0, 1e-9)
	near(t, "change of 4 mmol/L", c.Thresholds[2].Change.Value, 0.03, 1e-9)
	if c.Measured.Grade != lactate.Faster || !warned(c) {
		t.Errorf("found %v and warnings %v", c.Measured.Grade, c.Warnings)
	}
	if same, err := lactate.Compare(on(0), on(0), lactate.CompareOptions{Options: o}); err != nil || warned(same) {
		t.Errorf("nothing moved: %v %v", same.Warnings, err)
	}
	start := time.Date(2026, 1, 5, 0, 0, 0, 0, time.UTC)
	s, err := lactate.FollowSeason([]lactate.DatedTest{{start, on(0)}, {start.AddDate(0, 0, 42), on(0)}, {start.AddDate(0, 0, 84), on(0.03)}}, lactate.CompareOptions{Options: o})
	if err != nil {
		t.Fatal(err)
	}
	if !has(s.Warnings, lactate.WarnEndsDecide) {
		t.Errorf("a season: %v", s.Warnings)
	}
	o.LT2 = lactate.Fixed{Lactate: 4}
	if level, err := lactate.Compare(on(0), on(0.03), lactate.CompareOptions{Options: o}); err != nil || warned(level) {
		t.Errorf("a level of lactate: %v %v", level.Warnings, err)
	}
}

// D: a level that only the second test reaches for sure: the pairs in which the
// first does not are counted, and those in which neither does are no difference.
func TestUnseenPairs(t *testing.T) {
	top := lactate.Fixed{Lactate: 6.75} // the fitted curve ends at about 6.8
	after := lactate.Test{}
	for _, s := range sixStages.Stages {
		s.Lactate += 0.02 // another test, near enough
		after.Stages = append(after.Stages, s)
	}
	c := compared(t, sixStages, after, lactate.CompareOptions{Options: lactate.Options{Curve: exponential, LT2: lactate.MaxDistance{}, Methods: []lactate.Method{top, lactate.Fixed{Lactate: 3}}, Resamples: 1000}})
	seen, sure := c.Thresholds[2], c.Thresholds[3]
	if before := c.Before.Thresholds[0].Beyond; seen.Err != nil || !(seen.Unseen > 0 && seen.Unseen < before) {
		t.Errorf("%d pairs unseen where the first test is beyond the range in %d: %v", seen.Unseen, before, seen.Err)
	}
	if sure.Err != nil || sure.Unseen != 0 {
		t.Errorf("3 mmol/L: %d pairs unseen, %v", sure.Unseen, sure.Err)
	}
}
