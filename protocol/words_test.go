package protocol_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
	"example.com/steptest/lactate/heartrate"
	"example.com/steptest/protocol"
)

// stages are repeats at speeds from 1.2 m/s with these lactates.
func stages(lactates ...float64) lactate.Test {
	var t lactate.Test
	for i, y := range lactates {
		t.Stages = append(t.Stages, lactate.Stage{Intensity: 1.2 + 0.05*float64(i), Lactate: y, HeartRate: 160 - float64(i)})
	}
	return t
}

// No hint for programmers reaches a coach, and what was wrong can still be asked.
func TestInWords(t *testing.T) {
	o := lactate.Options{LT2: lactate.MaxDistance{}, Curve: func() lactate.Curve { return new(curve.Exponential) }} // which not all samples settle
	analysis := func(lactates ...float64) error {
		_, err := lactate.Analyze(stages(lactates...), o)
		return err
	}
	_, heart := heartrate.Fit(stages(1, 2, 3, 4), heartrate.Options{})
	a := analysed(t, stages(1, 4, 6, 7, 7.5), o)
	for _, c := range []struct {
		name string
		err  error
		is   error
		want string
	}{
		{"falls", analysis(3, 2.5, 2.2, 2), lactate.ErrNotRising, "lactate falls as speed rises: "},
		{"flat", analysis(2, 2, 2, 2), curve.ErrUndetermined, "the samples do not settle a curve: "},
		{"one rises alone", analysis(1, 1, 1, 1, 12), curve.ErrUndetermined, "the samples do not settle a curve: "},
		{"few", analysis(1, 2), lactate.ErrTooFewStages, "too few repeats: found 2"},
		{"heart", heart, heartrate.ErrNotRising, "heart rate does not rise with speed"},
		{"bends down", a.LT2.Err, lactate.ErrShape, "the curve has no point farthest below"},
		{"not reached", fmt.Errorf("lactate: %w", &lactate.NotReachedError{Level: 2.76, Lowest: 1, Highest: 2.11}), lactate.ErrNotReached, "not reached: it lies at 2.8 mmol/L, and the curve ends at 2.1"},
		{"joined", errors.Join(analysis(1, 2), heart), heartrate.ErrNotRising, "too few repeats: found 2 with a lactate sample, want at least 3; heart rate does not rise"},
		{"joined by hand", fmt.Errorf("lactate: of %w and %w", lactate.ErrMissing, lactate.ErrShape), lactate.ErrMissing, "of a sample"},
	} {
		got := protocol.InWords(c.err)
		if !errors.Is(got, c.is) || !strings.HasPrefix(got.Error(), c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
		for _, hint := range []string{"pace", "intensity", " x ", "ys", "lactate: ", "\n"} {
			if strings.Contains(got.Error(), hint) {
				t.Errorf("%s: %q has %q", c.name, got, hint)
			}
		}
	}
	for _, hint := range []error{a.LT2.Err, analysis(1, 2)} {
		if got := protocol.InWords(hint).Error(); strings.Contains(got, "stage") {
			t.Errorf("%q names stages", got)
		}
	}
	if protocol.InWords(nil) != nil {
		t.Error("nil is an error")
	}
}

// The plurals of words follow from the singulars, those in -ies aside.
func TestInSwimming(t *testing.T) {
	const text = "intensity, intensities, stage, stages, interval, intervals, baseline, 2 % lower, 2 % higher, it comes out too low"
	const want = "speed, speeds, repeat, repeats, bracket, brackets, baseline, 2 % slower, 2 % faster, it comes out too slow"
	if got := protocol.InSwimming(text); got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
