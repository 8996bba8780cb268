package lactate_test

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
)

// Errors and warnings count stages and tests from 1, and say what was found.
func TestWords(t *testing.T) {
	says := func(what string, err error, words ...string) {
		t.Helper()
		for _, w := range words {
			if err == nil || !strings.Contains(err.Error(), w) {
				t.Errorf("%s: %v does not say %q", what, err, w)
			}
		}
	}
	_, err := lactate.PooledNoise(lactate.Noise{}, january(), lactate.Test{}, march(), lactate.Test{})
	says("pooled noise", err, "test 2: ", "test 4: ", "found 0 with a lactate sample, want at least 3")
	untimed := fullTest()
	untimed.Stages[3].Duration = 0
	_, err = lactate.RecoveryTangent{}.Locate(untimed, &curve.Exponential{A: 1, B: 1e-6, C: 11})
	says("recovery tangent", err, "the duration of stage 4")
	_, err = lactate.FollowSeason([]lactate.DatedTest{
		{Date: time.Date(2025, 1, 6, 0, 0, 0, 0, time.UTC), Test: january()}, {Date: time.Date(2025, 3, 3, 0, 0, 0, 0, time.UTC)}, {Date: time.Date(2025, 5, 5, 0, 0, 0, 0, time.UTC)},
	}, lactate.CompareOptions{})
	says("season", err, "2025-03-03", "2025-05-05")
	_, err = lactate.Analyze(january(), lactate.Options{Methods: []lactate.Method{lactate.Fixed{}, nil}})
	says("options", err, "Methods[1]")
}

// A rise above the first stage, or the first two, is looked for from the next
// stage on; D: read off by hand.
func TestObservedRiseStartsAtTheNextStage(t *testing.T) {
	test := ramp(1, 2.1, 2.4, 3.3, 5, 9) // 1.10 to 1.35 m/s
	for _, c := range []struct {
		m    lactate.ObservedRise
		want float64
	}{
		{lactate.ObservedRise{Rise: 1, From: lactate.BaselineFirstStage}, 1.15},
		{lactate.ObservedRise{Rise: 1.1, From: lactate.BaselineFirstStage}, 1.15},
		{lactate.ObservedRise{Rise: 1.2, From: lactate.BaselineFirstStage}, 1.20},
		{lactate.ObservedRise{Rise: 0.85, From: lactate.BaselineFirstTwoStages}, 1.20}, // 1.55 + 0.85
		{lactate.ObservedRise{Rise: 0.3, From: lactate.BaselineFirstTwoStages}, 1.20},  // 2.1 is part of the baseline
		{lactate.ObservedRise{Rise: 1, From: lactate.BaselineLowestStage}, 1.15},
	} {
		if x, err := c.m.Locate(test, nil); err != nil || x != c.want {
			t.Errorf("%v: %v (%v), want %v", c.m, x, err, c.want)
		}
	}
	dips := ramp(1.6, 1.2, 1.2, 1.9, 2.3, 9)
	if x, err := (lactate.ObservedRise{Rise: 0.4, From: lactate.BaselineLowestStage}).Locate(dips, nil); err != nil || x != 1.25 {
		t.Errorf("above the lowest stage: %v (%v), want 1.25", x, err)
	}
}

// Where the first test has no LT2, shifts are expressed at the middle of its
// range; D.
func TestReferenceWithoutLT2(t *testing.T) {
	c := compared(t, january(), march(), lactate.CompareOptions{Options: lactate.Options{LT2: lactate.Fixed{Lactate: 20}}})
	if want := (1.10 + 1.36) / 2; !(math.Abs(c.Reference-want) <= 1e-12) {
		t.Errorf("reference %v, want %v", c.Reference, want)
	}
}

// A chord from the log–log point needs a stage above that point and below the
// last.
func TestLogLogMaxDistanceNeedsAStageBetween(t *testing.T) {
	spike := ramp(1.5, 1.5, 1.5, 1.5, 1.5, 1.5, 9) // the join is at the last but one
	if x, err := (lactate.LogLogMaxDistance{}).Locate(spike, fitted(t, new(curve.Polynomial), spike)); !errors.Is(err, lactate.ErrShape) || !strings.Contains(err.Error(), "no stage between") {
		t.Errorf("%v, %v", x, err)
	}
}

// Two tests of one day and a third: the trend is that of the ages; D: for a
// diagonal covariance it would be Σtδ/Σt², and the shifts of one day's tests
// count alike.
func TestSeasonAges(t *testing.T) {
	start := time.Date(2025, 1, 6, 0, 0, 0, 0, time.UTC)
	moved := func(by float64) lactate.Test {
		t := january()
		for i := range t.Stages {
			t.Stages[i].Intensity += by
		}
		return t
	}
	s, err := lactate.FollowSeason([]lactate.DatedTest{
		{Date: start.AddDate(0, 0, 56), Test: moved(0.02)}, {Date: start, Test: january()}, {Date: start.AddDate(0, 0, 84), Test: moved(0.03)},
	}, lactate.CompareOptions{})
	if err != nil {
		t.Fatal(err)
	}
	// 0.01 m/s every four weeks, exactly.
	if !(math.Abs(s.Trend.Shift.Value-0.01) <= 1e-6) {
		t.Errorf("trend %v, want 0.01", s.Trend.Shift.Value)
	}
	e, err := s.Expected(start.AddDate(0, 0, 140))
	if err != nil || !(math.Abs(e.Value-0.05) <= 4e-6) || !(e.Low < e.Value && e.Value < e.High) {
		t.Errorf("expected %v (%v), want 0.05", e, err)
	}
	// At the place of a test, a new test on another day is at least a day's
	// variation off.
	near, err := s.Expected(start.AddDate(0, 0, 84))
	if err != nil || !(near.High-near.Low < e.High-e.Low) {
		t.Errorf("near %v, far %v (%v)", near, e, err)
	}
}

// An open end stays open on its side in JSON and back.
func TestOpenEnds(t *testing.T) {
	for _, e := range []lactate.Estimate{{Value: 1, Low: math.Inf(-1), High: 2}, {Value: 1, Low: 0.5, High: math.Inf(1)}, {Value: 1, Low: math.Inf(-1), High: math.Inf(1)}, {Value: 1, Low: 0.5, High: 2}} {
		b, err := e.MarshalJSON()
		if err != nil {
			t.Fatal(err)
		}
		var back lactate.Estimate
		if err := back.UnmarshalJSON(b); err != nil || back != e {
			t.Errorf("%v: %s, %v (%v)", e, b, back, err)
		}
	}
}
