package zones_test

import (
	"bytes"
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

func TestSchemeCheck(t *testing.T) {
	lt1, lt2 := zones.Bound{Of: zones.LT1}, zones.Bound{Of: zones.LT2}
	for name, c := range map[string]struct {
		zones []zones.Part
		want  error
	}{
		"none":             {nil, zones.ErrMissing},
		"nameless":         {[]zones.Part{{}}, zones.ErrMissing},
		"twins":            {[]zones.Part{{Name: "a", To: lt1}, {Name: "a", From: lt1}}, zones.ErrValue},
		"closed below":     {[]zones.Part{{Name: "a", From: lt1, To: lt2}, {Name: "b", From: lt2}}, zones.ErrGap},
		"closed above":     {[]zones.Part{{Name: "a", To: lt1}, {Name: "b", From: lt1, To: lt2}}, zones.ErrGap},
		"open within":      {[]zones.Part{{Name: "a"}, {Name: "b", From: lt1}}, zones.ErrOverlap},
		"gap":              {[]zones.Part{{Name: "a", To: zones.Bound{Of: zones.LT2, Amount: 0.9}}, {Name: "b", From: lt2}}, zones.ErrGap},
		"overlap":          {[]zones.Part{{Name: "a", To: zones.Bound{Of: zones.LT2, Amount: 1.1}}, {Name: "b", From: lt2}}, zones.ErrOverlap},
		"gap or overlap":   {[]zones.Part{{Name: "a", To: zones.Bound{Of: zones.LT1, Amount: 1.1}}, {Name: "b", From: lt2}}, zones.ErrGap},
		"beyond LT2":       {[]zones.Part{{Name: "a", To: zones.Bound{Of: zones.Between, Amount: 1.5}}, {Name: "b", From: zones.Bound{Of: zones.Between, Amount: 1.5}}}, zones.ErrValue},
		"negative":         {[]zones.Part{{Name: "a", To: zones.Bound{Of: zones.LT1, Amount: -1}}, {Name: "b", From: zones.Bound{Of: zones.LT1, Amount: -1}}}, zones.ErrValue},
		"not a number":     {[]zones.Part{{Name: "a", To: zones.Bound{Of: zones.LT1, Amount: math.NaN()}}, {Name: "b", From: lt1}}, zones.ErrValue},
		"unknown anchor":   {[]zones.Part{{Name: "a", To: zones.Bound{Of: 99}}, {Name: "b", From: zones.Bound{Of: 99}}}, zones.ErrValue},
		"100.5 % of HRmax": {[]zones.Part{{Name: "a", To: zones.Bound{Of: zones.HeartRatePercent, Amount: 100.5}}, {Name: "b", From: zones.Bound{Of: zones.HeartRatePercent, Amount: 100.5}}}, zones.ErrValue},
		"level of 30.5":    {[]zones.Part{{Name: "a", To: zones.Bound{Of: zones.LactateLevel, Amount: 30.5}}, {Name: "b", From: zones.Bound{Of: zones.LactateLevel, Amount: 30.5}}}, zones.ErrValue},
		"level of 0":       {[]zones.Part{{Name: "a", To: zones.Bound{Of: zones.LactateLevel}}, {Name: "b", From: zones.Bound{Of: zones.LactateLevel}}}, zones.ErrValue},
	} {
		s := zones.Scheme{Name: name, Zones: c.zones}
		if err := s.Check(); !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", name, err, c.want)
		}
		if table, err := s.Apply(swimmer()); table != nil || err == nil {
			t.Errorf("%s: Of gives %v, %v", name, table, err)
		}
	}
	// which of the two it is hangs on the swimmer
	err := zones.Scheme{Zones: []zones.Part{{Name: "a", To: zones.Bound{Of: zones.LT1, Amount: 1.1}}, {Name: "b", From: lt2}}}.Check()
	if !errors.Is(err, zones.ErrGap) || !errors.Is(err, zones.ErrOverlap) {
		t.Errorf("%v, want gap or overlap", err)
	}
	// zero is 1
	ok := zones.Scheme{Zones: []zones.Part{{Name: "a", To: lt1}, {Name: "b", From: zones.Bound{Of: zones.LT1, Amount: 1}}}}
	if err := ok.Check(); err != nil {
		t.Error(err)
	}
	if table, err := (zones.Scheme{Zones: []zones.Part{{Name: "all"}}}).Apply(swimmer()); err != nil || len(table.Zones) != 1 || !table.Zones[0].Contains(1.3) {
		t.Errorf("one zone for all: %v, %v", table, err)
	}
}

