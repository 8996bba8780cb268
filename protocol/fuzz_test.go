package protocol_test

import (
	"math"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/forecast"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
)

// Any numbers: a plan or an error that names a field; what can be told of it, or
// an error; never NaN.
func FuzzPlan(f *testing.F) {
	f.Add(6, 400.0, 350.0, 300.0, 0.0, 70.0, 0.0, 0.2, 0.03)
	f.Add(4, 200.0, 0.0, 140.0, 2.5, 0.0, 300.0, 1e-300, 0.0)
	f.Add(12, 33.3, math.NaN(), math.Inf(1), -1.0, 1e300, math.Copysign(0, -1), 5e-324, 1e300)
	f.Add(3, 1e9, 1e-9, 1e9, 60.0, 3600.0, 18000.0, math.Inf(1), -1.0)
	f.Fuzz(func(t *testing.T, repeats int, distance, first, last, drop, rest, sendOff, noise, relative float64) {
		span := func(s float64) time.Duration { return time.Duration(s * 1e9) }
		q := protocol.Request{
			Pool: pace.SCM(), Repeats: repeats, Distance: pace.Length(distance), Best: span(last), Drop: span(drop),
			Rest: span(rest), SendOff: span(sendOff),
		}
		if first != 0 {
			q.Start = pace.Pace{Time: span(first), Per: pace.Length(distance)}
		}
		p, err := protocol.NewPlan(q)
		if err != nil {
			return
		}
		for i, r := range p.Repeats {
			if r.Time <= 0 || r.Leave < 0 || i > 0 && r.Time > p.Repeats[i-1].Time {
				t.Fatalf("repeats %+v", p.Repeats)
			}
		}
		p.Review(protocol.Known{Best: span(last), Threshold: pace.Speed(first)})
		o := lactate.Options{Noise: lactate.Noise{Absolute: noise, Relative: relative}}
		out, err := p.Outlook(forecast.Expected{}, o)
		shift := err == nil && (out.Shift.Detectable > 0 && out.Shift.BetweenDays > 0 || out.Shift == (forecast.Shift{}))
		if err == nil && !(out.LT1.Width() > 0 && out.LT2.Width() > 0 && shift) {
			t.Fatalf("%+v of %+v", out, p)
		}
		b, err := p.Space(forecast.Expected{}, o, forecast.Rules{})
		if err == nil && !(b.LT2 <= 1 && b.LT1 <= 1) {
			t.Fatalf("%+v of %+v", b, p)
		}
	})
}
