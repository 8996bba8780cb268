package pace_test

import (
	"fmt"
	"math"
	"testing"
	"time"

	"example.com/steptest/pace"
	"example.com/steptest/testdata/reference"
)

// within compares with NaN in mind.
func within(got, want, tolerance float64) bool { return math.Abs(got-want) <= tolerance }

func seconds(s float64) time.Duration { return time.Duration(math.Round(s * 1e9)) }

// The yard of 1959. Evidence B: Federal Register, "Refinement of values for the
// yard and the pound", 1 yd = 0.9144 m; the products are exact decimals. Costill
// et al. (1985) print 400 yd as 365.8 m.
func TestReferenceYard(t *testing.T) {
	for yards, metres := range map[float64]float64{100: 91.44, 400: 365.76, 1650: 1508.76} {
		if got := (pace.Length(yards) * pace.Yard).Metres(); !within(got, metres, 1e-12*metres) {
			t.Errorf("%v yd = %v m, want %v", yards, got, metres)
		}
		if got := pace.Length(metres).Yards(); !within(got, yards, 1e-12*yards) {
			t.Errorf("%v m = %v yd, want %v", metres, got, yards)
		}
	}
	if got := fmt.Sprintf("%.1f", (400 * pace.Yard).Metres()); got != "365.8" {
		t.Errorf("400 yd = %s m, Costill et al. (1985) print 365.8", got)
	}
}

// Pyne, Lee & Swanwick (2001) Med Sci Sports Exerc 33:291-297, pace at the
// lactate threshold in January, May, July and August 1998 [s/100 m]. Evidence
// A for the paces; D for the speeds, which are 100 / pace.
func TestReferencePyne2001(t *testing.T) {
	for s, want := range map[float64]float64{70.5: 1.41844, 72.0: 1.38889, 72.2: 1.38504, 70.8: 1.41243} {
		v, err := pace.Pace{Time: seconds(s), Per: 100 * pace.Metre}.Speed()
		if err != nil || !within(float64(v), want, 0.5e-5) {
			t.Errorf("%v s/100 m = %v m/s, %v; want %v", s, float64(v), err, want)
		}
		if got := v.Pace(100 * pace.Metre).Time; got != seconds(s) {
			t.Errorf("%v s/100 m comes back as %v", s, got)
		}
	}
}

// Turner, Smith & Coleman (2008) Int J Sports Physiol Perform 3:68-70, as quoted
// in a secondary source: stages of 200 m at fixed speeds [m/s]. Evidence A for
// the speeds; D for the times, which are 200 / speed.
func TestReferenceTurner2008(t *testing.T) {
	for v, want := range map[float64]float64{1.19: 168.07, 1.24: 161.29, 1.28: 156.25, 1.33: 150.38, 1.39: 143.88, 1.45: 137.93} {
		if got := pace.Speed(v).Time(200 * pace.Metre).Seconds(); !within(got, want, 0.005) {
			t.Errorf("200 m at %v m/s takes %v s, want %v", v, got, want)
		}
	}
}

// Evidence D: s/100 m = s/100 yd / 0.9144.
func TestReferencePaceUnits(t *testing.T) {
	yards, metres := 100*pace.Yard, 100*pace.Metre
	for _, c := range []struct {
		in   pace.Pace
		per  pace.Length
		want float64 // [s]
		tol  float64
	}{
		{pace.Pace{Time: 60 * sec, Per: yards}, metres, 65.6168, 0.00005},
		{pace.Pace{Time: 80 * sec, Per: metres}, yards, 73.152, 1e-9},
	} {
		got, err := c.in.In(c.per)
		if err != nil || !within(got.Time.Seconds(), c.want, c.tol) || got.Per != c.per {
			t.Errorf("%v = %v, %v; want %v s", c.in, got, err, c.want)
		}
	}
}

// Arsoniadis et al. (2020) Sports 8:23, doi:10.3390/sports8020023, 5 × 400 m:
// stroke rate 34.5 /min and length 2.25 m beside a speed printed as 1.29 m/s.
// Evidence A for the three group means; their product is D, 34.5 · 2.25 / 60 =
// 1.29375.
func TestReferenceStrokeSpeed(t *testing.T) {
	s := pace.Stroke{Rate: 34.5, Length: 2.25}
	if got := float64(s.Speed()); !within(got, 1.29375, 1e-12) || fmt.Sprintf("%.2f", got) != "1.29" {
		t.Errorf("34.5 /min × 2.25 m = %v m/s, want 1.29375, printed 1.29", got)
	}
}

// Critical speed by the two-swim test. Evidence D, constructed: 200 m in 2:20 and
// 400 m in 5:00 give (400 − 200)/(300 − 140) = 1.25 m/s and a reserve of 25 m.
func TestReferenceTwoSwims(t *testing.T) {
	c, err := pace.CriticalSpeed([]pace.Best{{200, 140 * sec}, {400, 300 * sec}})
	if err != nil || !within(float64(c.Speed), 1.25, 1e-14) || !within(float64(c.Reserve), 25, 1e-11) || c.Swims != 2 {
		t.Errorf("%+v, %v; want 1.25 m/s and 25 m", c, err)
	}
	if !math.IsNaN(c.SpeedError) || !math.IsNaN(c.ReserveError) {
		t.Errorf("standard errors %v and %v of two swims, want NaN", c.SpeedError, c.ReserveError)
	}
	// Distances near one another, and a slow swimmer: 0.5 m + 0.8 m/s.
	for _, near := range [][2]pace.Best{{{200, 150 * sec}, {220, 166 * sec}}, {{80.5, 100 * sec}, {160.5, 200 * sec}}} {
		c, err := pace.CriticalSpeed(near[:])
		if d, timeErr := c.Time(near[0].Distance); err != nil || timeErr != nil || !within(d.Seconds(), near[0].Time.Seconds(), 1e-8) {
			t.Errorf("%v: %+v, %v, %v", near, c, err, timeErr)
		}
	}
	if got, err := c.Time(400); err != nil || !within(got.Seconds(), 300, 1e-8) {
		t.Errorf("400 m on the line: %v, %v; want 5:00", got, err)
	}
}

// Critical speed is a straight line by least squares: its slope, intercept and
// standard errors are held against NIST/ITL StRD, linear regression, data set
// Norris. y is moved up by 10: the intercept can then be a reserve. Evidence
// B: the certified values; the standard errors of the certificate are from
// memory, and follow from the certified residual sum of squares.
func TestReferenceNorris(t *testing.T) {
	var bests []pace.Best
	for _, row := range reference.Rows(t, "nist-norris.csv") {
		bests = append(bests, pace.Best{Distance: pace.Length(reference.Number(t, row["y"]) + 10), Time: seconds(reference.Number(t, row["x"]))})
	}
	c, err := pace.CriticalSpeed(bests)
	if err != nil || c.Swims != 36 {
		t.Fatalf("%+v, %v", c, err)
	}
	for _, v := range []struct {
		name      string
		got, want float64
	}{
		{"slope", float64(c.Speed), 1.00211681802045},
		{"intercept", float64(c.Reserve) - 10, -0.262323073774029},
		{"standard error of the slope", c.SpeedError, 0.429796848199937e-3},
		{"standard error of the intercept", c.ReserveError, 0.232818234301152},
	} {
		if !within(v.got, v.want, 1e-10*math.Abs(v.want)) {
			t.Errorf("%s %v, want %v", v.name, v.got, v.want)
		}
	}
}
