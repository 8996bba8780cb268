package lactate_test

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
)

// D: a rise that a stage at or before the curve's minimum has is none.
func TestObservedRiseAfterTheMinimum(t *testing.T) {
	dip := ramp(4.6, 1.2, 1.0, 1.1, 1.4, 2.6, 5.8)
	c := fitted(t, new(curve.Polynomial), dip)
	m := lactate.ObservedRise{}
	x, err := m.Locate(dip, c)
	if low, y := c.(*curve.Polynomial).Minimum(1.1, 1.4); err != nil || !(low > 1.1) || !(y+1 < 4.6) || x != 1.35 && x != 1.4 {
		t.Errorf("%v, %v; the curve is lowest at %v: %v", x, err, low, y)
	}
	// On an exponential the minimum is the first stage itself.
	high := ramp(2.8, 1.0, 1.1, 1.3, 1.8, 4.0, 8.0)
	if x, err := m.Locate(high, fitted(t, new(curve.Exponential), high)); err != nil || x != 1.35 {
		t.Errorf("%v, %v", x, err)
	}
}

// D: a flat lactate minimum test is no minimum, and one at an end or beyond it is not
// reached, and the side is said; lactate that was hardly raised is raised.
func TestLactateMinimumEdges(t *testing.T) {
	for _, c := range []struct {
		ys   []float64
		want error
		says string
	}{
		{[]float64{2, 2, 2}, lactate.ErrShape, ""},
		{[]float64{1, 2, 5}, lactate.ErrNotReached, "below"},
		{[]float64{5, 2, 1}, lactate.ErrNotReached, "above"},
		{[]float64{5, 3.3, 2}, lactate.ErrNotReached, "above"},
		{[]float64{2, 1, 2}, nil, ""},
	} {
		test := lactate.LactateMinimumTest{Stages: stages([]float64{1, 2, 3}, c.ys).Stages}
		p, err := lactate.LactateMinimum(test)
		if !errors.Is(err, c.want) || err != nil && !strings.Contains(err.Error(), c.says) || err == nil && p.Intensity != 2 {
			t.Errorf("%v: %+v, %v", c.ys, p, err)
		}
	}
	for _, c := range []struct {
		raised, least float64
		want          error
	}{{1, 1, lactate.ErrShape}, {1.01, 1, nil}, {0.5, 0.3, nil}, {0.2, 0.3, lactate.ErrShape}} {
		_, err := lactate.LactateMinimum(lactate.LactateMinimumTest{
			Raised: []lactate.RecoverySample{{Lactate: c.raised}}, Stages: stages([]float64{1, 2, 3}, []float64{c.least + 1, c.least, c.least + 1}).Stages})
		if !errors.Is(err, c.want) {
			t.Errorf("raised to %v, %v at the least: %v", c.raised, c.least, err)
		}
	}
}

// D: two log–log lines that are less steep than lactate in proportion to
// intensity still have a join.
func TestLogLogOfASlowRise(t *testing.T) {
	slow := sampled(func(x float64) float64 { return math.Max(1, math.Sqrt(x/1.2)) }, 1.05, 1.1, 1.15, 1.2, 1.25, 1.3, 1.35)
	located(t, lactate.LogLog{}, slow, nil, 1.2, 1e-9)
}

// constant is a definition with one answer.
type constant struct {
	name string
	at   float64
}

func (c constant) Locate(lactate.Test, lactate.Curve) (float64, error) { return c.at, nil }
func (c constant) String() string                                      { return c.name }

// Of readings that agree the first is named.
func TestSpreadNamesTheFirst(t *testing.T) {
	var entries []lactate.Definition
	for _, c := range []constant{{"a", 1.2}, {"b", 1.2}, {"c", 1.3}, {"d", 1.3}} {
		entries = append(entries, lactate.Definition{Method: c, Target: lactate.SecondThreshold})
	}
	p := beside(t, january(), lactate.SideBySideOptions{Definitions: entries, Unit: "m/s"})
	if s := p.Spread(lactate.SecondThreshold); s.Lowest.Method.String() != "a" || s.Highest.Method.String() != "c" {
		t.Errorf("%+v", s)
	}
}

