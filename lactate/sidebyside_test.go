package lactate_test

import (
	"encoding/json"
	"errors"
	"math"
	"reflect"
	"strings"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
)

// fullTest is an invented test that every method but the two-speed test can
// read: eight stages, the first of them easy, with durations and recovery
// samples.
func fullTest() lactate.Test {
	t := stages(
		[]float64{0.90, 1.00, 1.10, 1.20, 1.30, 1.40, 1.50, 1.60},
		[]float64{1.10, 1.10, 1.20, 1.40, 1.90, 2.70, 4.20, 6.80})
	for i := range t.Stages {
		s := &t.Stages[i]
		s.HeartRate = 100 + 100*(s.Intensity-0.9)
		s.Duration = time.Duration(200/s.Intensity) * time.Second
	}
	t.Rest = 1.0
	t.Recovery = []lactate.RecoverySample{
		{After: 1 * time.Minute, Lactate: 7.4}, {After: 3 * time.Minute, Lactate: 7.9},
		{After: 5 * time.Minute, Lactate: 7.1}, {After: 7 * time.Minute, Lactate: 6.2},
	}
	return t
}

// D: a cell of the panel is what the method gives on that curve; spreads count
// every cell once.
func TestSideBySide(t *testing.T) {
	test := fullTest()
	p := beside(t, test, lactate.SideBySideOptions{Unit: "m/s"})
	if got, want := len(p.Rows), len(lactate.Catalogue("m/s")); got != want {
		t.Fatalf("%d rows, want %d", got, want)
	}
	var answers, refusals [4]int
	lowest, highest := math.Inf(1), math.Inf(-1)
	for _, row := range p.Rows {
		if want := map[bool]int{true: 3, false: 1}[row.Definition.OnCurve]; len(row.Cells) != want {
			t.Fatalf("%v: %d cells, want %d", row.Definition.Method, len(row.Cells), want)
		}
		for k, cell := range row.Cells {
			want, werr := row.Definition.Method.Locate(test, p.Curves[k].Analysis.Curve)
			if (cell.Err == nil) != (werr == nil) || werr == nil && cell.Intensity.Value != want {
				t.Errorf("%v on %s: got %v, %v, want %v, %v", row.Definition.Method, p.Curves[k].Name, cell.Intensity.Value, cell.Err, want, werr)
			}
			_, twoSpeed := row.Definition.Method.(lactate.TwoSpeed)
			if twoSpeed != (cell.Err != nil) {
				t.Errorf("%v on %s: %v", row.Definition.Method, p.Curves[k].Name, cell.Err)
			}
			if cell.Err != nil {
				refusals[row.Definition.Target]++
				continue
			}
			answers[row.Definition.Target]++
			if row.Definition.Target == lactate.SecondThreshold {
				lowest, highest = min(lowest, want), max(highest, want)
			}
		}
	}
	for _, target := range []lactate.Target{lactate.OtherPoint, lactate.FirstThreshold, lactate.SecondThreshold} {
		s := p.Spread(target)
		if s.Target != target || s.Answers != answers[target] || s.Refusals != refusals[target] {
			t.Errorf("spread of %v: %+v, want %d answers and %d refusals", target, s, answers[target], refusals[target])
		}
	}
	s := p.Spread(lactate.SecondThreshold)
	if s.Lowest.Intensity != lowest || s.Highest.Intensity != highest || !(highest > lowest) {
		t.Errorf("spread %+v, want %v to %v", s, lowest, highest)
	}
}

// D: with the cubic refused (three stages), its column is empty and the rest
// stands.
func TestSideBySideOfFewStages(t *testing.T) {
	three := stages([]float64{1.2, 1.3, 1.4}, []float64{1.5, 2.5, 5})
	p := beside(t, three, lactate.SideBySideOptions{Curves: lactate.CommonCurves()[1:]})
	if p.Curves[0].Err != nil || p.Curves[1].Err == nil || p.Curves[1].Analysis != nil {
		t.Errorf("got %v and %v, want a fit and an error", p.Curves[0].Err, p.Curves[1].Err)
	}
	for _, row := range p.Rows {
		if row.Definition.Method == (lactate.Fixed{Lactate: 4}) && (row.Cells[0].Err != nil || row.Cells[1].Err != p.Curves[1].Err) {
			t.Errorf("%+v", row.Cells)
		}
		if _, ok := row.Definition.Method.(lactate.FixedSlope); ok && !strings.Contains(row.Cells[0].Err.Error(), "slope above zero") {
			t.Error(row.Cells[0].Err)
		}
	}
}

