package zones_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"example.com/steptest/zones"
)

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
	table := three(t)
	b, err := json.Marshal(table.Zones)
	if err != nil || !strings.Contains(string(b), `"anchor":"LT1","speed":"1.1 m/s","low":"1.08 m/s","high":"1.12 m/s","heart_rate_per_min":140}`) {
		t.Errorf("%s, %v", b, err)
	}
}

// Evidence D: a quarter of the way from 1.10 to 1.20 m/s; an interval scales with its threshold.
func TestBoundSpeeds(t *testing.T) {
	quarter, above := zones.Bound{Of: zones.Between, Amount: 0.25}, zones.Bound{Of: zones.LT2, Amount: 1.05}
	s := zones.Scheme{Zones: []zones.Part{{Name: "a", To: quarter}, {Name: "b", From: quarter, To: above}, {Name: "c", From: above}}}
	table := applied(t, s, swimmer())
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
