package lactate

import (
	"cmp"
	"fmt"
	"slices"

	"example.com/steptest/lactate/internal/reading"
	"example.com/steptest/lactate/internal/straight"
	"gonum.org/v1/gonum/interp"
)

// RecoveryTangent is the individual anaerobic threshold of Stegmann, Kindermann & Schnabel
// (1981), Int J Sports Med 2:160–165: find when, in recovery, lactate has come back to its
// value at the end of exercise; from that point draw the tangent to lactate over time of the
// exercise; it touches at the threshold. (From memory; that the method uses the recovery, in
// Urhausen and others 1993, Int J Sports Med 14:134–139, abstract seen.)
//
// Its details are not standardised. The reading taken here:
//
//   - Time is time of effort: the durations of the stages, in order of intensity, one after
//     another, without rests, then the recovery.
//   - A stage's sample stands at its end, and intensity grows along a straight line from end
//     to end. This turns the curve of lactate against intensity into one against time, and
//     the time of the threshold back into an intensity.
//   - Lactate in recovery starts from its value at the end of exercise and goes from sample
//     to sample along straight lines. It counts as back the last time that it comes down to
//     that value.
//   - The tangent is the steepest line from a point of the exercise curve to the point of
//     return: the one that touches a curve that bends upward. Steps of unequal size or
//     duration give the curve over time a corner at a stage, and the tangent can come to
//     rest on one: the answer is then that stage's own intensity, as is an end of its
//     interval.
//
// The sample of the last stage must be that of its end. One taken at the peak minutes later
// leaves nothing to come back from, and is refused with [ErrShape], whatever Ends says.
//
// It needs Stage.Duration for every stage, recovery samples, and a last one no higher than
// the end of exercise (else [ErrMissing]); lactate that first rises in recovery, and a curve
// that the tangent touches between the first and the last stage (else [ErrShape]).
type RecoveryTangent struct {
	Ends Ends // lactate at the end of exercise. Zero means FittedEnds.
}

// Locate implements [Method].
func (m RecoveryTangent) Locate(t Test, c Curve) (float64, error) {
	lo, hi, err := rangeOn(t.Stages, c)
	if err != nil {
		return 0, err
	}
	end, err := m.Ends.lactate(t, c, hi)
	if err != nil {
		return 0, err
	}
	var times, intensities [16]float64
	axis, stop, err := effortTime(t, times[:0], intensities[:0])
	if err != nil {
		return 0, err
	}
	back, err := comesBack(t.Recovery, end)
	if err != nil {
		return 0, err
	}
	if !risesAbove(t.Recovery, measuredAt(t, hi)) {
		return 0, errNoOvershoot
	}
	back += stop
	// The line from (s, curve at s) to (back, end) is steepest where this is
	// least.
	falling := func(s float64) float64 {
		x, _ := axis.Along(s)
		return (c.Predict(x) - end) / (back - s)
	}
	sign := func(s float64, d interp.DerivativePredictor) float64 {
		x, growth := axis.Along(s)
		return d.PredictDerivative(x)*growth*(back-s) + c.Predict(x) - end
	}
	s, inside := reading.LowestOn(c, falling, sign, axis.Xs[0], axis.Xs[len(axis.Xs)-1])
	if !inside {
		return 0, errTangent
	}
	x, _ := axis.Along(s)
	return min(max(x, lo), hi), nil
}

func (m RecoveryTangent) String() string { return m.Ends.of("recovery tangent") }

// effortTime returns intensity over seconds of effort since the start of the test, at the
// ends of the stages that have a sample, in the buffers; and when the effort ends.
func effortTime(t Test, times, intensities []float64) (axis straight.Path, stop float64, err error) {
	stages := t.Stages
	byIntensity := func(a, b Stage) int { return cmp.Compare(a.Intensity, b.Intensity) }
	if !slices.IsSortedFunc(stages, byIntensity) {
		stages = slices.Clone(stages)
		slices.SortStableFunc(stages, byIntensity)
	}
	for i, s := range stages {
		if !(s.Duration > 0) {
			return axis, 0, fmt.Errorf("lactate: recovery tangent: %w: the duration of stage %d in order of intensity", ErrMissing, i+1)
		}
		stop += s.Duration.Seconds()
		if s.sampled() {
			times, intensities = append(times, stop), append(intensities, s.Intensity)
		}
	}
	if !stages[len(stages)-1].sampled() {
		return axis, 0, fmt.Errorf("lactate: recovery tangent: %w: the lactate of the last stage", ErrMissing)
	}
	return straight.Path{Xs: times, Ys: intensities}, stop, nil
}

// comesBack returns when lactate has come back to its value at the end of
// exercise [s after the end].
func comesBack(recovery []RecoverySample, end float64) (float64, error) {
	if len(recovery) == 0 {
		return 0, errNoRecovery
	}
	byTime := func(a, b RecoverySample) int { return cmp.Compare(a.After, b.After) }
	if !slices.IsSortedFunc(recovery, byTime) {
		recovery = slices.Clone(recovery)
		slices.SortStableFunc(recovery, byTime)
	}
	i := len(recovery) - 1
	if recovery[i].Lactate > end {
		return 0, fmt.Errorf("lactate: recovery tangent: %w: the last recovery sample, %.3g mmol/L, is still above the end of exercise, %.3g", ErrMissing, recovery[i].Lactate, end)
	}
	for i > 0 && recovery[i-1].Lactate <= end {
		i--
	}
	if i == 0 {
		return 0, errNoOvershoot
	}
	a, b := recovery[i-1], recovery[i]
	f := (a.Lactate - end) / (a.Lactate - b.Lactate)
	return a.After.Seconds() + f*(b.After-a.After).Seconds(), nil
}

// risesAbove reports whether a recovery sample lies above a lactate.
func risesAbove(recovery []RecoverySample, lactate float64) bool {
	for i := range recovery {
		if recovery[i].Lactate > lactate {
			return true
		}
	}
	return false
}

var (
	errTangent     = fmt.Errorf("lactate: recovery tangent: %w: no tangent touches the curve between the first and the last stage", ErrShape)
	errNoRecovery  = fmt.Errorf("lactate: recovery tangent: %w: recovery samples", ErrMissing)
	errNoOvershoot = fmt.Errorf("lactate: recovery tangent: %w: lactate does not rise after the sample of the last stage; was that one taken at the peak?", ErrShape)
)