// Evidence D: a quarter of the way from 1.10 to 1.20 m/s; an interval scales with its threshold.
func TestBoundSpeeds(t *testing.T) {
	quarter, above := zones.Bound{Of: zones.Between, Amount: 0.25}, zones.Bound{Of: zones.LT2, Amount: 1.05}
	s := zones.Scheme{Zones: []zones.Part{{Name: "a", To: quarter}, {Name: "b", From: quarter, To: above}, {Name: "c", From: above}}}
	table, err := s.Apply(swimmer())
	if err != nil {
		t.Fatal(err)
	}
	if e := table.Zones[0].To; !within(float64(e.Speed), 1.125, 1e-15) || e.Low != 0 || e.High != 0 {
		t.Errorf("0.25 LT1-LT2: %+v, want 1.125 m/s without an interval", e)
	}
	if e := table.Zones[1].To; !within(float64(e.Speed), 1.26, 1e-15) || !within(float64(e.Low), 1.05*1.185, 1e-15) || !within(float64(e.High), 1.05*1.215, 1e-15) {
		t.Errorf("1.05 LT2: %+v, want 1.26 m/s (1.244–1.276)", e)
	}
}

// Zones that only a swimmer's speeds show to be out of order.
func TestOrderForASwimmer(t *testing.T) {
	a, b := zones.Bound{Of: zones.LT1, Amount: 1.1}, zones.Bound{Of: zones.LT2, Amount: 0.98}
	s := zones.Scheme{Name: "crossing", Zones: []zones.Part{{Name: "1", To: a}, {Name: "2", From: a, To: b}, {Name: "3", From: b}}}
	if _, err := s.Apply(zones.Profile{LT1: zones.Threshold{Speed: 1.0}, LT2: zones.Threshold{Speed: 1.2}}); err != nil {
		t.Errorf("1.100 and 1.176 m/s: %v", err)
	}
	_, err := s.Apply(zones.Profile{LT1: zones.Threshold{Speed: 1.1}, LT2: zones.Threshold{Speed: 1.2}})
	if !errors.Is(err, zones.ErrOrder) || !strings.Contains(err.Error(), `zone "2": found its start at 1.1 LT1 (1.210 m/s) and its end at 0.98 LT2 (1.176 m/s)`) {
		t.Errorf("1.210 and 1.176 m/s: %v, want ErrOrder", err)
	}
}

