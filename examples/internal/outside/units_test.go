package outside_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/chart"
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/zones"
)

func in(unit string, scale float64) lactate.Test {
	t := test()
	t.Unit = unit
	for i := range t.Stages {
		t.Stages[i].Intensity *= scale
		t.Stages[i].HeartRate = 120 + 10*float64(i)
	}
	return t
}

// A cyclist reads watts everywhere, and no word for swimmers; zones refuse to be paces.
func TestCyclist(t *testing.T) {
	a, err := lactate.Analyze(in(lactate.Watts, 200), lactate.Options{Resamples: 200})
	if err != nil {
		t.Fatal(err)
	}
	p, err := chart.OneTest(a, chart.Options{})
	if err != nil {
		t.Fatal(err)
	}
	// A pool asked for by mistake gives no paces either.
	for name, text := range map[string]string{
		"thresholds": table.Thresholds(a, table.Options{Pool: pace.SCM()}).String(), "line": table.Threshold(a.LT2, table.Options{Unit: a.Unit}),
		"stages": table.Stages(a.Test(), table.Options{}).String(), "picture": p.Alt(),
	} {
		if !strings.Contains(text, "W") || strings.Contains(text, "m/s") || strings.Contains(text, "/100") {
			t.Errorf("%s: %s", name, text)
		}
	}
	if _, err := chart.OneTest(a, chart.Options{Pool: pace.SCM()}); err == nil {
		t.Error("paces for watts in a picture")
	}
	if _, err := zones.ProfileOf(a); !errors.Is(err, zones.ErrUnit) {
		t.Error(err)
	}
	if _, err := lactate.Compare(in(lactate.Watts, 200), in(lactate.KilometresPerHour, 12), lactate.CompareOptions{}); err == nil {
		t.Error("watts compared with km/h")
	}
}

// A runner reads km/h, and the zones are those of the same speeds in m/s.
func TestRunner(t *testing.T) {
	o := lactate.Options{Noise: lactate.Noise{Absolute: 0.2}}
	kmh, err := lactate.Analyze(in(lactate.KilometresPerHour, 3.6*3), o)
	if err != nil {
		t.Fatal(err)
	}
	ms, err := lactate.Analyze(in(lactate.MetresPerSecond, 3), o)
	if err != nil {
		t.Fatal(err)
	}
	if text := table.Threshold(kmh.LT2, table.Options{Unit: kmh.Unit}); !strings.Contains(text, " km/h by ") {
		t.Error(text)
	}
	a, err := zones.ProfileOf(kmh)
	if err != nil {
		t.Fatal(err)
	}
	b, err := zones.ProfileOf(ms)
	if err != nil {
		t.Fatal(err)
	}
	if !(math.Abs(float64(a.LT2.Speed-b.LT2.Speed)) <= 1e-6) || !(math.Abs(float64(a.Top-b.Top)) <= 1e-12) {
		t.Errorf("%v and %v", a.LT2, b.LT2)
	}
	y, errA := a.Lactate(a.LT2.Speed)
	z, errB := b.Lactate(b.LT2.Speed)
	if errA != nil || errB != nil || !(math.Abs(y-z) <= 1e-6) {
		t.Errorf("%v and %v; %v, %v", y, z, errA, errB)
	}
	q := protocol.Request{Pool: pace.LCM()}
	if from, want := q.FromLast(kmh).Best, q.FromLast(ms).Best; from <= 0 || (from-want).Abs() > 1 {
		t.Errorf("%v, want %v", from, want)
	}
}
