package pace

import (
	"math"
	"strings"
	"time"
)

// A Pace is the time a swimmer takes for a length, "1:21.6/100 yd". The larger
// the pace, the slower the swim. The zero value is no pace.
type Pace struct {
	Time time.Duration // for one Per
	Per  Length        // 100 yd, 100 m, 50 m, …
}

// Speed returns the speed of p. It returns an error that wraps [ErrValue] unless
// both fields are positive and finite.
func (p Pace) Speed() (Speed, error) { return MeanSpeed(p.Per, p.Time) }

// In returns the same speed as a pace per another length, to the nearest
// nanosecond, by geometry alone: a pace per 100 yd is 0.9144 of the pace per
// 100 m. It returns an error as [Pace.Speed] does.
func (p Pace) In(per Length) (Pace, error) {
	if _, err := p.Speed(); err != nil {
		return Pace{}, err
	}
	if !(per > 0) || math.IsInf(float64(per), 0) {
		return Pace{}, valuef("length of a pace: found %v m, want a positive one", float64(per))
	}
	ns := math.Round(float64(p.Time) * float64(per/p.Per))
	if !(ns < math.MaxInt64) {
		return Pace{}, valuef("pace: found %v, want one that takes less than 292 years per %v", p, per)
	}
	return Pace{Time: time.Duration(ns), Per: per}, nil
}

// String returns p to a tenth of a second, "1:21.6/100 yd"; the zero Pace gives
// "no pace", which ParsePace refuses.
func (p Pace) String() string {
	if p == (Pace{}) {
		return "no pace"
	}
	return FormatTime(p.Time, 1) + "/" + p.Per.String()
}

// ParsePace reads a time and the length it is for: "1:21.6/100 yd",
// "81.6 / 100m", "1:21.6 per 100 yd". Times are read by [ParseTime], lengths by
// [ParseLength]; neither may be zero. The error is a [*ParseError].
func ParsePace(s string) (Pace, error) {
	time, per, ok := strings.Cut(s, "/")
	if !ok {
		time, per, ok = strings.Cut(s, " per ")
	}
	if !ok {
		return Pace{}, &ParseError{What: "pace", Input: s, Problem: `want a time and a length, such as "1:21.6/100 yd"`}
	}
	t, err := ParseTime(time)
	if err != nil {
		return Pace{}, err
	}
	l, err := ParseLength(per)
	if err != nil {
		return Pace{}, err
	}
	if t <= 0 || l <= 0 {
		return Pace{}, &ParseError{What: "pace", Input: s, Problem: "neither time nor length may be zero", Err: ErrValue}
	}
	return Pace{Time: t, Per: l}, nil
}

// MarshalText returns p in full: UnmarshalText gives p back exactly. It returns
// nothing for the zero Pace. It refuses any other pace that [Pace.Speed] refuses.
func (p Pace) MarshalText() ([]byte, error) {
	if p == (Pace{}) {
		return []byte{}, nil
	}
	if _, err := p.Speed(); err != nil {
		return nil, err
	}
	per, err := p.Per.MarshalText()
	if err != nil {
		return nil, err
	}
	return []byte(FormatTime(p.Time, -1) + "/" + string(per)), nil
}

// UnmarshalText is ParsePace; nothing is the zero Pace.
func (p *Pace) UnmarshalText(b []byte) error {
	if len(b) == 0 {
		*p = Pace{}
		return nil
	}
	v, err := ParsePace(string(b))
	if err == nil {
		*p = v
	}
	return err
}
