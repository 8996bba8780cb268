package table

import (
	"strings"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/internal/say"
)

// Threshold returns one threshold on a line, with its interval and definition:
// "1:20.6/100 yd (1:21.3 to 1:19.9) by baseline + 1.5 mmol/L", or without a pool
// "1.135 m/s (1.126 to 1.145) by …". A threshold that could not be read says why.
func Threshold(th lactate.Threshold, o Options) string {
	o = o.withUnit(th.Unit).withDefaults("")
	by := " by " + Method(th.Method)
	if th.Err != nil {
		return "none" + by + ": " + Line(say.Reason(th.Err))
	}
	if th.Method == nil || !say.Finite(th.Intensity.Value) {
		return "none" + by
	}
	if o.Pool.IsZero() {
		value, interval, _ := strings.Cut(th.Intensity.String(), " ")
		return strings.TrimSpace(value+" "+o.Unit+" "+interval) + by
	}
	s := o.axis(0).Pace(th.Intensity.Value) + "/" + o.Pool.Per100().String()
	if th.Intensity.HasInterval() {
		s += " (" + o.axis(0).Interval(th.Intensity) + ")"
	}
	return s + by
}
