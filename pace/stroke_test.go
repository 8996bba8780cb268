package pace_test

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"example.com/steptest/pace"
)

// Evidence D: 10 m in 8 s with 6 cycles is 1.25 m/s, 45 /min, 10/6 m.
func TestSegment(t *testing.T) {
	g := pace.Segment{Length: 10, Time: 8 * sec, Cycles: 6}
	s, err := g.Stroke()
	if err != nil || !within(s.Rate, 45, 1e-12) || !within(float64(s.Length), 10.0/6, 1e-14) {
		t.Fatalf("%+v, %v; want 45 /min and 1.6667 m", s, err)
	}
	if !within(float64(s.Speed()), 1.25, 1e-14) || !within(s.Index(), 1.25*10/6, 1e-13) {
		t.Errorf("%v, index %v; want 1.25 m/s, %v m²/s", s.Speed(), s.Index(), 1.25*10/6)
	}
	if x, err := s.Share(1.40625); err != nil || !within(x, 1.25/1.40625, 1e-14) {
		t.Errorf("share %v, %v", x, err)
	}
	for _, v := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if x, err := s.Share(pace.Speed(v)); !errors.Is(err, pace.ErrValue) {
			t.Errorf("share of %v m/s: %v, %v; want ErrValue", v, x, err)
		}
	}
	// Half a cycle in 1 m and 1.25 s is 24 /min at 0.8 m/s.
	if s, err := (pace.Segment{Length: 1, Time: 1250 * time.Millisecond, Cycles: 0.5}).Stroke(); err != nil || !within(s.Rate, 24, 1e-12) {
		t.Errorf("%+v, %v; want 24 /min", s, err)
	} else if x, err := s.Share(0.9); err != nil || !within(x, 0.8/0.9, 1e-14) {
		t.Errorf("share %v, %v", x, err)
	}
	if err := g.Check(pace.SCY()); err != nil {
		t.Error(err)
	}
	for _, l := range []float64{25, 26, math.NaN()} {
		if err := (pace.Segment{Length: pace.Length(l)}).Check(pace.SCM()); !errors.Is(err, pace.ErrValue) {
			t.Errorf("segment of %v m in 25 m: %v, want ErrValue", l, err)
		}
	}
	for _, bad := range []pace.Segment{
		{}, {10, 8 * sec, 0}, {10, 8 * sec, -1}, {10, 8 * sec, math.NaN()}, {10, 8 * sec, math.Inf(1)}, {10, 0, 6}, {0, 8 * sec, 6},
	} {
		if s, err := bad.Stroke(); !errors.Is(err, pace.ErrValue) {
			t.Errorf("%+v: %+v, %v; want ErrValue", bad, s, err)
		}
	}
}

func TestCriticalSpeedRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		bests []pace.Best
		want  error
	}{
		"none":                  {nil, pace.ErrUndetermined},
		"one":                   {[]pace.Best{{200, 140 * sec}}, pace.ErrUndetermined},
		"one distance":          {[]pace.Best{{200, 140 * sec}, {200, 141 * sec}}, pace.ErrUndetermined},
		"one time":              {[]pace.Best{{200, 140 * sec}, {400, 140 * sec}}, pace.ErrUndetermined},
		"longer is quicker":     {[]pace.Best{{200, 140 * sec}, {400, 130 * sec}}, pace.ErrUndetermined},
		"longer is as fast":     {[]pace.Best{{200, 140 * sec}, {400, 280 * sec}}, pace.ErrUndetermined},
		"no time":               {[]pace.Best{{200, 140 * sec}, {400, 0}}, pace.ErrValue},
		"distance not a number": {[]pace.Best{{pace.Length(math.NaN()), 140 * sec}, {400, 300 * sec}}, pace.ErrValue},
	} {
		if got, err := pace.CriticalSpeed(c.bests); !errors.Is(err, c.want) || got != (pace.Critical{}) {
			t.Errorf("%s: %+v, %v; want %v", name, got, err, c.want)
		}
	}
	// both faults are named
	_, err := pace.CriticalSpeed([]pace.Best{{0, sec}, {200, 140 * sec}, {400, -1}})
	if j, ok := err.(interface{ Unwrap() []error }); !ok || len(j.Unwrap()) != 2 || !strings.Contains(err.Error(), "best 1: ") || !strings.Contains(err.Error(), "best 3: ") {
		t.Errorf("%v, want two faults", err)
	}
	if _, err := (pace.Critical{Speed: 1.2, Reserve: 20}).Time(15); !errors.Is(err, pace.ErrValue) {
		t.Errorf("15 m on a reserve of 20 m: %v", err)
	}
	if d, err := (pace.Critical{}).Time(15); err == nil || d != time.Duration(0) {
		t.Errorf("the zero Critical: %v, %v", d, err)
	}
}
