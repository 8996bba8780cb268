package main

import (
	"fmt"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/forecast"
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
)

// telling says what the plan can tell.
func (c *planned) telling(p protocol.Plan) (string, error) {
	plain, err := p.Outlook(c.expected, lactate.Options{})
	if err != nil {
		return "", err
	}
	hundred := p.Pool.Per100()
	t := table.Table{
		Caption: fmt.Sprintf("What will it be able to tell?   (average half-width of the %.0f %% interval)", 100*plain.Confidence),
		Head:    []table.Column{{}, {Name: "near, per " + hundred.String()}, {Name: "this plan"}},
	}
	row := func(cells ...string) { t.Rows = append(t.Rows, cells) }
	for i, f := range []forecast.Threshold{plain.LT1, plain.LT2} {
		row(fmt.Sprintf("LT%d (%s)", i+1, table.Method(f.Method)), table.Clock(hundred.Metres()/f.Speed.Value), halfWidth(f, hundred))
	}
	at := plain.LT2.Speed.Value
	seconds := func(shift float64) string {
		if shift == 0 {
			return "none"
		}
		return fmt.Sprintf("%.2f s (%.3f m/s)", hundred.Metres()/at-hundred.Metres()/(at+shift), shift)
	}
	row("smallest change it can show", "", seconds(plain.Shift.Detectable))
	row("the same, where days differ too", "", seconds(plain.Shift.BetweenDays))
	note := func(format string, args ...any) { t.Notes = append(t.Notes, fmt.Sprintf(format, args...)) }
	if v := c.request.Threshold; v != (pace.Pace{}) {
		note("The LT2 that was given, %s per 100 %s, set the targets. Near: where swimmers at large have their thresholds between these ends, by the definitions named. No test is there yet to say where this swimmer's are.",
			pace.FormatTime(v.Time, -1), p.Pool.UnitSymbol())
	}
	n := lactate.DefaultNoise()
	note("These numbers rest on the stated noise alone (%g mmol/L and %.0f %% for analyser and drop, printed to %g mmol/L, %g s for the watch). A comparison of two swum tests rests on the scatter of their samples too, and may see more or less.",
		n.Absolute, 100*n.Relative, n.Resolution, n.Timing.Seconds())
	for _, i := range plain.LeftOut {
		note("The test of %s bends so differently from the last that it is not used here.", command.Day(c.days[i]))
	}
	return t.String(), nil
}

// halfWidth gives half an interval of a speed as a pace.
func halfWidth(f forecast.Threshold, per pace.Length) string {
	return fmt.Sprintf("± %.2f s", (per.Metres()/f.Speed.Low-per.Metres()/f.Speed.High)/2)
}
