package zones_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.com/steptest/pace"
	"example.com/steptest/zones"
)

func TestProfileCheck(t *testing.T) {
	at := func(v float64) zones.Threshold { return zones.Threshold{Speed: pace.Speed(v)} }
	for name, c := range map[string]struct {
		p    zones.Profile
		want error
		text string
	}{
		"nothing":            {zones.Profile{}, zones.ErrMissing, "no LT1"},
		"no LT2":             {zones.Profile{LT1: at(1.1)}, zones.ErrMissing, "no LT2"},
		"equal":              {zones.Profile{LT1: at(1.2), LT2: at(1.2)}, zones.ErrOrder, "found LT1 at 1.2 m/s and LT2 at 1.2 m/s, want LT1 below LT2"},
		"paces":              {zones.Profile{LT1: at(90), LT2: at(80)}, zones.ErrOrder, "not paces"},
		"NaN":                {zones.Profile{LT1: at(math.NaN()), LT2: at(1.2)}, zones.ErrValue, "LT1: found NaN"},
		"infinite":           {zones.Profile{LT1: at(1.1), LT2: at(math.Inf(1))}, zones.ErrValue, "LT2: found +Inf"},
		"negative":           {zones.Profile{LT1: at(-1), LT2: at(1.2)}, zones.ErrValue, "LT1: found -1"},
		"interval one-sided": {zones.Profile{LT1: zones.Threshold{Speed: 1.1, Low: 1.05}, LT2: at(1.2)}, zones.ErrValue, "interval"},
		"interval turned":    {zones.Profile{LT1: zones.Threshold{Speed: 1.1, Low: 1.15, High: 1.05}, LT2: at(1.2)}, zones.ErrValue, "interval"},
		"top below LT2":      {zones.Profile{LT1: at(1.1), LT2: at(1.2), Top: 1.15}, zones.ErrOrder, "fastest repeat"},
		"top NaN":            {zones.Profile{LT1: at(1.1), LT2: at(1.2), Top: pace.Speed(math.NaN())}, zones.ErrValue, "fastest repeat"},
		"maximum of 59.5":    {zones.Profile{LT1: at(1.1), LT2: at(1.2), MaxHeartRate: 59.5}, zones.ErrValue, "heart rate"},
		"maximum of 250.5":   {zones.Profile{LT1: at(1.1), LT2: at(1.2), MaxHeartRate: 250.5}, zones.ErrValue, "heart rate"},
	} {
		err := c.p.Check()
		if !errors.Is(err, c.want) || !strings.Contains(err.Error(), c.text) {
			t.Errorf("%s: %v, want %v with %q", name, err, c.want, c.text)
		}
		if table, err := zones.ThreeZone().Apply(c.p); table != nil || !errors.Is(err, c.want) {
			t.Errorf("%s: Of gives %v, %v", name, table, err)
		}
	}
	if err := (zones.Profile{LT1: at(1.1), LT2: at(1.2), MaxHeartRate: 60}).Check(); err != nil {
		t.Error(err)
	}
	// all at once
	err := zones.Profile{LT1: at(-1), LT2: at(math.NaN()), MaxHeartRate: 20}.Check()
	for _, want := range []string{"LT1", "LT2", "heart rate"} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("%v does not name %s", err, want)
		}
	}
}

// D: a modified Dmax jumps from stage to stage, and so can lie outside its own
// interval: a note, and zones all the same.
func TestThresholdOutsideItsInterval(t *testing.T) {
	table := applied(t, zones.ThreeZone(), zones.Profile{LT1: zones.Threshold{Speed: 1.1}, LT2: zones.Threshold{Speed: 1.2, Low: 1.21, High: 1.23}})
	if len(table.Zones) != 3 || len(table.Warnings) != 1 || !strings.Contains(table.Warnings[0].String(), "LT2 at 1.200 m/s lies outside its own bracket, 1.210 m/s to 1.230 m/s") {
		t.Errorf("%d zones, warnings %q", len(table.Zones), table.Warnings)
	}
}

// D: an interval that was not asked for, or is open, is none.
func TestNoInterval(t *testing.T) {
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		p := zones.Profile{
			LT1: zones.Threshold{Speed: 1.1, Low: pace.Speed(v), High: pace.Speed(v)},
			LT2: zones.Threshold{Speed: 1.2, Low: 1.19, High: pace.Speed(v)},
		}
		got, err := zones.ThreeZone().Apply(p)
		if err != nil {
			t.Errorf("%v: %v", v, err)
			continue
		}
		if len(got.Warnings) > 0 || got.Zones[0].To.High != 0 || got.Zones[1].To.Low != 0 {
			t.Errorf("%v: %+v", v, got)
		}
	}
}

// Evidence D: 100 m at 0.80 and 0.95 m/s take 125.0 and 105.3 s. LT2 without an interval
// is told from LT1.
func TestSlowSwimmer(t *testing.T) {
	p := zones.Profile{LT1: zones.Threshold{Speed: 0.80, Low: 0.78, High: 0.82}, LT2: zones.Threshold{Speed: 0.95},
		Lactate: func(v pace.Speed) (float64, error) { return float64(v) - 0.1, nil }}
	table := applied(t, zones.ThreeZone(), p)
	const want = `  zone  where      pace                      speed            lactate
  1     below LT1  slower than 2:05.0/100 m  below 0.800 m/s  below 0.7 mmol/L
  2     LT1–LT2    2:05.0–1:45.3/100 m       0.800–0.950 m/s  0.7–0.8 mmol/L
  3     above LT2  faster than 1:45.3/100 m  above 0.950 m/s  above 0.8 mmol/L
  LT1 at 2:05.0/100 m (2:08.2–2:02.0)
`
	if got := table.Table(pace.SCM()).String(); got != want {
		t.Errorf("\n%s\nwant\n%s", got, want)
	}
}

// Zones never have heart rates that run backwards: they have none then, and say so.
func TestHeartRateFalls(t *testing.T) {
	p := zones.Profile{LT1: zones.Threshold{Speed: 1.1}, LT2: zones.Threshold{Speed: 1.2}}
	for _, c := range []struct {
		at1, at2 float64
		falls    bool
	}{{140, 160, false}, {160, 140, true}, {150, 150, true}} {
		p.HeartRate = func(v pace.Speed) (float64, error) {
			if v < 1.15 {
				return c.at1, nil
			}
			return c.at2, nil
		}
		table := applied(t, zones.ThreeZone(), p)
		text := table.Table(pace.SCM()).String()
		if falls := strings.Contains(text, "the zones have no heart rates: that at LT1"); falls != c.falls || strings.Contains(text, "/min") == c.falls || (table.Profile.HeartRate == nil) != c.falls {
			t.Errorf("%v: %s", c, text)
		}
		for _, z := range table.Zones {
			if c.falls && (z.From.HeartRate != 0 || z.To.HeartRate != 0) {
				t.Errorf("%v: zone %+v", c, z)
			}
		}
	}
}
