package form

import (
	"fmt"
	"time"

	"example.com/steptest/pace"
)

// A Range bounds a value, both ends included.
type Range struct{ Min, Max float64 }

// What values may be. Beyond, a slip is likelier than the value. The ranges are our
// judgement, and wider than what is met in healthy swimmers.
var (
	Lactate   = Range{0.1, 30}    // [mmol/L]
	HeartRate = Range{30, 250}    // [1/min]
	Speed     = Range{0.2, 3}     // [m/s]
	Year      = Range{1900, 2199} // of a date
)

// Has reports whether a value lies in the range; NaN does not.
func (r Range) Has(v float64) bool { return v >= r.Min && v <= r.Max }

// String returns the ends: "0.1 to 30".
func (r Range) String() string { return Decimal(r.Min) + " to " + Decimal(r.Max) }

// HasYear reports whether the year of a date is in [Year].
func HasYear(t time.Time) bool { return Year.Has(float64(t.Year())) }

// Swims reports whether a swimmer can swim a distance in a time, by [Speed].
func Swims(d pace.Length, t time.Duration) bool { return Speed.Has(d.Metres() / t.Seconds()) }

// WantSwim says which times over a distance are a swim, of one that is none.
func WantSwim(d pace.Length, t time.Duration) string {
	return fmt.Sprintf("a time of %s to %s for %v; this is %.2f m/s", pace.FormatTime(pace.Speed(Speed.Max).Time(d), 0),
		pace.FormatTime(pace.Speed(Speed.Min).Time(d), 0), d, d.Metres()/t.Seconds())
}
