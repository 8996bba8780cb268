package zones_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"example.com/steptest/pace"
	"example.com/steptest/zones"
)

// within compares with NaN in mind.
func within(got, want, tolerance float64) bool { return math.Abs(got-want) <= tolerance }

// Seiler & Kjerland (2006): zone 1 below the first threshold, zone 2 from there
// to the second, zone 3 above it. Evidence A for the order, D for the speeds.
func TestReferenceThreeZone(t *testing.T) {
	table := three(t)
	for v, want := range map[pace.Speed]string{0.001: "1", 1.0999: "1", 1.10: "2", 1.15: "2", 1.1999: "2", 1.20: "3", 3: "3"} {
		if z, err := table.At(v); err != nil || z.Name != want {
			t.Errorf("%v m/s is in zone %q, %v; want %q", float64(v), z.Name, err, want)
		}
	}
	for _, v := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if z, err := table.At(pace.Speed(v)); !errors.Is(err, zones.ErrValue) {
			t.Errorf("%v m/s is in zone %q, %v; want ErrValue", v, z.Name, err)
		}
	}
	if _, err := table.Zone("4"); !errors.Is(err, zones.ErrMissing) || !strings.Contains(err.Error(), "want one of 1, 2, 3") {
		t.Errorf("zone 4: %v, want an error that lists the zones", err)
	}
	if len(table.Warnings) != 0 {
		t.Errorf("warnings %q", table.Warnings)
	}
}

// curve is an invented swimmer whose lactate is 0.9 + 0.0004 exp(6 v), so that
// levels have a closed form.
func curve() zones.Profile {
	p := zones.Profile{LT1: zones.Threshold{Speed: 1.2656}, LT2: zones.Threshold{Speed: 1.4084}, Top: 1.6, MaxHeartRate: 190}
	inside := func(v pace.Speed) error {
		if !(v >= 1.10 && v <= 1.60) {
			return fmt.Errorf("%v is outside the tested range of 1.10 to 1.60 m/s", v)
		}
		return nil
	}
	p.Lactate = func(v pace.Speed) (float64, error) { return 0.9 + 0.0004*math.Exp(6*float64(v)), inside(v) }
	p.SpeedAtLactate = func(x float64) (pace.Speed, error) {
		v := pace.Speed(math.Log((x-0.9)/0.0004) / 6)
		return v, inside(v)
	}
	p.HeartRate = func(v pace.Speed) (float64, error) { return 120 + 140*float64(v-1.10), inside(v) }
	p.SpeedAtHeartRate = func(h float64) (pace.Speed, error) {
		v := pace.Speed(1.10 + (h-120)/140)
		return v, inside(v)
	}
	return p
}

// The printed boundaries of the federation scale, Seiler & Tønnessen (2009) and
// Seiler's chapter: evidence A for 1.5, 2.5, 4.0, 6.0 mmol/L and 72, 82, 87, 93
// %; D for the speeds, closed forms of the invented swimmer.
func TestReferenceFiveZones(t *testing.T) {
	table, err := zones.FiveZoneLactate().Apply(curve())
	if err != nil || len(table.Zones) != 5 {
		t.Fatalf("%v, %v", table, err)
	}
	for i, level := range []float64{1.5, 2.5, 4, 6} {
		e := table.Zones[i].To
		if e != table.Zones[i+1].From || e.Bound != (zones.Bound{Of: zones.LactateLevel, Amount: level}) {
			t.Errorf("zone %d ends at %+v, the next starts at %+v; want %v mmol/L", i+1, e, table.Zones[i+1].From, level)
		}
		if !within(e.Lactate, level, 1e-12*level) || !within(float64(e.Speed), math.Log((level-0.9)/0.0004)/6, 1e-14) {
			t.Errorf("%v mmol/L at %v with %v mmol/L", level, float64(e.Speed), e.Lactate)
		}
	}
	// constructed: 4 mmol/L at 1.492575 m/s
	if v := float64(table.Zones[2].To.Speed); !within(v, 1.492575, 0.5e-6) {
		t.Errorf("4 mmol/L at %v m/s, want 1.492575", v)
	}

	table, err = zones.FiveZoneHeartRate().Apply(curve())
	if err != nil || len(table.Zones) != 5 {
		t.Fatalf("%v, %v", table, err)
	}
	for i, percent := range []float64{72, 82, 87, 93} {
		if e := table.Zones[i].To; !within(e.HeartRate, percent*1.90, 1e-9) || e.Bound.String() != fmt.Sprintf("%v %%HRmax", percent) {
			t.Errorf("zone %d ends at %+v, want %v /min", i+1, e, percent*1.90)
		}
	}
}

