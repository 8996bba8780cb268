package table

import (
	"math"
	"strings"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/internal/say"
)

// SquadSheet returns what [Squad] does with a column for each number, for a spreadsheet:
// LT1 and LT2 with the ends of their brackets, in seconds per 100 of the pool, or else in
// the unit of the intensity. The low end is the smaller number. An end that is open is a
// blank, and is said under what is odd.
func SquadSheet(members []Member, o Options) Table {
	o = o.withDefaults("squad")
	unit := o.Unit
	if !o.Pool.IsZero() {
		unit = "s " + o.perWhat()
	}
	out := Table{Caption: o.Caption, Head: []Column{{"swimmer", false}, {"test", false}}}
	for _, name := range []string{"LT1", "LT2"} {
		out.Head = append(out.Head, Column{name + ", " + unit, true}, Column{name + " low", true}, Column{name + " high", true},
			Column{name + " heart rate, /min", true}, Column{name + " by", false})
	}
	out.Head = append(out.Head, Column{"faster than last, " + unit, true}, Column{"faster low", true}, Column{"faster high", true}, Column{"what is odd", false})
	for _, m := range members {
		row := append([]string{m.Name, m.Date.Format(time.DateOnly)}, make([]string, len(out.Head)-3)...)
		if a := m.Analysis; a != nil {
			for i, th := range []lactate.Threshold{a.LT1, a.LT2} {
				copy(row[2+5*i:], o.numbers(th, a.Highest-a.Lowest))
			}
		}
		if c := m.Change; c != nil {
			size, decimals := o.gain(c)
			e := c.BetweenDays.Shift
			for i, v := range []float64{e.Value, e.Low, e.High} {
				if !math.IsInf(v, 0) { // an open end is an empty cell
					row[12+i] = machine(size(v), decimals)
				}
			}
		}
		out.Rows = append(out.Rows, append(row, strings.Join(o.odd(m), "; ")))
	}
	return out
}

// numbers are the cells of a threshold.
func (o Options) numbers(th lactate.Threshold, width float64) []string {
	if th.Method == nil {
		return nil
	}
	if th.Err != nil {
		return []string{"", "", "", "", Method(th.Method)}
	}
	e, decimals := th.Intensity, say.Decimals(width)
	if !o.Pool.IsZero() {
		per := o.Pool.Per100().Metres()
		e, decimals = lactate.Estimate{Value: per / e.Value, Low: per / e.High, High: per / e.Low}, 1
		if math.IsInf(th.Intensity.High, 0) {
			e.Low = math.NaN()
		}
		if math.IsInf(th.Intensity.Low, 0) {
			e.High = math.NaN()
		}
	}
	return []string{machine(e.Value, decimals), machine(e.Low, decimals), machine(e.High, decimals), machine(th.HeartRate.Value, 0), Method(th.Method)}
}

// machine prints a number as machines read it: with a hyphen for a minus, and nothing if
// it is not known.
func machine(v float64, decimals int) string {
	return strings.ReplaceAll(optional(v, decimals), "−", "-")
}
