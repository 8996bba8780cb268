package forecast_test

import (
	"math"
	"slices"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/forecast"
)

// A spacing keeps to its rules and its ends, ascends, and claims what it has. D.
func TestSpace(t *testing.T) {
	for _, c := range []struct {
		n           int
		first, last time.Duration
		least       time.Duration
	}{{6, 350e9, 300e9, 0}, {5, 370e9, 296e9, 6e9}, {4, 345e9, 310e9, 1e9}} {
		p := even(c.n, c.first, c.last)
		s, err := forecast.Space(p, forecast.Expected{}, lactate.Options{}, forecast.Rules{Least: c.least})
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%v: LT1 %.3f, LT2 %.3f", seconds(s.Stages), s.LT1, s.LT2)
		least := max(c.least, 0)
		if least == 0 {
			least = 4 * time.Second
		}
		for i, st := range s.Stages {
			if st.Duration%time.Second != 0 || !(math.Abs(st.Intensity*st.Duration.Seconds()-400) <= 1e-9) {
				t.Errorf("stage %+v", st)
			}
			if i > 0 && s.Stages[i-1].Duration-st.Duration < least {
				t.Errorf("targets %v, want steps of %v or more", seconds(s.Stages), least)
			}
		}
		if s.Stages[0].Duration != p[0].Duration || s.Stages[c.n-1].Duration != p[c.n-1].Duration || !slices.Equal(s.Even, p) {
			t.Errorf("ends of %v, even %v", seconds(s.Stages), seconds(s.Even))
		}
		if s.AsGood && (s.LT1 != 1 || s.LT2 != 1 || !slices.Equal(s.Stages, s.Even)) || !s.AsGood && !(max(s.LT1, s.LT2) <= 0.95) {
			t.Errorf("%+v", s)
		}
	}
}

// If there is no room to move, even steps are as good, and the answer says so.
func TestEvenStepsAsGood(t *testing.T) {
	p := even(6, 320e9, 300e9)
	s, err := forecast.Space(p, forecast.Expected{}, lactate.Options{}, forecast.Rules{Least: 4 * time.Second})
	if err != nil {
		t.Fatal(err)
	}
	if !s.AsGood || !slices.Equal(seconds(s.Stages), []float64{320, 316, 312, 308, 304, 300}) {
		t.Errorf("%+v", s)
	}
}
