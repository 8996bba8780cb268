package forecast_test

import (
	"math"
	"slices"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/forecast"
	"pgregory.net/rapid"
)

// The better design keeps to its rules, aims at what it is told, and never claims
// what it does not have. Evidence: D.
func TestPropBetter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		last := time.Duration(rapid.IntRange(270, 330).Draw(t, "last")) * time.Second
		first := last + time.Duration(rapid.IntRange(35, 60).Draw(t, "range"))*time.Second
		p := even(stagesToPlace(t), first, last)
		r := forecast.Rules{Least: time.Duration(rapid.IntRange(1, 4).Draw(t, "least")) * time.Second}
		aim := forecast.Aim(rapid.IntRange(0, 2).Draw(t, "aim"))
		b, err := forecast.Better(p, aim, forecast.Expected{}, lactate.Options{}, r)
		if err != nil {
			t.Fatal(err)
		}
		n := len(p)
		for i := range n {
			target := b.Stages[i]
			if target.Duration%time.Second != 0 || !(math.Abs(target.Intensity*target.Duration.Seconds()-400) <= 1e-9) {
				t.Fatalf("stage %+v", target)
			}
			if i > 0 && b.Stages[i-1].Duration-target.Duration < r.Least {
				t.Fatalf("targets %v", seconds(b.Stages))
			}
		}
		if b.Stages[0].Duration != p[0].Duration || b.Stages[n-1].Duration != p[n-1].Duration {
			t.Fatalf("ends of %v", seconds(b.Stages))
		}
		ratios := []float64{b.LT2, b.LT1, b.Shift}
		if b.AsGood && !slices.Equal(ratios, []float64{1, 1, 1}) || !b.AsGood && !(ratios[aim] <= 0.95) || !(slices.Max(ratios) <= 1+1e-9) {
			t.Fatalf("%v: widths %v, as good %v", aim, ratios, b.AsGood)
		}
		if n > 4 {
			return
		}
		again, err := forecast.Better(p, aim, forecast.Expected{}, lactate.Options{}, r)
		if err != nil || !slices.Equal(seconds(again.Stages), seconds(b.Stages)) {
			t.Fatalf("a second time %v, error %v", again, err)
		}
	})
}

// Where there is no room to move, even steps are as good, and the answer says so.
func TestEvenStepsAsGood(t *testing.T) {
	p := even(6, 320e9, 300e9)
	b, err := forecast.Better(p, forecast.NarrowLT2, forecast.Expected{}, lactate.Options{}, forecast.Rules{Least: 4 * time.Second})
	if err != nil {
		t.Fatal(err)
	}
	if !b.AsGood || !slices.Equal(seconds(b.Stages), []float64{320, 316, 312, 308, 304, 300}) {
		t.Errorf("%+v", b)
	}
}
