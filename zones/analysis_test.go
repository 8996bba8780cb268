package zones_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/pace"
	"example.com/steptest/zones"
)

// Evidence D: the profile has the thresholds of the analysis, and lactate and heart
// rate there are those beside them; a test without LT2 has no profile.
func TestProfileOf(t *testing.T) {
	test := func(unit float64, lactates ...float64) *lactate.Analysis {
		var s lactate.Test
		for i, y := range lactates {
			s.Stages = append(s.Stages, lactate.Stage{Intensity: unit * (1.1 + 0.04*float64(i)), Lactate: y, HeartRate: 120 + 10*float64(i)})
		}
		if unit != 1 {
			s.Unit = lactate.KilometresPerHour
		}
		a, err := lactate.Analyze(s, lactate.Options{Resamples: 100})
		if err != nil {
			t.Fatal(err)
		}
		return a
	}
	a := test(1, 1.2, 1.4, 1.9, 3.1, 5.6, 9.8)
	p, err := zones.ProfileOf(a)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		got  zones.Threshold
		want lactate.Threshold
	}{{p.LT1, a.LT1}, {p.LT2, a.LT2}} {
		e := c.want.Intensity
		if c.got != (zones.Threshold{Speed: pace.Speed(e.Value), Low: pace.Speed(e.Low), High: pace.Speed(e.High)}) {
			t.Errorf("%+v of %v", c.got, e)
		}
		y, errY := p.Lactate(c.got.Speed)
		h, errH := p.HeartRate(c.got.Speed)
		if errY != nil || errH != nil || !(math.Abs(y-c.want.Lactate.Value) <= 1e-9) || !(math.Abs(h-c.want.HeartRate.Value) <= 1e-9) {
			t.Errorf("%v mmol/L and %v /min, want %v and %v; %v, %v", y, h, c.want.Lactate, c.want.HeartRate, errY, errH)
		}
		if v, err := p.SpeedAtLactate(y); err != nil || !(math.Abs(float64(v-c.got.Speed)) <= 1e-9) {
			t.Errorf("%v at %v mmol/L, want %v; %v", v, y, c.got.Speed, err)
		}
	}
	if _, err := p.Lactate(1); err == nil || p.Top != pace.Speed(a.Highest) {
		t.Errorf("lactate below the test: %v; fastest %v", err, p.Top)
	}
	unread := test(1, 1, 4, 6, 7, 7.5)
	unread.LT2.Err = lactate.ErrShape
	if _, err := zones.ProfileOf(unread); !errors.Is(err, lactate.ErrShape) || !strings.Contains(err.Error(), "no LT2") {
		t.Errorf("error %v", err)
	}
	// An hour has 3600 seconds.
	if q, err := zones.ProfileOf(test(3.6, 1.2, 1.4, 1.9, 3.1, 5.6, 9.8)); err != nil || !(math.Abs(float64(q.LT2.Speed-p.LT2.Speed)) <= 1e-9) {
		t.Errorf("in km/h LT2 at %v, want %v; %v", q.LT2.Speed, p.LT2.Speed, err)
	}
}

// Evidence D: a pair that is in no order, or lies closer than it can be told apart,
// has no zones, and the error says which definitions they are.
func TestOutOfOrder(t *testing.T) {
	var s lactate.Test
	for i, y := range []float64{1.2, 1.4, 1.9, 3.1, 5.6, 9.8} {
		s.Stages = append(s.Stages, lactate.Stage{Intensity: 1.1 + 0.04*float64(i), Lactate: y})
	}
	for _, c := range []struct {
		first, second lactate.Method
		says          string
	}{
		{lactate.Fixed{Lactate: 4}, lactate.AboveBaseline{Rise: 0.5}, "LT1 by 4 mmol/L does not lie below LT2"},
		{lactate.Fixed{Lactate: 4}, lactate.MaxDistance{}, "LT1 by 4 mmol/L"},
		{lactate.Fixed{Lactate: 2}, lactate.Fixed{Lactate: 4}, ""},
	} {
		a, err := lactate.Analyze(s, lactate.Options{LT1: c.first, LT2: c.second, Resamples: 500})
		if err != nil {
			t.Fatal(err)
		}
		_, err = zones.ProfileOf(a)
		if c.says == "" && err != nil || c.says != "" && (!errors.Is(err, zones.ErrOrder) || !strings.Contains(err.Error(), c.says)) {
			t.Errorf("%v and %v: error %v, want %q", c.first, c.second, err, c.says)
		}
	}
}
