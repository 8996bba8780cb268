package between_test

import (
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/between"
	"example.com/steptest/lactate/curve"
)

func follow(t *testing.T, tests []lactate.DatedTest, readings []between.Reading, o between.Options) *between.Course {
	t.Helper()
	m, err := between.New(tests, o)
	if err != nil {
		t.Fatal(err)
	}
	c, err := m.Follow(readings)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// Kind D: without readings, and with a drift beyond all measure, the place on the day of
// the last test is the posterior of its shift, with the day-to-day term. The bracket is
// normal and the posterior is not, quite.
func TestTestsAlone(t *testing.T) {
	for _, n := range []int{2, 4} {
		rng := rand.New(rand.NewPCG(uint64(n), 20))
		tests, _, _, _ := swimmer{exponential, 0.005, normalOffsets(0), n, 0}.simulate(rng)
		c := follow(t, tests, nil, between.Options{Drift: 1})
		var xs, ys, weights []float64
		var groups []int
		for g, d := range tests {
			for _, s := range d.Test.Stages {
				xs, ys, groups = append(xs, s.Intensity), append(ys, s.Lactate), append(groups, g)
			}
		}
		var about curve.Shifted
		if err := about.Fit(xs, ys, groups); err != nil {
			t.Fatal(err)
		}
		for i, x := range xs {
			sd := lactate.DefaultNoise().Lactate(about.Predict(x, groups[i]))
			weights = append(weights, 1/(sd*sd))
		}
		var joint curve.ConvexShifted
		if err := joint.FitWeighted(xs, ys, weights, groups); err != nil {
			t.Fatal(err)
		}
		want := joint.Shift(n - 1).Plus(0.008 * c.Reference)
		got := c.At(tests[n-1].Date).Shift
		near(t, "shift", got.Value, want.Mean(), 1e-4)
		near(t, "low", got.Low, want.Quantile(0.05), 1e-3)
		near(t, "high", got.High, want.Quantile(0.95), 1e-3)
		if alone := c.Tests()[n-1].Shift; !(math.Abs(alone.Low-got.Low) <= 1e-4) {
			t.Errorf("the test alone has %v, without readings it is %v", alone, got)
		}
	}
}

// A reading in the other unit of intensity says the same; the order of tests and readings
// does not matter.
func TestInvariance(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 20))
	tests, readings, eve, _ := swimmer{exponential, 0.005, normalOffsets(0.3), 3, 0}.simulate(rng)
	c := follow(t, tests, readings, between.Options{})
	shuffled := slices.Clone(readings)
	rng.Shuffle(len(shuffled), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
	backward := slices.Clone(tests)
	slices.Reverse(backward)
	if got := follow(t, backward, shuffled, between.Options{}).At(eve); got != c.At(eve) {
		t.Errorf("in another order: %v, want %v", got, c.At(eve))
	}
	const factor = 3.6
	for i := range tests {
		tests[i].Test.Stages = slices.Clone(tests[i].Test.Stages)
		for k := range tests[i].Test.Stages {
			tests[i].Test.Stages[k].Intensity *= factor
		}
	}
	for i := range readings {
		readings[i].Intensity *= factor
	}
	got, want := follow(t, tests, readings, between.Options{}).At(eve).LT2, c.At(eve).LT2
	near(t, "in km/h", got.Value, factor*want.Value, 1e-3)
	near(t, "in km/h, low", got.Low, factor*want.Low, 1e-3)
}

// Readings outside the tested range are not used, flat ones tell next to nothing, and both
// are said; so are readings without a kind, by another analyser, and before all tests.
func TestWarnings(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 20))
	tests, readings, eve, _ := swimmer{exponential, 0.005, normalOffsets(0.3), 3, 0}.simulate(rng)
	c := follow(t, tests, readings, between.Options{})
	if len(c.Warnings) != 0 {
		t.Errorf("warnings %v, want none", c.Warnings)
	}
	more := append(slices.Clone(readings),
		between.Reading{Date: on(30), Intensity: 1.6, Lactate: 9, Kind: kinds[0]},
		between.Reading{Date: on(30), Intensity: 0.9, Lactate: 1, Kind: kinds[0]},
		between.Reading{Date: on(31), Intensity: 1.16, Lactate: 1.1, Kind: kinds[1]},
		between.Reading{Date: on(32), Intensity: 1.30, Lactate: 2.5},
		between.Reading{Date: on(33), Intensity: 1.30, Lactate: 2.4, Kind: kinds[1], Analyser: "B"},
		between.Reading{Date: on(-9), Intensity: 1.30, Lactate: 2.6, Kind: kinds[1]},
	)
	d := follow(t, tests, more, between.Options{})
	var found []lactate.WarningKind
	for _, w := range d.Warnings {
		found = append(found, w.Kind)
		if s := w.Text("reading"); strings.Contains(s, "%!") || strings.Contains(s, "{") {
			t.Errorf("found %q", s)
		}
	}
	want := []lactate.WarningKind{between.WarnOutsideRange, between.WarnOutsideRange, between.WarnFlatThere, between.WarnNoKind, between.WarnOneOfKind, between.WarnOtherAnalyser, between.WarnBeforeTests}
	if !slices.Equal(found, want) {
		t.Errorf("warnings %v, want %v", found, want)
	}
	none := follow(t, tests, append(slices.Clone(readings), more[len(readings):len(readings)+3]...), between.Options{})
	if a, b := c.At(eve), none.At(eve); a != b {
		t.Errorf("readings that are not used: %v, want %v", b, a)
	}
	if _, err := json.Marshal(d); err != nil {
		t.Error(err)
	}
	if _, err := json.Marshal(d.Due(eve)); err != nil {
		t.Error(err)
	}
}

