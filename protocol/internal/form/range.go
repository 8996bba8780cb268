package form

import (
	"time"

	"example.com/steptest/lactate/heartrate"
	"example.com/steptest/pace"
)

// A Range bounds a value, both ends included.
type Range struct{ Min, Max float64 }

// What values may be. Beyond, a slip is likelier than the value. The ranges are our
// judgement, and wider than what is met in healthy swimmers.
var (
	Lactate   = Range{0.1, 30}                                      // [mmol/L]
	HeartRate = Range{heartrate.Least, heartrate.Most}              // [1/min]
	Speed     = Range{float64(pace.Slowest), float64(pace.Fastest)} // [m/s]
	Year      = Range{1900, 2199}                                   // of a date
)

// Has reports whether a value lies in the range; NaN does not.
func (r Range) Has(v float64) bool { return v >= r.Min && v <= r.Max }

// String returns the ends: "0.1 to 30".
func (r Range) String() string { return Decimal(r.Min) + " to " + Decimal(r.Max) }

// HasYear reports whether the year of a date is in [Year].
func HasYear(t time.Time) bool { return Year.Has(float64(t.Year())) }