// Seiler & Kjerland (2006): zone 1 below the first threshold, zone 2 from there
// to the second, zone 3 above it. Evidence A for the order, D for the speeds.
func TestReferenceThreeZone(t *testing.T) {
	table, err := zones.ThreeZone().Apply(swimmer())
	if err != nil {
		t.Fatal(err)
	}
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
	table, err := zones.FiveZoneLactate().Apply(p)
	if err != nil {
		t.Fatal(err)
	}
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

// D: a modified Dmax jumps from stage to stage, and so can lie outside its own
// interval: a note, and zones all the same.
func TestThresholdOutsideItsInterval(t *testing.T) {
	table, err := zones.ThreeZone().Apply(zones.Profile{LT1: zones.Threshold{Speed: 1.1}, LT2: zones.Threshold{Speed: 1.2, Low: 1.21, High: 1.23}})
	if err != nil {
		t.Fatal(err)
	}
	if len(table.Zones) != 3 || len(table.Warnings) != 1 || !strings.Contains(table.Warnings[0].String(), "LT2 at 1.200 m/s lies outside its own bracket, 1.210 m/s to 1.230 m/s") {
		t.Errorf("%d zones, warnings %q", len(table.Zones), table.Warnings)
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
	table, err := zones.ThreeZone().Apply(p)
	if err != nil {
		t.Fatal(err)
	}
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
	if notes := strings.Join(table.In(pace.SCY()).Notes, "\n"); !strings.Contains(notes, "the brackets of LT1 and LT2 overlap") {
		t.Errorf("notes %q", notes)
	}
}

// The slow edge stands first: a larger time.
func TestPaceRange(t *testing.T) {
	lt1, _ := pace.Must(pace.ParsePace("1:21.6/100 yd")).Speed()
	lt2, _ := pace.Must(pace.ParsePace("1:15.2/100 yd")).Speed()
	table, err := zones.Domains().Apply(zones.Profile{LT1: zones.Threshold{Speed: lt1}, LT2: zones.Threshold{Speed: lt2}})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []string{"slower than 1:21.6/100 yd", "1:21.6–1:15.2/100 yd", "faster than 1:15.2/100 yd"} {
		if got := table.Zones[i].PaceRange(pace.SCY()); got != want {
			t.Errorf("%s: %q, want %q", table.Zones[i].Name, got, want)
		}
	}
	if z := (zones.Zone{}); z.PaceRange(pace.SCM()) != "any" || !z.Contains(1) || (zones.Edge{}).In(pace.SCM()) != "open" {
		t.Error("the zero Zone is not open at both ends")
	}
}

func TestSchemeJSON(t *testing.T) {
	for _, s := range []zones.Scheme{zones.ThreeZone(), zones.Domains(), zones.FiveZoneLactate(), zones.FiveZoneHeartRate()} {
		if err := s.Check(); err != nil || s.Source == "" {
			t.Errorf("%s: %v", s.Name, err)
		}
		b, err := json.Marshal(s)
		if err != nil {
			t.Fatal(err)
		}
		got, err := zones.ReadScheme(bytes.NewReader(b))
		if err != nil || fmt.Sprintf("%+v", got) != fmt.Sprintf("%+v", s) {
			t.Errorf("%s → %s → %+v, %v", s.Name, b, got, err)
		}
	}
	for in, want := range map[string]string{
		``:     "scheme: found nothing, want {",
		"\n[]": "scheme: line 2: found a list, want one scheme",
		"{\"name\": \"x\",\n\"zones\": [\n{\"name\": \"a\"},\n]}": "line 3: found a comma before ']', want none",
		"{\n\"name\": \"x\",}": "line 2: found a comma before '}', want none",
		"{\n\"name\": x}":      "line 2: found 'x', want JSON",
		`{"name": "x", `:       "found the end of the text",
		`{"zones": {}}`:        "zones: found an object in { and }, want a list",
		`{"name": "x"}`:        "found no zone",
		`{"zones": [{"name": "a", "form": "LT1"}]}`:                `line 1: found the field "form", want name`,
		`{"zones": [{"name": "a", "to": "0.9 LT2 LT2"}]}`:          "want \"open\"",
		`{"zones": [{"name": "a", "to": "2 open"}]}`:               "want \"open\"",
		`{"zones": [{"name": "a", "to": "1:20/100 m"}]}`:           "want \"open\"",
		`{"zones": [{"name": "a", "to": 4}]}`:                      "scheme: line 1: to: found a number, want a text",
		`{"zones": [{"name": "a", "to": "LT1"}, {"from": "LT1"}]}`: "zone 2: found no name",
		`x`: "line 1: found 'x', want JSON",
		`{"zones": [{"name": "a", "to": "LT1"}, {"name": "b", "from": "LT2"}]}`: "gap or overlap",
		`{"zones": [{"name": "a"}]} {}`:                                         "more text",
	} {
		if s, err := zones.ReadScheme(strings.NewReader(in)); err == nil || !strings.Contains(err.Error(), want) || len(s.Zones) != 0 {
			t.Errorf("%s: %+v, %v; want an error with %q", in, s, err, want)
		}
	}
	if _, err := json.Marshal(zones.Bound{Of: zones.Between, Amount: 2}); err == nil {
		t.Error("a bound without meaning marshals")
	}
	// a table's zones marshal too, without NaN and with units
	table, err := zones.ThreeZone().Apply(swimmer())
	if err != nil {
		t.Fatal(err)
	}
	b, err := json.Marshal(table.Zones)
	if err != nil || !strings.Contains(string(b), `"anchor":"LT1","speed":"1.1 m/s","low":"1.08 m/s","high":"1.12 m/s","heart_rate_per_min":140}`) {
		t.Errorf("%s, %v", b, err)
	}
}

// What is worked out marshals whole, and a set comes back.
func TestJSON(t *testing.T) {
	table, err := zones.ThreeZone().Apply(swimmer())
	if err != nil {
		t.Fatal(err)
	}
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

// D: what an anchor is called is what stands in the text of a bound that hangs
// on it.
func TestAnchor(t *testing.T) {
	for a := zones.Open; a <= zones.HeartRatePercent; a++ {
		b := zones.Bound{Of: a, Amount: 0.5}
		if !strings.HasSuffix(b.String(), a.String()) || strings.Contains(a.String(), "Anchor") {
			t.Errorf("%d: %v, %v", uint8(a), a, b)
		}
	}
	if s := zones.Anchor(9).String(); s != "Anchor(9)" {
		t.Error(s)
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
	table, err := zones.ThreeZone().Apply(p)
	if err != nil {
		t.Fatal(err)
	}
	const want = `  zone  where      pace                      speed            lactate
  1     below LT1  slower than 2:05.0/100 m  below 0.800 m/s  below 0.7 mmol/L
  2     LT1–LT2    2:05.0–1:45.3/100 m       0.800–0.950 m/s  0.7–0.8 mmol/L
  3     above LT2  faster than 1:45.3/100 m  above 0.950 m/s  above 0.8 mmol/L
  LT1 at 2:05.0/100 m (2:08.2–2:02.0)
`
	if got := table.In(pace.SCM()).String(); got != want {
		t.Errorf("\n%s\nwant\n%s", got, want)
	}
}

// A name from outside is cut to 200 letters in an error.
func TestLongName(t *testing.T) {
	if _, err := three(t).Zone(strings.Repeat("é", 300)); err == nil || !strings.Contains(err.Error(), `"`+strings.Repeat("é", 200)+`…"`) {
		t.Error(err)
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
		table, err := zones.ThreeZone().Apply(p)
		if err != nil {
			t.Fatal(err)
		}
		text := table.In(pace.SCM()).String()
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
