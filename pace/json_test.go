package pace_test

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"example.com/steptest/pace"
)

// D: what is zero, because it was not given, marshals as nothing and comes back
// as zero, over whatever was there; that it is nothing to parse stays an error.
func TestZeroJSON(t *testing.T) {
	type all struct {
		Pool   pace.Pool
		Pace   pace.Pace
		Length pace.Length
		Speed  pace.Speed
	}
	b, err := json.Marshal(all{})
	if want := `{"Pool":"","Pace":"","Length":"0 m","Speed":"0 m/s"}`; err != nil || string(b) != want {
		t.Errorf("%s, %v; want %s", b, err, want)
	}
	got := all{pace.SCY(), pace.Must(pace.ParsePace("1:20/100 yd")), 400, 1.2}
	if err := json.Unmarshal(b, &got); err != nil || got != (all{}) {
		t.Errorf("%+v, %v", got, err)
	}
	if _, err := pace.ParsePace(""); err == nil {
		t.Error(`ParsePace("") is no error`)
	}
	if _, err := pace.ParsePool(""); err == nil {
		t.Error(`ParsePool("") is no error`)
	}
}

// D: a line through two swims has no errors, and JSON leaves them out; through
// three it has them.
func TestCriticalJSON(t *testing.T) {
	swims := []pace.Best{{Distance: 200, Time: pace.Must(pace.ParseTime("2:20"))}, {Distance: 400, Time: pace.Must(pace.ParseTime("5:00"))}, {Distance: 800, Time: pace.Must(pace.ParseTime("10:30"))}}
	for n, want := range map[int]string{
		2: `{"speed":"1.25 m/s","reserve":"25 m","swims":2}`,
		3: `"swims":3,"speed_error_m_per_s":`,
	} {
		c, err := pace.CriticalSpeed(swims[:n])
		if err != nil || math.IsNaN(c.SpeedError) != (n == 2) {
			t.Fatalf("%+v, %v", c, err)
		}
		b, err := json.Marshal(c)
		if err != nil || !strings.Contains(string(b), want) {
			t.Errorf("%s, %v; want %s", b, err, want)
		}
	}
	if b, err := json.Marshal(swims[0]); err != nil || string(b) != `{"distance":"200 m","time_ns":140000000000}` {
		t.Errorf("%s, %v", b, err)
	}
}
