package pace

import (
	"encoding/json"
	"errors"
	"math"
	"time"
)

// A Best is a swimmer's best time over a distance, swum all out. The zero value
// is no swim.
type Best struct {
	Distance Length        `json:"distance"`
	Time     time.Duration `json:"time_ns"`
}

// A Critical is the straight line through best times over several distances,
// distance = Reserve + Speed · time. The zero value is no line.
type Critical struct {
	Speed   Speed  `json:"speed"`   // slope, the critical speed [m/s]
	Reserve Length `json:"reserve"` // intercept, the distance reserve above it [m]
	// SpeedError and ReserveError are the standard errors of Speed [m/s] and
	// Reserve [m]. They take the times as exact and the line as straight; that
	// shorter swims give a higher speed is not in them. They are NaN for two
	// swims, which leave no residual.
	SpeedError   float64 `json:"-"`
	ReserveError float64 `json:"-"`
	Swims        int     `json:"swims"` // how many best times the line is drawn through
}

// MarshalJSON leaves out errors that are NaN. It is not read back.
func (c Critical) MarshalJSON() ([]byte, error) {
	type plain Critical // without this method
	number := func(v float64) *float64 {
		if math.IsNaN(v) {
			return nil
		}
		return &v
	}
	return json.Marshal(struct {
		plain
		SpeedError   *float64 `json:"speed_error_m_per_s,omitempty"`
		ReserveError *float64 `json:"reserve_error_m,omitempty"`
	}{plain(c), number(c.SpeedError), number(c.ReserveError)})
}

// ErrUndetermined says that the best times do not determine a critical speed.
var ErrUndetermined = errors.New("pace: critical speed not determined")

// CriticalSpeed draws the line of distance against best time by ordinary least
// squares (Wakayoshi et al. 1992) and takes its slope. With two swims this is
// (d2 − d1)/(t2 − t1), the two-swim test. It needs no blood and stands beside a
// second threshold as a cross-check, no more: the distances matter, and shorter
// ones give a higher speed. Swims of 200 m and 400 m are the usual pair.
//
// All bests must come from one course: turns do not convert, and yards and metres
// do not mix even as lengths.
//
// It returns an error that wraps [ErrValue] for a distance or time that is not
// positive, and one that wraps [ErrUndetermined] for fewer than two different
// distances, or if a longer swim is as fast as a shorter one, which makes slope
// or reserve zero or less. All faults of single swims are reported at once.
func CriticalSpeed(bests []Best) (Critical, error) {
	var errs []error
	for i, b := range bests {
		if _, err := MeanSpeed(b.Distance, b.Time); err != nil {
			errs = append(errs, valuef("best %d: found %v in %v, want a positive distance and time", i+1, b.Distance, b.Time))
		}
	}
	if err := errors.Join(errs...); err != nil {
		return Critical{}, err
	}
	undetermined := func(why string) (Critical, error) {
		return Critical{}, &undeterminedError{why}
	}
	n := float64(len(bests))
	var meanT, meanD float64
	for _, b := range bests {
		meanT += b.Time.Seconds() / n
		meanD += float64(b.Distance) / n
	}
	var tt, td, dd float64
	for _, b := range bests {
		t, d := b.Time.Seconds()-meanT, float64(b.Distance)-meanD
		tt, td, dd = tt+t*t, td+t*d, dd+d*d
	}
	if len(bests) < 2 || !(dd > 1e-18*meanD*meanD) {
		return undetermined("want best times over two or more different distances")
	}
	if !(tt > 1e-18*meanT*meanT) {
		return undetermined("all times are equal")
	}
	c := Critical{Swims: len(bests), SpeedError: math.NaN(), ReserveError: math.NaN()}
	slope := td / tt
	reserve := meanD - slope*meanT
	if !(slope > 0) {
		return undetermined("longer distances do not take longer")
	}
	if !(reserve > 0) {
		return undetermined("longer distances are swum as fast as shorter ones; are these all-out swims on one course?")
	}
	c.Speed, c.Reserve = Speed(slope), Length(reserve)
	if len(bests) > 2 {
		var rss float64
		for _, b := range bests {
			r := float64(b.Distance) - meanD - slope*(b.Time.Seconds()-meanT)
			rss += r * r
		}
		s2 := rss / (n - 2)
		c.SpeedError = math.Sqrt(s2 / tt)
		c.ReserveError = math.Sqrt(s2 * (1/n + meanT*meanT/tt))
	}
	return c, nil
}

type undeterminedError struct{ why string }

func (e *undeterminedError) Error() string        { return ErrUndetermined.Error() + ": " + e.why }
func (e *undeterminedError) Is(target error) bool { return target == ErrUndetermined }

// Time returns the time the line gives for d, (d − Reserve)/Speed. It returns an
// error that wraps [ErrValue] unless d exceeds Reserve.
func (c Critical) Time(d Length) (time.Duration, error) {
	if !(d > c.Reserve) || !(c.Speed > 0) {
		return 0, valuef("distance: found %v, want more than the reserve of %v", d, c.Reserve)
	}
	return c.Speed.Time(d - c.Reserve), nil
}
