package protocol

import (
	"fmt"

	"example.com/steptest/lactate/forecast"
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
)

// OutlookTable returns what the plan will be able to tell, by its [Plan.Outlook]: where
// LT1 and LT2 are near, half the width of their intervals, and the smallest change that
// it can show, as times per 100 of the pool.
func (p Plan) OutlookTable(o *forecast.Outlook) table.Table {
	if o == nil {
		return table.Table{}
	}
	hundred := p.Pool.Per100()
	t := table.Table{
		Caption: fmt.Sprintf("What will it be able to tell?   (average half-width of the %.0f %% interval)", 100*o.Confidence),
		Head:    []table.Column{{}, {Name: "near, per " + hundred.String()}, {Name: "this plan"}},
	}
	row := func(cells ...string) { t.Rows = append(t.Rows, cells) }
	for i, f := range []forecast.Threshold{o.LT1, o.LT2} {
		row(fmt.Sprintf("LT%d (%s)", i+1, table.Method(f.Method)), table.Clock(hundred.Metres()/f.Speed.Value),
			fmt.Sprintf("± %.2f s", pace.Saved(hundred, pace.Speed(f.Speed.Low), pace.Speed(f.Speed.High))/2))
	}
	at := o.LT2.Speed.Value
	seconds := func(shift float64) string {
		if shift == 0 {
			return "none"
		}
		return fmt.Sprintf("%.2f s (%.3f m/s)", pace.Saved(hundred, pace.Speed(at), pace.Speed(at+shift)), shift)
	}
	row("smallest change it can show", "", seconds(o.Shift.Detectable))
	row("the same, where days differ too", "", seconds(o.Shift.BetweenDays))
	return t
}