// An edge that the test did not reach joins two zones; what is not said at all is
// an error.
func TestUnreachedEdge(t *testing.T) {
	p := curve()
	p.SpeedAtLactate = func(x float64) (pace.Speed, error) {
		if x > 3 {
			return 0, errors.New("not reached")
		}
		return curve().SpeedAtLactate(x)
	}
	table := applied(t, zones.FiveZoneLactate(), p)
	var names []string
	for _, z := range table.Zones {
		names = append(names, z.Name)
	}
	if got := strings.Join(names, " "); got != "1 2 3+4+5" || len(table.Warnings) != 2 || !strings.Contains(table.Warnings[0].String(), "4 mmol/L") {
		t.Errorf("zones %q, warnings %q", got, table.Warnings)
	}
	if z, err := table.Zone("4"); err != nil || z.Name != "3+4+5" || !z.To.Open() {
		t.Errorf("zone 4 is %+v, %v", z, err)
	}
	p.SpeedAtLactate = func(float64) (pace.Speed, error) { return 0, errors.New("not reached") }
	if table, err := zones.FiveZoneLactate().Apply(p); !errors.Is(err, zones.ErrMissing) {
		t.Errorf("no edge at all: %v, %v; want ErrMissing", table, err)
	}
	four := zones.Bound{Of: zones.LactateLevel, Amount: 4}
	if table, err := (zones.Scheme{Zones: []zones.Part{{Name: "a", To: four}, {Name: "b", From: four}}}).Apply(p); !errors.Is(err, zones.ErrMissing) {
		t.Errorf("the only edge not reached: %v, %v; want ErrMissing", table, err)
	}
	p.SpeedAtLactate = func(float64) (pace.Speed, error) { return pace.Speed(math.NaN()), nil }
	if table, err := zones.FiveZoneLactate().Apply(p); !errors.Is(err, zones.ErrValue) {
		t.Errorf("a speed that is no number: %v, %v; want ErrValue", table, err)
	}
	p = swimmer()
	if _, err := zones.FiveZoneLactate().Apply(p); !errors.Is(err, zones.ErrMissing) || !strings.Contains(err.Error(), "lactate level") {
		t.Errorf("no lactate: %v, want ErrMissing", err)
	}
	if _, err := zones.FiveZoneHeartRate().Apply(p); !errors.Is(err, zones.ErrMissing) || !strings.Contains(err.Error(), "maximal heart rate") {
		t.Errorf("no maximal heart rate: %v, want ErrMissing", err)
	}
	p = curve()
	p.MaxHeartRate = 0
	if _, err := zones.FiveZoneHeartRate().Apply(p); !errors.Is(err, zones.ErrMissing) || !strings.Contains(err.Error(), "needs the maximal heart rate") {
		t.Errorf("speeds at heart rates and no maximum: %v, want ErrMissing", err)
	}
	p = swimmer()
	top := zones.Bound{Of: zones.Top, Amount: 0.98}
	s := zones.Scheme{Zones: []zones.Part{{Name: "a", To: top}, {Name: "b", From: top}}}
	if _, err := s.Apply(p); !errors.Is(err, zones.ErrMissing) {
		t.Errorf("no fastest repeat: %v, want ErrMissing", err)
	}
	if table, err := s.Apply(curve()); err != nil || !within(float64(table.Zones[0].To.Speed), 0.98*1.6, 1e-15) {
		t.Errorf("0.98 of the fastest repeat: %v, %v", table, err)
	}
}