func TestSideBySideRefuses(t *testing.T) {
	good := fullTest()
	falling := stages([]float64{60, 70, 80, 90}, []float64{8, 4, 2, 1.5})
	if _, err := lactate.SideBySide(falling, lactate.SideBySideOptions{}); !errors.Is(err, lactate.ErrNotRising) {
		t.Error(err)
	}
	bad := stages([]float64{1, math.NaN()}, []float64{1, -2})
	var fault *lactate.StageError
	if _, err := lactate.SideBySide(bad, lactate.SideBySideOptions{}); !errors.As(err, &fault) {
		t.Error(err)
	}
	_, err := lactate.SideBySide(good, lactate.SideBySideOptions{
		Definitions: []lactate.Definition{{Method: lactate.Fixed{}}, {}}, Curves: []lactate.NamedCurve{{Name: "none"}}, Options: lactate.Options{Confidence: 2},
	})
	for _, word := range []string{"Definitions[1]", "Curves[0]", "Confidence"} {
		if !errors.Is(err, lactate.ErrOptions) || !strings.Contains(err.Error(), word) {
			t.Errorf("error %q does not name %s", err, word)
		}
	}
}

// D: intervals come with resamples.
func TestSideBySideIntervals(t *testing.T) {
	p := beside(t, fullTest(), lactate.SideBySideOptions{Unit: "m/s", Options: lactate.Options{Resamples: 100}})
	for _, row := range p.Rows {
		for _, cell := range row.Cells {
			if cell.Err == nil && !cell.Intensity.HasInterval() {
				t.Errorf("%v has no interval", cell.Method)
			}
		}
	}
}

// D: rows are whole, comparable, differ, and print.
func TestCatalogue(t *testing.T) {
	seen := map[lactate.Method]bool{}
	names := map[string]bool{}
	for _, e := range lactate.Catalogue("m/s") {
		if e.Method == nil || e.Needs == "" || e.Source == "" || e.Attested == "" || e.Year < 1970 || e.Year > 2020 {
			t.Errorf("%+v: something is missing", e)
		}
		if !reflect.TypeOf(e.Method).Comparable() || seen[e.Method] || names[e.Method.String()] {
			t.Errorf("%v: not comparable, or twice", e.Method)
		}
		seen[e.Method], names[e.Method.String()] = true, true
		b, err := json.Marshal(e)
		if err != nil || !strings.Contains(string(b), e.Target.String()) {
			t.Errorf("%s %v", b, err)
		}
	}
	for _, m := range lactate.CoreMethods() {
		if !seen[m] {
			t.Errorf("core method %v is not in the catalogue", m)
		}
	}
	// D: 1 m/s is 3.6 km/h, so that the same test in km/h has the same threshold.
	x := map[string]float64{}
	for unit, scale := range map[string]float64{"m/s": 1, "km/h": 3.6} {
		test := fullTest()
		for i := range test.Stages {
			test.Stages[i].Intensity *= scale
		}
		c := fitted(t, new(curve.Exponential), test)
		for _, e := range lactate.Catalogue(unit) {
			if m, ok := e.Method.(lactate.FixedSlope); ok {
				v, err := m.Locate(test, c)
				if err != nil {
					t.Fatal(err)
				}
				x[unit] += v / scale
			}
		}
	}
	near(t, "fixed slopes in km/h and m/s", x["km/h"], x["m/s"], 1e-9)
}

// D: what has no threshold writes its reason, and nothing writes a NaN.
func TestPanelJSON(t *testing.T) {
	p := beside(t, stages([]float64{1.2, 1.3, 1.4}, []float64{1.5, 2.5, 5}), lactate.SideBySideOptions{Curves: lactate.CommonCurves()[1:]})
	b, err := json.Marshal(p)
	if err != nil {
		t.Fatal(err)
	}
	var got struct {
		Curves []struct{ Name, Error string }
		Rows   []struct {
			Definition struct{ Method, Target string }
			Cells      []struct {
				Intensity struct{ Value *float64 }
				Error     string
			}
		}
	}
	if err := json.Unmarshal(b, &got); err != nil {
		t.Fatal(err)
	}
	if got.Curves[0].Error != "" || got.Curves[1].Error == "" || got.Curves[1].Name != "cubic" {
		t.Errorf("%+v", got.Curves)
	}
	for i, row := range got.Rows {
		if row.Definition.Method != p.Rows[i].Definition.Method.String() || row.Definition.Target != p.Rows[i].Definition.Target.String() {
			t.Errorf("%+v", row.Definition)
		}
		for k, cell := range row.Cells {
			want := p.Rows[i].Cells[k]
			if (cell.Error == "") != (want.Err == nil) || want.Err == nil && *cell.Intensity.Value != want.Intensity.Value {
				t.Errorf("%s: %+v, want %+v", row.Definition.Method, cell, want)
			}
		}
	}
	spread, err := json.Marshal(p.Spread(lactate.SecondThreshold))
	if err != nil || !strings.Contains(string(spread), `"target":"LT2"`) {
		t.Errorf("%s %v", spread, err)
	}
	r := influenced(t, fullTest(), lactate.Options{})
	if b, err = json.Marshal(r); err != nil || !strings.Contains(string(b), `"left_out":[0,1,2,3,4,5,6,7]`) {
		t.Errorf("%s %v", b, err)
	}
}
