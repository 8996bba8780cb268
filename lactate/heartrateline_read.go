package lactate

import (
	"errors"
	"fmt"
	"math"
)

// ErrOutsideRange is what a question beyond the tested range is answered with.
// The error is an [*OutsideRangeError].
var ErrOutsideRange = errors.New("outside the tested range")

// OutsideRangeError says what was asked for and where the tested range ends. It is
// [ErrOutsideRange] to [errors.Is]. The zero value says nothing.
type OutsideRangeError struct {
	What            string  // "intensity", "heart rate"
	Value           float64 // what was asked for
	Lowest, Highest float64 // what can be answered
	// Unit of the three numbers; empty for that of the test's intensities.
	Unit string
}

func (e *OutsideRangeError) Error() string {
	unit := e.Unit
	if unit != "" {
		unit = " " + unit
	}
	return fmt.Sprintf("lactate: %s: found %.4g%s, %v, expected %.4g to %.4g%[3]s", e.What, e.Value, unit, ErrOutsideRange, e.Lowest, e.Highest)
}

// Unwrap returns [ErrOutsideRange].
func (e *OutsideRangeError) Unwrap() error { return ErrOutsideRange }

var errNotFitted = errors.New("lactate: heart rate: found a line that was not fitted, expected one from FitHeartRate")

// fitted tells whether the line can be read.
func (l *HeartRateLine) fitted() bool { return l != nil && l.sxx > 0 }

// inside returns an error unless x lies in the tested range of a line.
func (l *HeartRateLine) inside(x float64) error {
	if !l.fitted() {
		return errNotFitted
	}
	if x >= l.Lowest && x <= l.Highest {
		return nil
	}
	return &OutsideRangeError{What: "intensity", Value: x, Lowest: l.Lowest, Highest: l.Highest}
}

// HeartRate returns the heart rate (1/min) at an intensity, with the interval
// that one reading is expected in (prediction interval, Student's t): it holds
// the error of the line and the scatter of a reading about it, on a day like
// that of the test.
//
// It returns an [*OutsideRangeError] outside the tested range.
func (l *HeartRateLine) HeartRate(intensity float64) (Estimate, error) {
	if err := l.inside(intensity); err != nil {
		return none(), err
	}
	return l.around(intensity, 1+l.leverage(intensity), l.Confidence), nil
}

// Mean returns the heart rate (1/min) at an intensity, with the interval of the
// line itself (confidence interval, Student's t): that of the mean of many
// readings. It is narrower than the interval of HeartRate.
//
// It returns an [*OutsideRangeError] outside the tested range.
func (l *HeartRateLine) Mean(intensity float64) (Estimate, error) {
	if err := l.inside(intensity); err != nil {
		return none(), err
	}
	return l.around(intensity, l.leverage(intensity), l.Confidence), nil
}

// around returns the line at x with an interval of the given variance, in units
// of that of a reading.
func (l *HeartRateLine) around(x, variance, confidence float64) Estimate {
	y, half := l.at(x), l.student(confidence)*l.ResidualError*math.Sqrt(variance)
	return Estimate{y, y - half, y + half}
}

// student returns the two-sided quantile of Student's t.
func (l *HeartRateLine) student(confidence float64) float64 {
	return student(float64(l.Stages - 2)).Quantile((1 + confidence) / 2)
}

// Intensity returns the intensity at which the line has a heart rate (1/min).
// The interval holds the intensities for which that heart rate lies in the
// interval of [HeartRateLine.HeartRate] (inverse prediction, Fieller 1954,
// J R Stat Soc B 16:175–185, from memory). It is not symmetric. It is open
// (infinite) on the side where it leaves the tested range, and on both where
// the slope could be zero at this confidence.
//
// It returns an [*OutsideRangeError] for a heart rate that the line does not have inside
// the tested range. Check: TestHeartRateReference, and the property that both
// intervals are one and the same region.
func (l *HeartRateLine) Intensity(heartRate float64) (Estimate, error) {
	if !l.fitted() {
		return none(), errNotFitted
	}
	lo, hi := l.at(l.Lowest), l.at(l.Highest)
	if !(heartRate >= lo && heartRate <= hi) {
		return none(), &OutsideRangeError{What: "heart rate", Value: heartRate, Lowest: lo, Highest: hi, Unit: "/min"}
	}
	u := heartRate - l.meanY
	x := min(max(l.meanX+u/l.Slope, l.Lowest), l.Highest)
	// (Slope·d − u)² ≤ t²s²(1 + 1/n + d²/Sxx), a quadratic in d = x − mean.
	ts := l.student(l.Confidence) * l.ResidualError
	a := l.Slope*l.Slope - ts*ts/l.sxx
	e := Estimate{x, math.Inf(-1), math.Inf(1)}
	if !(a > 0) {
		return e, nil
	}
	root := ts * math.Sqrt(u*u/l.sxx+a*(1+1/float64(l.Stages)))
	if low := l.meanX + (l.Slope*u-root)/a; low >= l.Lowest {
		e.Low = min(low, x)
	}
	if high := l.meanX + (l.Slope*u+root)/a; high <= l.Highest {
		e.High = max(high, x)
	}
	return e, nil
}