// D: the tangent from the recovery, against a search of a hundred thousand
// places: early, and between the last two stages.
func TestRecoveryTangentByGrid(t *testing.T) {
	for back, last := range map[time.Duration]bool{15 * time.Second: true, 4 * time.Minute: false} {
		test := january()
		for i := range test.Stages {
			test.Stages[i].Duration = 5 * time.Minute
		}
		c := fitted(t, new(curve.Exponential), test)
		end := c.Predict(1.36)
		// Back at the value at the end exactly at the last sample, which is enough.
		test.Recovery = []lactate.RecoverySample{{After: back / 2, Lactate: 12}, {After: back, Lactate: end}}
		x, err := lactate.RecoveryTangent{}.Locate(test, c)
		if err != nil {
			t.Fatal(err)
		}
		best, at := math.Inf(1), 0.0
		for i := range 100_001 {
			s := 300 + 1500*float64(i)/100_000 // seconds, over five gaps between stages
			k := min(int(s/300)-1, 4)
			a, b := test.Stages[k].Intensity, test.Stages[k+1].Intensity
			v := a + (b-a)*(s/300-float64(k+1))
			if f := (c.Predict(v) - end) / (1800 + back.Seconds() - s); f < best {
				best, at = f, v
			}
		}
		if !(math.Abs(x-at) <= 1e-5) || (x > 1.30) != last {
			t.Errorf("back after %v: %v, by search %v", back, x, at)
		}
	}
	// Samples above the last stage's own, but not above the curve's end: lactate
	// was never back, since it was never above.
	below := january()
	c := fitted(t, new(curve.Exponential), below)
	end := c.Predict(1.36)
	for i := range below.Stages {
		below.Stages[i].Duration = time.Minute
	}
	below.Stages[5].Lactate = end - 0.5
	below.Recovery = []lactate.RecoverySample{{After: time.Minute, Lactate: end - 0.2}, {After: 2 * time.Minute, Lactate: end - 0.3}}
	if x, err := (lactate.RecoveryTangent{}).Locate(below, c); !errors.Is(err, lactate.ErrShape) {
		t.Errorf("%v, %v", x, err)
	}
	missing := january()
	for i := range missing.Stages {
		missing.Stages[i].Duration = time.Minute
	}
	missing.Stages[0].Duration = 0
	if _, err := (lactate.RecoveryTangent{}).Locate(missing, fitted(t, new(curve.Exponential), missing)); err == nil || !strings.Contains(err.Error(), "stage 1 ") {
		t.Errorf("%v", err)
	}
}

// D: the peak may be the sample of the last stage, of a test below 1 m/s and of
// two stages of one intensity, the second lost.
func TestPeakAtTheEnd(t *testing.T) {
	for _, s := range [][]lactate.Stage{
		{{Intensity: 0.8, Lactate: 2}, {Intensity: 0.9, Lactate: 8}},
		{{Intensity: 1.2, Lactate: 2}, {Intensity: 1.3, Lactate: 8}, {Intensity: 1.3}},
		{{Intensity: 1.2, Lactate: 2}, {Intensity: 1.3}, {Intensity: 1.3, Lactate: 8}},
	} {
		p, err := lactate.PeakLactate(lactate.Test{Stages: s, Recovery: []lactate.RecoverySample{{After: time.Minute, Lactate: 7}}})
		if err != nil || p != (lactate.Peak{Lactate: 8, Passed: true}) {
			t.Errorf("%v: %+v, %v", s, p, err)
		}
	}
	// A last stage without a sample has no say.
	p, err := lactate.PeakLactate(lactate.Test{
		Stages:   []lactate.Stage{{Intensity: 1, Lactate: 9}, {Intensity: 1.3}},
		Recovery: []lactate.RecoverySample{{After: time.Minute, Lactate: 7}},
	})
	if err != nil || p.Lactate != 7 || p.Passed {
		t.Errorf("%+v, %v", p, err)
	}
}

// uneven is in proportion to intensity, but for the last bit.
type uneven struct{ bare }

// D: lactate in proportion to intensity has no lowest equivalent, and none is found
// in the last bit of the numbers.
func TestFlatEquivalent(t *testing.T) {
	if _, err := (lactate.LowestLactateEquivalent{}).Locate(january(), uneven{}); !errors.Is(err, lactate.ErrShape) || !strings.Contains(err.Error(), "as low at an end") {
		t.Errorf("uneven: %v", err)
	}
	test := sampled(func(x float64) float64 { return 2 * x }, 1, 1.25, 1.5, 1.75, 2)
	x, err := lactate.LowestLactateEquivalent{}.Locate(test, bare{fitted(t, &curve.Polynomial{Degree: 1}, test)})
	if !errors.Is(err, lactate.ErrShape) {
		t.Errorf("%v, %v", x, err)
	}
}