func TestWarnings(t *testing.T) {
	p := swimmer()
	p.LT1.High, p.LT2.Low = 1.18, 1.17
	p.Lactate = func(pace.Speed) (float64, error) { return math.NaN(), nil }
	p.HeartRate = func(v pace.Speed) (float64, error) {
		if v > 1.15 {
			return 0, errors.New("strap lost")
		}
		return 141, nil
	}
	table := applied(t, zones.ThreeZone(), p)
	all := fmt.Sprint(table.Warnings)
	for _, want := range []string{"brackets of LT1 and LT2 overlap", "no heart rate at LT2 (1.200 m/s): strap lost", "no lactate at LT1"} {
		if !strings.Contains(all, want) {
			t.Errorf("warnings %q lack %q", all, want)
		}
	}
	z := table.Zones[1]
	if z.HeartRateRange() != "not known" || z.LactateRange() != "not known" || table.Zones[0].HeartRateRange() != "below 141 /min" {
		t.Errorf("%q, %q, %q", z.HeartRateRange(), z.LactateRange(), table.Zones[0].HeartRateRange())
	}
	if notes := strings.Join(table.Table(pace.SCY()).Notes, "\n"); !strings.Contains(notes, "the brackets of LT1 and LT2 overlap") {
		t.Errorf("notes %q", notes)
	}
}

// The slow edge stands first: a larger time.
func TestPaceRange(t *testing.T) {
	lt1, _ := pace.Must(pace.ParsePace("1:21.6/100 yd")).Speed()
	lt2, _ := pace.Must(pace.ParsePace("1:15.2/100 yd")).Speed()
	table := applied(t, zones.Domains(), zones.Profile{LT1: zones.Threshold{Speed: lt1}, LT2: zones.Threshold{Speed: lt2}})
	for i, want := range []string{"slower than 1:21.6/100 yd", "1:21.6–1:15.2/100 yd", "faster than 1:15.2/100 yd"} {
		if got := table.Zones[i].PaceRange(pace.SCY()); got != want {
			t.Errorf("%s: %q, want %q", table.Zones[i].Name, got, want)
		}
	}
	if z := (zones.Zone{}); z.PaceRange(pace.SCM()) != "any" || !z.Contains(1) || (zones.Edge{}).In(pace.SCM()) != "open" {
		t.Error("the zero Zone is not open at both ends")
	}
}

// What is worked out marshals whole, and a set comes back.
func TestJSON(t *testing.T) {
	table := three(t)
	set := zones.Set{Zone: "2", Repeats: 4, Distance: 200, Rest: 20 * time.Second}
	plan, err := table.Workout(set, pace.SCM())
	if err != nil {
		t.Fatal(err)
	}
	review, err := table.Review(plan.Swims(), pace.SCM())
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name string
		v    any
		want []string
	}{
		{"table", table, []string{`"scheme":{"name":`, `"profile":{"lt1":{"speed":"1.1 m/s","low":"1.08 m/s"`, `"zones":[{"name":"1"`}},
		{"table without functions", zones.Table{}, []string{`"profile":{}`}},
		{"plan", plan, []string{`"set":{"zone":"2","repeats":4,"distance":"200 m","rest_ns":20000000000}`, `"pool":"25 m"`, `"send_off_ns":`}},
		{"review", review, []string{`"repeats":[{"distance":"200 m","time_ns":`, `"zone":"2"`, `"pace_drift_s_per_100":{"per_repeat":0`, `"distribution":{"scheme":"`}},
	} {
		b, err := json.Marshal(c.v)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
		}
		for _, want := range c.want {
			if !strings.Contains(string(b), want) {
				t.Errorf("%s: %s lacks %s", c.name, b, want)
			}
		}
	}
	var got zones.Set
	if b, err := json.Marshal(set); err != nil || json.Unmarshal(b, &got) != nil || got != set {
		t.Errorf("%+v became %+v", set, got)
	}
}

// A name from outside is cut to 200 letters in an error.
func TestLongName(t *testing.T) {
	if _, err := three(t).Zone(strings.Repeat("é", 300)); err == nil || !strings.Contains(err.Error(), `"`+strings.Repeat("é", 200)+`…"`) {
		t.Error(err)
	}
}