// A reading far from all that was known is news; a test is due as the bracket widens, and if
// readings disagree with the last one.
func TestNewsAndDue(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 20))
	tests, readings, eve, _ := swimmer{exponential, 0.003, normalOffsets(0.2), 3, 0}.simulate(rng)
	last := tests[2].Date
	readings = slices.DeleteFunc(readings, func(r between.Reading) bool { return r.Date.After(last) })
	c := follow(t, tests, readings, between.Options{})
	due := c.Due(last.AddDate(0, 0, 1))
	if due.Worth() || due.Since != 0 || !math.IsNaN(due.Chance) {
		t.Errorf("a day after a test: %+v", due)
	}
	if late := c.Due(last.AddDate(1, 0, 0)); !late.Wide || !late.Worth() || !(late.AfterTest < late.Half) {
		t.Errorf("a year after a test: %+v", late)
	}
	before, after := c.Due(due.WideOn.AddDate(0, 0, -1)), c.Due(due.WideOn)
	if before.Wide || !after.Wide {
		t.Errorf("wide on %v: the day before %v, the day %v", due.WideOn, before.Half/before.Matters, after.Half/after.Matters)
	}
	moved := slices.Clone(readings)
	at := c.At(eve).LT2.Value
	for i := range 8 {
		moved = append(moved, between.Reading{Date: last.AddDate(0, 0, 3+3*i), Intensity: at, Lactate: 1.2, Kind: kinds[i%3]})
	}
	d := follow(t, tests, moved, between.Options{})
	if got := d.Due(eve); !got.Disagree || !(got.Moved.Low > 0) || got.Since != 8 {
		t.Errorf("readings that lie low: %+v", got)
	}
	one := append(slices.Clone(readings), between.Reading{Date: last.AddDate(0, 0, 3), Intensity: at, Lactate: 7, Kind: kinds[0]})
	e := follow(t, tests, one, between.Options{})
	if r := e.Readings[len(e.Readings)-1]; !r.News || !(r.Percentile > 0.99) || !(r.Expected.High < 7) {
		t.Errorf("a reading of 7 mmol/L: %+v", r)
	}
}

func TestRefusals(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 20))
	tests, readings, _, _ := swimmer{exponential, 0.005, normalOffsets(0.3), 2, 0}.simulate(rng)
	for _, o := range []between.Options{{Drift: -1}, {DayToDay: 2}, {Offset: math.NaN()}, {Matters: math.Inf(1)}, {Lactate: lactate.Options{Confidence: 2}}} {
		if _, err := between.New(tests, o); err == nil || !strings.Contains(err.Error(), "found") {
			t.Errorf("%+v: error %v", o, err)
		}
	}
	if _, err := between.New(nil, between.Options{}); err == nil {
		t.Error("no test: no error")
	}
	if _, err := between.New([]lactate.DatedTest{{Date: monday}}, between.Options{}); !errors.Is(err, lactate.ErrTooFewStages) {
		t.Errorf("a test without stages: %v", err)
	}
	m, err := between.New(tests, between.Options{})
	if err != nil {
		t.Fatal(err)
	}
	_, err = m.Follow(append(readings, between.Reading{}, between.Reading{Date: monday, Intensity: math.NaN(), Lactate: -1, HeartRate: -1}))
	for _, want := range []string{"reading 29: date", "reading 29: intensity", "reading 30: intensity", "reading 30: lactate", "reading 30: heart rate"} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v lacks %q", err, want)
		}
	}
	var many []between.Reading
	for i := range 122 {
		many = append(many, between.Reading{Date: on(20), Intensity: 1.3, Lactate: 2, Kind: strings.Repeat("x", 1+i/2)})
	}
	if _, err := m.Follow(many); err == nil || !strings.Contains(err.Error(), "61 kinds") {
		t.Errorf("61 kinds: %v", err)
	}
	if one := follow(t, tests[:1], readings, between.Options{}); one.Warnings[0].Kind != between.WarnOneShift || !one.At(monday).LT2.HasInterval() {
		t.Errorf("one test: %v", one.Warnings)
	}
}

// What no function returned knows nothing, and says so.
func TestZeroValues(t *testing.T) {
	if _, err := new(between.Model).Follow(nil); err == nil || !strings.Contains(err.Error(), "found a model without tests") {
		t.Errorf("a model without tests: %v", err)
	}
	c := new(between.Course)
	if p := c.At(monday); !math.IsNaN(p.Shift.Value) || !math.IsNaN(p.LT2.Value) || !p.Date.Equal(monday) || c.Tests() != nil {
		t.Errorf("no course puts the curve at %+v, by %v", p, c.Tests())
	}
	if d := c.Due(monday); d.Worth() || !math.IsNaN(d.Chance) || !math.IsNaN(d.Place.Shift.Value) {
		t.Errorf("no course: %+v", d)
	} else if _, err := d.MarshalJSON(); err != nil {
		t.Error(err)
	}
}
