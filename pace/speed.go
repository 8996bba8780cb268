package pace

import (
	"math"
	"strconv"
	"strings"
	"time"
)

// A Speed is in metres per second (m/s). It belongs to no pool. The zero value
// is standing still.
type Speed float64

// MeanSpeed returns the mean speed of a swim over d in t. It returns an error that
// wraps [ErrValue] unless both are positive and finite.
func MeanSpeed(d Length, t time.Duration) (Speed, error) {
	if !(d > 0) || math.IsInf(float64(d), 0) {
		return 0, valuef("distance: found %v m, want a positive one", float64(d))
	}
	if t <= 0 {
		return 0, valuef("time: found %v, want a positive one", t)
	}
	return Speed(float64(d) / t.Seconds()), nil
}

// MetresPerSecond returns v in m/s.
func (v Speed) MetresPerSecond() float64 { return float64(v) }

// Time returns how long v takes over d, to the nearest nanosecond. If that does
// not fit into a Duration (292 years), or the speed is not positive, it returns the longest Duration: such a swimmer never arrives.
func (v Speed) Time(d Length) time.Duration {
	if !(v > 0) {
		return math.MaxInt64
	}
	ns := math.Round(float64(d) / float64(v) * 1e9)
	switch {
	case !(ns < math.MaxInt64):
		return math.MaxInt64
	case ns < 0:
		return 0
	}
	return time.Duration(ns)
}

// Distance returns how far v goes in t.
func (v Speed) Distance(t time.Duration) Length { return Length(float64(v) * t.Seconds()) }

// Pace returns v as the time it takes per given length: v.Pace(100*pace.Metre).
// A speed that is not positive and finite, such as the NaN of a threshold that
// could not be read, has no pace: the zero Pace, which prints as "no pace".
func (v Speed) Pace(per Length) Pace {
	if !(v > 0 && v <= math.MaxFloat64) {
		return Pace{}
	}
	return Pace{Time: v.Time(per), Per: per}
}

// In returns v as a pace per 100 of the pool's unit, by geometry alone; the zero
// Pace as [Speed.Pace] does.
func (v Speed) In(p Pool) Pace { return v.Pace(p.Per100()) }

// String returns v to three decimals, "1.418 m/s".
func (v Speed) String() string {
	s := strconv.FormatFloat(float64(v), 'f', 3, 64)
	if s == "-0.000" {
		s = "0.000"
	}
	return s + " m/s"
}

// ParseSpeed reads a speed in metres per second, "1.418 m/s". The error is a
// [*ParseError].
func ParseSpeed(s string) (Speed, error) {
	x, _, rest, ok := cutNumber(strings.TrimSpace(s))
	if !ok || strings.ToLower(strings.TrimSpace(rest)) != "m/s" {
		return 0, &ParseError{What: "speed", Input: s, Problem: `want metres per second, such as "1.418 m/s"`}
	}
	return Speed(x), nil
}

// MarshalText returns v in full: UnmarshalText gives v back to the last bit. It refuses a negative, infinite or undefined speed.
func (v Speed) MarshalText() ([]byte, error) {
	if !(v >= 0) || math.IsInf(float64(v), 0) {
		return nil, valuef("speed: found %v m/s, want a finite one, zero or above", float64(v))
	}
	return []byte(decimal(float64(v), -1) + " m/s"), nil
}

// UnmarshalText is ParseSpeed.
func (v *Speed) UnmarshalText(b []byte) error {
	x, err := ParseSpeed(string(b))
	if err == nil {
		*v = x
	}
	return err
}
