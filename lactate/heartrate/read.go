package heartrate

import (
	"errors"
	"math"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/internal/uncertain"
)

var errNotFitted = errors.New("heartrate: found a line that was not fitted, want one from Fit")

// none is the estimate of nothing.
func none() lactate.Estimate {
	return lactate.Estimate{Value: math.NaN(), Low: math.NaN(), High: math.NaN()}
}

// fitted tells whether the line can be read.
func (l *Line) fitted() bool { return l != nil && l.sxx > 0 }

// inside returns an error unless x lies in the tested range of a line.
func (l *Line) inside(x float64) error {
	if !l.fitted() {
		return errNotFitted
	}
	if x >= l.Lowest && x <= l.Highest {
		return nil
	}
	return &lactate.OutsideRangeError{What: "intensity", Value: x, Lowest: l.Lowest, Highest: l.Highest}
}

// HeartRate returns the heart rate (1/min) at an intensity, with the interval
// that one reading is expected in (prediction interval, Student's t): it holds
// the error of the line and the scatter of a reading about it, on a day like
// that of the test.
//
// It returns a [*lactate.OutsideRangeError] outside the tested range.
func (l *Line) HeartRate(intensity float64) (lactate.Estimate, error) {
	if err := l.inside(intensity); err != nil {
		return none(), err
	}
	return l.around(intensity, 1+l.leverage(intensity), l.Confidence), nil
}

// Mean returns the heart rate (1/min) at an intensity, with the interval of the
// line itself (confidence interval, Student's t): that of the mean of many
// readings. It is narrower than the interval of HeartRate.
//
// It returns a [*lactate.OutsideRangeError] outside the tested range.
func (l *Line) Mean(intensity float64) (lactate.Estimate, error) {
	if err := l.inside(intensity); err != nil {
		return none(), err
	}
	return l.around(intensity, l.leverage(intensity), l.Confidence), nil
}

// around returns the line at x with an interval of the given variance, in units
// of that of a reading.
func (l *Line) around(x, variance, confidence float64) lactate.Estimate {
	y, half := l.at(x), uncertain.HalfWidth(float64(l.Stages-2), confidence)*l.ResidualError*math.Sqrt(variance)
	return lactate.Estimate{Value: y, Low: y - half, High: y + half}
}

// Intensity returns the intensity at which the line has a heart rate (1/min).
// The interval holds the intensities for which that heart rate lies in the
// interval of [Line.HeartRate] (inverse prediction, Fieller 1954,
// J R Stat Soc B 16:175–185, from memory). It is not symmetric. It is open
// (infinite) on the side where it leaves the tested range, and on both if
// the slope could be zero at this confidence.
//
// It returns a [*lactate.OutsideRangeError] for a heart rate that the line does not
// have inside the tested range. Check: TestHeartRateReference, and the property that both
// intervals are one and the same region.
func (l *Line) Intensity(heartRate float64) (lactate.Estimate, error) {
	if !l.fitted() {
		return none(), errNotFitted
	}
	lo, hi := l.at(l.Lowest), l.at(l.Highest)
	if !(heartRate >= lo && heartRate <= hi) {
		return none(), &lactate.OutsideRangeError{What: "heart rate", Value: heartRate, Lowest: lo, Highest: hi, Unit: "/min"}
	}
	u := heartRate - l.meanY
	x := min(max(l.meanX+u/l.Slope, l.Lowest), l.Highest)
	// (Slope·d − u)² ≤ t²s²(1 + 1/n + d²/Sxx), a quadratic in d = x − mean.
	ts := uncertain.HalfWidth(float64(l.Stages-2), l.Confidence) * l.ResidualError
	a := l.Slope*l.Slope - ts*ts/l.sxx
	e := lactate.Estimate{Value: x, Low: math.Inf(-1), High: math.Inf(1)}
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
