package forecast_test

import (
	"fmt"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/forecast"
)

// E: what is forecast of an invented swimmer, to four figures: a change here is to be
// looked at.
func TestRegressForecast(t *testing.T) {
	six, s := sixOf400(), swimmer{1.1, 9, 15.5}
	other, dipped := swimmer{1.1, 9, 40}.test(six, -0.02), s.test(six, 0)
	dipped.Stages[0].Lactate += 0.4
	known := forecast.Expected{Tests: []lactate.Test{other, s.test(even(5, 355e9, 305e9), -0.03), s.test(six, -0.015), dipped}}
	fast := begun(six, 1.2, 1.9)
	fast[1] = lactate.Stage{Intensity: 400. / 318, Duration: 318 * time.Second, Lactate: 1.9}
	const step = 3970 * time.Millisecond // less than 4 s
	close := over(320e9, 320e9-step, 320e9-2*step, 320e9-3*step, 320e9-4*step, 320e9-5*step)
	slow := []lactate.Stage{{Intensity: 0.25}, {Intensity: 0.35}, {Intensity: 0.45}, {Intensity: 0.55}}
	estimate := func(e lactate.Estimate) string { return fmt.Sprintf("%.4g (%.4g to %.4g)", e.Value, e.Low, e.High) }
	of := func(e forecast.Expected) string {
		o, err := forecast.Of(six, e, lactate.Options{})
		if err != nil {
			return err.Error()
		}
		out := ""
		for _, th := range []forecast.Threshold{o.LT1, o.LT2} {
			out += fmt.Sprintf("%s, sd %.4g, missed %.4g; ", estimate(th.Speed), th.Unknown, th.Missed)
		}
		return out + fmt.Sprintf("shift %.4g, left out %v", o.Shift, o.LeftOut)
	}
	next := func(stages, swum []lactate.Stage, e forecast.Expected, r forecast.Rules) string {
		a, err := forecast.Next(stages, swum, e, lactate.Options{}, r)
		if err != nil {
			return err.Error()
		}
		return fmt.Sprintf("%d of %d left, %v, enough %v: %v; %.4g, %.4g; %s", a.Next, a.Left, a.Reason, a.Enough, seconds(a.Stages), a.LT1, a.LT2, estimate(a.Lactate))
	}
	for _, c := range []struct{ name, got, want string }{
		{"unknown", of(forecast.Expected{}), `1.224 (1.209 to 1.239), sd 0.02729, missed 0; 1.258 (1.247 to 1.269), sd 0.02351, missed 0; shift {0.002646 0.007435 0.03589}, left out []`},
		{"known", of(known), `1.208 (1.194 to 1.223), sd 0.01304, missed 0; 1.248 (1.235 to 1.261), sd 0.01306, missed 0; shift {0.003068 0.008619 0.03586}, left out [0]`},
		{"begun", next(six, begun(six, 1.2, 1.4, 1.9), forecast.Expected{}, forecast.Rules{}), `3 of 3 left, as planned, enough false: [350 340 330 320 310 300]; {0.02619 0.07205}, {0.02021 0.06567}; 2.873 (2.075 to 3.713)`},
		{"lost", next(six, begun(six, 1.2, 0, 1.9, 3.1), known, forecast.Rules{Enough: 0.2}), `4 of 2 left, as planned, enough true: [350 340 330 320 310 300]; {0.03003 0.0339}, {0.04043 0.04251}; 4.744 (4.018 to 5.52)`},
		{"two swum", next(six, begun(six, 1.2, 1.4), known, forecast.Rules{}), `2 of 4 left, as planned, enough false: [350 340 330 320 310 300]; {0.04111 0}, {0.03293 0}; 2.168 (1.486 to 2.642)`},
		{"fast", next(six, fast, forecast.Expected{}, forecast.Rules{Keep: true}), `2 of 4 left, spread anew, enough false: [350 318 314 309 305 300]; {0 0}, {0 0}; 2.459 (1.81 to 3.121)`},
		{"close", next(close, close[:1], forecast.Expected{}, forecast.Rules{Keep: true, Round: 10 * time.Millisecond}), `5 of 5 left, no room, enough true: [320 316.03 312.06 308.09 304.12 300.15]; {0 0}, {0 0}; 9.083 (4.632 to 14.11)`},
		{"uneven", next(over(350e9, 346e9, 342e9, 338e9, 334e9, 300e9), begun(over(350e9, 346e9, 342e9, 338e9, 334e9, 300e9), 1.2, 1.3, 1.4), forecast.Expected{}, forecast.Rules{}), `3 of 3 left, narrower, enough false: [350 346 342 321 311 300]; {0.02765 0.1207}, {0.018 0.101}; 2.431 (1.236 to 3.836)`},
		{"enough", next(even(8, 350e9, 300e9), begun(even(8, 350e9, 300e9), 1.2, 1.3, 1.5, 1.9, 2.7, 4), known, forecast.Rules{}), `6 of 2 left, as planned, enough true: [350 343 336 329 321 314 307 300]; {0.02034 0.02049}, {0.01715 0.01771}; 5.281 (4.631 to 6.063)`},
		{"swum", next(six, begun(six, 1.2, 1.4, 1.9, 3.1, 5.2, 8.8), forecast.Expected{}, forecast.Rules{}), `-1 of 0 left, as planned, enough false: [350 340 330 320 310 300]; {0 0}, {0 0}; 0 (0 to 0)`},
		{"no time", next(six, []lactate.Stage{{Intensity: 1.2, Lactate: 2}}, forecast.Expected{}, forecast.Rules{}), `forecast: stage 1 was swum and has no duration`},
		{"slow", func() string {
			e, err := forecast.Sample(slow, nil, 0.25, forecast.Expected{}, lactate.Options{})
			return fmt.Sprint(estimate(e), err)
		}(), `1.074 (0.4932 to 1.693)<nil>`},
		{"two stages", of(forecast.Expected{Tests: []lactate.Test{{Stages: s.test(six, 0).Stages[:2]}}}), `forecast: earlier test 1: want three stages or more with lactate, and speeds of 0.2 to 3 m/s`},
		{"three stages", of(forecast.Expected{Tests: []lactate.Test{s.test(even(3, 350e9, 300e9), 0)}}), `1.204 (1.19 to 1.218), sd 0.0155, missed 0; 1.243 (1.231 to 1.256), sd 0.01576, missed 0; shift {0.003615 0.01061 0.03605}, left out []`},
		{"spaced", func() string {
			d, err := forecast.Space(even(5, 350e9, 300e9), forecast.Expected{}, lactate.Options{}, forecast.Rules{Round: 100 * time.Millisecond})
			if err != nil {
				return err.Error()
			}
			return fmt.Sprintf("%v, %.4g and %.4g", seconds(d.Stages), d.LT1, d.LT2)
		}(), `[350 345.8 320 311.2 300], 0.902 and 0.867`},
	} {
		if c.got != c.want {
			t.Errorf("%s: found\n%s\nwant\n%s", c.name, c.got, c.want)
		}
	}
}
