package pace

import "time"

// A RaceFactor is what one governing body used in one season to compare a race
// time on one course with times on another. It holds turns, events and policy;
// it changes from season to season. It is for race times alone: step tests,
// paces and training speeds convert by geometry ([Pace.In]). The zero value
// converts nothing.
type RaceFactor struct {
	Body      string // governing body
	Season    string // the season it applied to
	Event     string // the event on the course swum
	IntoEvent string // the event it is compared with
	From      Pool   // course swum
	Into      Pool   // course compared with
	factor1k  int64  // factor · 1000
}

// RaceFactors returns the published table that this package knows, a fresh slice
// each time: the standards of the NCAA, Division I, 2021–22, for races in a 25 m
// pool compared with times in a 25 yd pool. They are known here from a news
// site's reprint of the table, not from the body's own document. Earlier and
// later seasons differ.
func RaceFactors() []RaceFactor {
	row := func(event, to string, f int64) RaceFactor {
		return RaceFactor{Body: "NCAA Division I", Season: "2021-22", Event: event, IntoEvent: to, From: SCM(), Into: SCY(), factor1k: f}
	}
	return []RaceFactor{
		row("400 m freestyle", "500 yd freestyle", 1153),
		row("800 m freestyle", "1000 yd freestyle", 1153),
		row("1500 m freestyle", "1650 yd freestyle", 1013),
		row("all others", "same number of yards", 906),
	}
}

// Factor returns the number that a race time is multiplied by.
func (f RaceFactor) Factor() float64 { return float64(f.factor1k) / 1000 }

// Convert returns the race time on the other course: the time in seconds times
// the factor, to five decimals, then truncated (not rounded) to hundredths, as
// the table's rule says. The worked example printed with the table, 1:50.87 →
// 1:40.44, is a test. The arithmetic is in whole numbers. It returns an error
// that wraps [ErrValue] unless t is positive, below 100 hours and, as
// official times are, in whole hundredths of a second.
func (f RaceFactor) Convert(t time.Duration) (time.Duration, error) {
	const hundredth = 10 * time.Millisecond
	if t <= 0 || t >= 100*time.Hour || t%hundredth != 0 {
		return 0, valuef("race time %v, want a positive one in hundredths of a second", t)
	}
	if f.factor1k <= 0 {
		return 0, valuef("no race factor")
	}
	// hundredths · thousandths = hundred-thousandths: exact, five decimals
	return time.Duration(int64(t/hundredth)*f.factor1k/1000) * hundredth, nil
}
