package protocol_test

import (
	"encoding/json"
	"errors"
	"math"
	"reflect"
	"strings"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/forecast"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
	"pgregory.net/rapid"
)

// through writes to JSON and reads back.
func through[T any](t interface{ Fatal(...any) }, in T) (out T, text string) {
	b, err := json.Marshal(in)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(b, &out); err != nil {
		t.Fatal(err, string(b))
	}
	return out, string(b)
}

// D: what a service stores comes back as it was: requests, plans, records with
// their faults, and what is known of a swimmer; zero values too.
func TestPropJSON(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t)
		if got, text := through(t, p); !reflect.DeepEqual(got, p) {
			t.Fatalf("%+v from %s, want %+v", got, text, p)
		}
		r := p.Record()
		for i := range r.Repeats {
			r.Repeats[i].Time = p.Repeats[i].Time
			r.Repeats[i].Lactate = rapid.Float64Range(0.5, 15).Draw(t, "lactate")
		}
		if got, text := through(t, r); !reflect.DeepEqual(got, r) {
			t.Fatalf("%+v from %s, want %+v", got, text, r)
		}
		test, err := r.Test()
		if err != nil {
			t.Fatal(err)
		}
		e := forecast.Expected{Tests: []lactate.Test{test}}
		if got, text := through(t, e); !reflect.DeepEqual(got, e) {
			t.Fatalf("%+v from %s, want %+v", got, text, e)
		}
		q := protocol.Request{
			Swimmer: "Ada", Date: p.Date, Pool: p.Pool, Repeats: 5, Distance: p.Repeats[0].Distance, Start: pace.Must(pace.ParsePace("1:27.5/100 m")), Drop: 2 * time.Second,
			Best: p.Repeats[0].Time, Threshold: pace.Must(pace.ParsePace("1:20/100 yd")), Rest: 70 * time.Second, SendOff: time.Minute, WarmUp: 400,
			After: rapid.SampledFrom([][]time.Duration{nil, {}, {time.Minute}}).Draw(t, "after"), Round: time.Second, Weeks: 7, Speeds: []pace.Speed{1.1, 0},
		}
		if got, text := through(t, q); !reflect.DeepEqual(got, q) {
			t.Fatalf("%+v from %s, want %+v", got, text, q)
		}
	})
	if got, text := through(t, protocol.Plan{}); !reflect.DeepEqual(got, protocol.Plan{}) || text != `{"pool":"","repeats":null}` {
		t.Errorf("%+v from %s", got, text)
	}
	if got, text := through(t, protocol.Record{}); !reflect.DeepEqual(got, protocol.Record{}) || text != `{"pool":"","repeats":null}` {
		t.Errorf("%+v from %s", got, text)
	}
	if got, text := through(t, protocol.Request{}); !reflect.DeepEqual(got, protocol.Request{}) || text != `{"pool":""}` {
		t.Errorf("%+v from %s", got, text)
	}
	for _, zero := range []any{protocol.Known{}, forecast.Rules{}, forecast.Expected{}} {
		if b, err := json.Marshal(zero); err != nil || string(b) != "{}" {
			t.Errorf("%T: %s, %v", zero, b, err)
		}
	}
}

// A record of a sheet with faults, samples after the last repeat and a column of
// its own comes back, and its faults are what they were to errors.Is. D.
func TestRecordJSON(t *testing.T) {
	sheetText := "swimmer,date,pool,distance,repeat,time,minutes after,lactate,lane,remark\n" +
		"Ada,2025-03-08,25 yd,400,1,5:50,,1.2,3,\n" +
		"Ada,2025-03-08,25 yd,400,2,5:30,,40,3,slow turn\n" +
		"Ada,2025-03-08,25 yd,400,3,5:00,,,3,\n" +
		"Ada,2025-03-08,25 yd,400,3,,1,8.5,,\n"
	recs, err := sheet.Read(strings.NewReader(sheetText))
	if len(recs) != 1 || !errors.Is(err, protocol.ErrValue) {
		t.Fatal(recs, err)
	}
	got, text := through(t, recs[0])
	if !reflect.DeepEqual(got, recs[0]) {
		t.Errorf("%+v from %s, want %+v", got, text, recs[0])
	}
	if !errors.Is(got.Err(), protocol.ErrValue) || got.Err().Error() != recs[0].Err().Error() {
		t.Errorf("%v, want %v", got.Err(), recs[0].Err())
	}
	for _, want := range []string{`"lactate_mmol_per_l":1.2`, `"distance":"400 yd"`, `"date":"2025-03-08T00:00:00Z"`, `"after_ns":60000000000`, `"error":"the value cannot be right"`, `"extra":{"lane":"3"}`} {
		if !strings.Contains(text, want) {
			t.Errorf("no %s in %s", want, text)
		}
	}
}

// Results name their methods, and numbers that are not there are left out. D.
func TestResultsJSON(t *testing.T) {
	p := sixOf400(t)
	out, err := p.Outlook(forecast.Expected{}, lactate.Options{})
	if err != nil {
		t.Fatal(err)
	}
	b, err := p.Space(forecast.Expected{}, lactate.Options{}, forecast.Rules{})
	if err != nil {
		t.Fatal(err)
	}
	begun := p.Record()
	for i, y := range []float64{1.2, 1.4, 1.9} {
		begun.Repeats[i].Time, begun.Repeats[i].Lactate = p.Repeats[i].Time, y
	}
	a, err := p.NextRepeat(begun, forecast.Expected{}, lactate.Options{}, forecast.Rules{})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		v    any
		want []string
	}{
		{out, []string{`"lt1":{"method":"baseline + 0.5 mmol/L","speed_m_per_s":{"value":`, `"lt2":{"method":"baseline + 1.5 mmol/L"`, `"detectable_shift_m_per_s":`, `"confidence":0.9`}},
		{forecast.Threshold{Speed: lactate.Estimate{Value: math.NaN()}}, []string{`{"unknown_m_per_s":0,"missed":0}`}},
		{b, []string{`"lt2_width":0.`, `"even":{"pool":"25 m"`}},
		{a, []string{`"next":{"repeat":4,`, `"left":3`, `"reason":"`, `"lt1":{"all_m_per_s":`}},
		{protocol.Deviation{Number: 2, Late: -time.Second}, []string{`{"repeat":2,"late_ns":-1000000000}`}},
	} {
		text, err := json.Marshal(c.v)
		if err != nil {
			t.Fatal(err)
		}
		for _, want := range c.want {
			if !strings.Contains(string(text), want) {
				t.Errorf("no %s in %s", want, text)
			}
		}
	}
}
