package lactate_test

import (
	"encoding"
	"encoding/json"
	"math"
	"strings"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
)

// D: every choice is read back from its own text, and no other text is one.
func TestChoices(t *testing.T) {
	type text interface {
		encoding.TextUnmarshaler
		String() string
	}
	check := func(name string, n int, at func(int) encoding.TextMarshaler, fresh func() text) {
		for i := range n {
			b, err := at(i).MarshalText()
			back := fresh()
			if err != nil || back.UnmarshalText(b) != nil || back.String() != string(b) {
				t.Errorf("%s %d: %q, %v, %v", name, i, b, err, back)
			}
		}
		for _, i := range []int{-1, n} {
			if b, err := at(i).MarshalText(); err == nil {
				t.Errorf("%s %d: %q, want an error", name, i, b)
			}
		}
		b, _ := at(n - 1).MarshalText()
		if err := fresh().UnmarshalText([]byte("none of them")); err == nil || !strings.Contains(err.Error(), string(b)) {
			t.Errorf("%s: %v", name, err)
		}
	}
	check("baseline", 5, func(i int) encoding.TextMarshaler { return lactate.Baseline(i) }, func() text { return new(lactate.Baseline) })
	check("chord start", 3, func(i int) encoding.TextMarshaler { return lactate.ChordStart(i) }, func() text { return new(lactate.ChordStart) })
	check("ends", 2, func(i int) encoding.TextMarshaler { return lactate.Ends(i) }, func() text { return new(lactate.Ends) })
	check("scale", 2, func(i int) encoding.TextMarshaler { return lactate.LactateScale(i) }, func() text { return new(lactate.LactateScale) })
	check("target", 3, func(i int) encoding.TextMarshaler { return lactate.Target(i) }, func() text { return new(lactate.Target) })
}

// D: a definition, a test and a judgement come back as they were.
func TestJSONComesBack(t *testing.T) {
	m := lactate.ModifiedMaxDistance{Ends: lactate.MeasuredEnds, Start: lactate.ChordAtFirstRise, Rise: 0.5}
	var backM lactate.ModifiedMaxDistance
	if b, err := json.Marshal(m); err != nil || json.Unmarshal(b, &backM) != nil || backM != m || !strings.Contains(string(b), `"measured ends"`) {
		t.Errorf("%s, %v, %v", b, err, backM)
	}
	test := lactate.Test{Rest: 1, Stages: []lactate.Stage{{Intensity: 1.1, Lactate: 1.2, HeartRate: 130, Duration: time.Minute}, {Intensity: 1.2}}, Recovery: []lactate.RecoverySample{{After: time.Minute, Lactate: 5}}}
	b, err := json.Marshal(test)
	want := `{"rest_mmol_per_l":1,"stages":[{"intensity":1.1,"lactate_mmol_per_l":1.2,"heart_rate_per_min":130,"duration_ns":60000000000},{"intensity":1.2}],"recovery":[{"after_ns":60000000000,"lactate_mmol_per_l":5}]}`
	if err != nil || string(b) != want {
		t.Errorf("%s, %v", b, err)
	}
	var back lactate.Test
	if err := json.Unmarshal(b, &back); err != nil || len(back.Stages) != 2 || back.Stages[0] != test.Stages[0] || back.Recovery[0] != test.Recovery[0] || back.Rest != 1 {
		t.Errorf("%+v, %v", back, err)
	}
	c := compared(t, january(), march(), lactate.CompareOptions{})
	var j lactate.Judgement
	if b, err := json.Marshal(c.Measured); err != nil || json.Unmarshal(b, &j) != nil || j.Shift != c.Measured.Shift || j.Grade != c.Measured.Grade || j.Probability != c.Measured.Probability {
		t.Errorf("%s, %v, %+v", b, err, j)
	}
}

// Results say the same as values and behind pointers, name their curve and its
// numbers, and say with what confidence their intervals were made.
func TestResultsJSON(t *testing.T) {
	o := lactate.CompareOptions{Options: lactate.Options{Confidence: 0.8, Curve: func() lactate.Curve { return new(curve.Polynomial) }}, Power: 0.7}
	a := analysed(t, january(), o.Options)
	c := compared(t, january(), march(), o)
	s, err := lactate.FollowSeason([]lactate.DatedTest{{Date: time.Unix(0, 0), Test: january()}, {Date: time.Unix(5e6, 0), Test: march()}}, o)
	if err != nil {
		t.Fatal(err)
	}
	o.Curve = exponential
	e := compared(t, january(), march(), o)
	unknown := lactate.CommonExponential{Rate: 14, FitErrors: []float64{0, math.NaN()}}
	for _, v := range []struct {
		name   string
		v      any
		has    []string
		hasNot string
	}{
		{"analysis", *a, []string{`"curve":"cubic"`, `"curve_parameters":{"degree":3,"coefficients":[`, `"confidence":0.8`}, "Degree"},
		{"analysis behind a pointer", a, []string{`"curve":"cubic"`, `"lt1":`}, "Degree"},
		{"change", *c, []string{`"shift":`, `"probability_right":`, `"grade":"faster"`, `"confidence":0.8,"power":0.7`}, "fit_errors"},
		{"change behind a pointer", c, []string{`"before":{"curve":"cubic"`}, "asymptote"},
		{"change by an exponential", e, []string{`"exponential":{"rate":`, `"fit_errors":[0,`}, "FitErrors"},
		{"exponential without an error of the fit", unknown, []string{`"rate":14`}, "fit_error"},
		{"season", s, []string{`"confidence":0.8,"power":0.7`, `"trend_per_four_weeks":`}, `"p_value":0,`},
		{"polynomial that is not fitted", new(curve.Polynomial), []string{`{"degree":0}`}, "coefficients"},
		{"band", lactate.BandPoint{Intensity: 1, Lactate: lactate.Estimate{Value: 2, Low: 1, High: 3}}, []string{`{"intensity":1,"lactate_mmol_per_l":{"value":2,"low":1,"high":3}}`}, "Low"},
	} {
		b, err := json.Marshal(v.v)
		if err != nil {
			t.Errorf("%s: %v", v.name, err)
		}
		for _, has := range v.has {
			if !strings.Contains(string(b), has) {
				t.Errorf("%s: lacks %s in %s", v.name, has, b)
			}
		}
		if strings.Contains(string(b), v.hasNot) {
			t.Errorf("%s: %s in %s", v.name, v.hasNot, b)
		}
	}
}
