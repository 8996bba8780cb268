package lactate_test

import (
	"errors"
	"fmt"
	"math"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
)

// D: leaving stages out by hand gives the same thresholds; the stage named is
// the one that moves the threshold most.
func TestInfluence(t *testing.T) {
	test := stages([]float64{1.4, 1.1, 1.2, 1.5, 1.3, 1.6}, []float64{2.7, 1.2, 1.4, 4.3, 1.8, 6.8})
	o := lactate.Options{Methods: []lactate.Method{lactate.Fixed{Lactate: 4}, lactate.Fixed{Lactate: 6.5}, lactate.Fixed{Lactate: 9}, lactate.LogLog{}}}
	r := influenced(t, test, o)
	if want := []int{1, 2, 4, 0, 3, 5}; len(r.LeftOut) != 6 || r.LeftOut[0] != want[0] || r.LeftOut[5] != want[5] || r.LeftOut[3] != want[3] {
		t.Errorf("left out %v, want %v", r.LeftOut, want)
	}
	most := 0.0
	for i, k := range r.LeftOut {
		var rest lactate.Test
		rest.Stages = append(rest.Stages, test.Stages[:k]...)
		rest.Stages = append(rest.Stages, test.Stages[k+1:]...)
		a := analysed(t, rest, o)
		if got, want := r.Thresholds[0].Without[i].Intensity.Value, a.Thresholds[0].Intensity.Value; got != want {
			t.Errorf("without stage %d: got %v, want %v", k+1, got, want)
		}
		if d := a.Thresholds[0].Intensity.Value - r.Thresholds[0].Whole.Intensity.Value; math.Abs(d) > math.Abs(most) {
			most = d
			if r.Thresholds[0].Shift == d && r.Thresholds[0].Most != i {
				t.Errorf("most is %d, want %d", r.Thresholds[0].Most, i)
			}
		}
	}
	if r.Thresholds[0].Shift != most {
		t.Errorf("shift %v, want %v", r.Thresholds[0].Shift, most)
	}
	// 6.5 mmol/L lies above all stages but the last.
	if got := r.Thresholds[1].Lost; len(got) != 1 || got[0] != 5 {
		t.Errorf("6.5 mmol/L is lost without %v, want the last stage", got)
	}
	if !errors.Is(r.Thresholds[1].Without[5].Err, lactate.ErrNotReached) {
		t.Error(r.Thresholds[1].Without[5].Err)
	}
	// 9 mmol/L lies above all.
	if f := r.Thresholds[2]; f.Most != -1 || f.Shift != 0 || f.Lost != nil {
		t.Errorf("%+v", f)
	}
	if test.Stages[0].Lactate != 2.7 {
		t.Error("the test was changed")
	}
}

// D: three stages without one cannot be analysed, and that is said of each.
func TestInfluenceOfThreeStages(t *testing.T) {
	r := influenced(t, stages([]float64{1.2, 1.3, 1.4}, []float64{1.5, 2.5, 5}), lactate.Options{})
	if r.LT2.Most != -1 || len(r.LT2.Lost) != 3 || !errors.Is(r.LT2.Without[0].Err, lactate.ErrTooFewStages) {
		t.Errorf("%+v", r.LT2)
	}
	if _, err := lactate.Influence(lactate.Test{}, lactate.Options{}); !errors.Is(err, lactate.ErrTooFewStages) {
		t.Error(err)
	}
}

// D (constructed): one stage pushed off a zero-noise curve moves a level near
// it most when it is left out, back to where the curve has it.
func TestInfluenceFindsTheStage(t *testing.T) {
	test := sampled(func(v float64) float64 { return 0.9 + 0.0004*math.Exp(6*v) }, 1.1, 1.2, 1.3, 1.4, 1.5, 1.6)
	test.Stages[4].Lactate += 0.8
	r := influenced(t, test, lactate.Options{Curve: exponential, LT2: lactate.MaxDistance{}, Methods: []lactate.Method{lactate.Fixed{}}})
	f := r.Thresholds[0]
	if f.Most != 4 {
		t.Errorf("most is %d, want 4", f.Most)
	}
	near(t, "without it", f.Without[4].Intensity.Value, 1.492575, 5e-7)
}

// D (constructed): a stage left out keeps its time, so that the recovery
// tangent of a parabola stays where it is whichever of the four stages is lost.
func TestInfluenceKeepsTime(t *testing.T) {
	parabola := func(v float64) float64 { m := 3 + 30*(v-1.1); return 1 + 0.05*m*m }
	test := sampled(parabola, 1.1, 1.15, 1.2, 1.25, 1.3, 1.35, 1.4)
	for i := range test.Stages {
		test.Stages[i].Duration = 90 * time.Second
	}
	test.Recovery = []lactate.RecoverySample{{After: time.Minute, Lactate: 8.7}, {After: 3 * time.Minute, Lactate: 7.7}}
	r := influenced(t, test, lactate.Options{
		Curve:   func() lactate.Curve { return &curve.Polynomial{Degree: 2} },
		Methods: []lactate.Method{lactate.RecoveryTangent{}},
	})
	f := r.Thresholds[0]
	// La = 8.2 at the end; the tangent from 2 min later touches at sqrt(52) min
	// before that.
	want := 1.4 + (2-math.Sqrt(52))/30
	near(t, "whole", f.Whole.Intensity.Value, want, 1e-9)
	for i, th := range f.Without[:6] {
		near(t, fmt.Sprint("without stage ", i+1), th.Intensity.Value, want, 1e-9)
	}
	if !errors.Is(f.Without[6].Err, lactate.ErrMissing) {
		t.Error("without the last stage:", f.Without[6].Err)
	}
}
