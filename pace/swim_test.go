package pace_test

import (
	"math"
	"testing"
	"time"

	"example.com/steptest/pace"
)

// Evidence D: from 1.25 to 1.6 m/s, 100 m take 80 and 62.5 s.
func TestSaved(t *testing.T) {
	if got := pace.Saved(100*pace.Metre, 1.25, 1.6); !(math.Abs(got-17.5) < 1e-9) {
		t.Errorf("got %v", got)
	}
}

// Evidence D: the ends count as swims, and what is wanted of others names them.
func TestSwims(t *testing.T) {
	for d, want := range map[time.Duration]bool{33 * time.Second: false, 34 * time.Second: true, 500 * time.Second: true, 501 * time.Second: false, 0: false, -time.Minute: false} {
		if got := pace.Swims(100*pace.Metre, d); got != want {
			t.Errorf("100 m in %v: %v", d, got)
		}
	}
	if got, want := pace.WantSwim(100*pace.Metre, 10*time.Second), "a time of 0:33 to 8:20 for 100 m; this is 10.00 m/s"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

// Evidence D: digits whose last two, before the point, are seconds.
func TestWithColon(t *testing.T) {
	for seconds, want := range map[float64]float64{551.7: 351.7, 100: 60, 99.9: 0, 160: 0, 159: 119, 456: 296} {
		got, ok := pace.WithColon(time.Duration(seconds * 1e9))
		if ok != (want > 0) || ok && math.Abs(got.Seconds()-want) > 1e-6 {
			t.Errorf("%v: %v, %v", seconds, got, ok)
		}
	}
}
