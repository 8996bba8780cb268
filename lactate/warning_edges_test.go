package lactate_test

import (
	"strings"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
)

// Stages are called by the numbers that they were given, not by their place in
// order of intensity.
func TestWarningsNumberAsGiven(t *testing.T) {
	xs := []float64{1.1, 1.15, 1.2, 1.25, 1.36, 1.34} // the last, all out, was slower than the one before
	test := stages(xs, []float64{1.2, 1.3, 1.7, 2.5, 7.6, 10.4})
	test.Stages = append(test.Stages[:2:2], append([]lactate.Stage{{Intensity: 1.18}}, test.Stages[2:]...)...) // a lost sample counts
	a, err := lactate.Analyze(test, lactate.Options{})
	if err != nil {
		t.Fatal(err)
	}
	var said []string
	for _, w := range a.Warnings {
		said = append(said, w.String())
	}
	all := strings.Join(said, "\n")
	for _, want := range []string{
		"lactate falls from 10.4 to 7.6 mmol/L between stages 7 and 6",
		"stage 6, the hardest, has less lactate (7.6 mmol/L) than stage 7 (10.4)",
	} {
		if !strings.Contains(all, want) {
			t.Errorf("%q is not in\n%s", want, all)
		}
	}
}

// More warnings, just on either side of their limits.
func TestMoreWarningLimits(t *testing.T) {
	square := func(k float64) lactate.Test { // dips by 0.0025·k from 1.10 to 1.15
		return sampled(func(x float64) float64 { return 1 + k*(x-1.15)*(x-1.15) }, 1.1, 1.15, 1.2, 1.25, 1.3, 1.36)
	}
	parabola := func() lactate.Curve { return &curve.Polynomial{Degree: 2} }
	wrong := january()
	wrong.Stages[3].Lactate = 5
	four := wrong
	four.Stages = wrong.Stages[2:]
	for _, c := range []struct {
		name string
		test lactate.Test
		o    lactate.Options
		kind lactate.WarningKind
		want bool
	}{
		{"last equals the one before", ramp(1, 1.1, 1.3, 1.9, 8.2, 8.2), lactate.Options{}, lactate.WarnNotMaximal, false},
		{"falls to the lowest", ramp(1.6, 1.2, 1.5, 1.2, 3, 8), lactate.Options{}, lactate.WarnLactateFell, true},
		{"dips by 0.06", square(24), lactate.Options{Curve: parabola}, lactate.WarnCurveDips, true},
		{"dips by 0.04", square(16), lactate.Options{Curve: parabola}, lactate.WarnCurveDips, false},
		{"bends a little", ramp(1, 2.3, 3.65, 5.05, 6.5, 8), lactate.Options{Curve: parabola}, lactate.WarnCurveUnbent, false},
		{"wrong sample", wrong, lactate.Options{}, lactate.WarnCurveMisses, true},
		{"wrong sample, little weight", wrong, lactate.Options{Noise: lactate.Noise{Absolute: 0.2, Weight: 0.5}}, lactate.WarnCurveMisses, true},
		{"wrong sample, no weight", wrong, lactate.Options{Noise: lactate.Noise{Absolute: 0.2, Weight: -1}}, lactate.WarnCurveMisses, false},
		{"wrong sample of four", four, lactate.Options{}, lactate.WarnCurveMisses, true},
	} {
		a, err := lactate.Analyze(c.test, c.o)
		if err != nil || has(a.Warnings, c.kind) != c.want {
			t.Errorf("%s: %v, %v", c.name, a, err)
		}
	}
}
