package protocol

import (
	"fmt"
	"math"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
)

// Swum returns the repeats of a record beside their targets: how late each was, by how
// many per cent its speed was off, and how far it was from the repeat before it, per
// 100 of the pool. Notes say what that did to the bracket of LT1 and of LT2, the two
// repeats around it, if there is an analysis; nil is none. The error is that of
// [Plan.Match].
func (p Plan) Swum(r Record, a *lactate.Analysis) (table.Table, error) {
	all, err := p.Match(r)
	if err != nil {
		return table.Table{}, err
	}
	per := "step, s per " + p.Pool.Per100().String()
	t := table.Table{Caption: "Target and swum"}
	for _, name := range []string{"repeat", "target", "swum", "late by, s", "speed, %", per, "planned"} {
		t.Head = append(t.Head, table.Column{Name: name, Number: true})
	}
	var before *Deviation
	for i, d := range all {
		row := []string{fmt.Sprint(d.Number), clockOr(d.Target, "none"), clockOr(d.Time, "not swum"), "", "", "", ""}
		if d.Target > 0 && d.Time > 0 {
			row[3], row[4] = table.Signed(d.Late.Seconds(), 1), table.Signed(d.Percent, 1)
		}
		if i > 0 {
			row[6] = p.step(all[i-1].Target, d.Target, d.Number)
		}
		if d.Time > 0 {
			if before != nil {
				row[5] = p.step(before.Time, d.Time, d.Number)
			}
			before = &all[i]
		}
		t.Rows = append(t.Rows, row)
	}
	if a != nil {
		for i, th := range []lactate.Threshold{a.LT1, a.LT2} {
			if th.Err == nil {
				if note := p.bracketed(fmt.Sprintf("LT%d", i+1), th.Intensity.Value, all); note != "" {
					t.Notes = append(t.Notes, note)
				}
			}
		}
	}
	return t, nil
}

// step is how much faster per 100 one time of a repeat is than another.
func (p Plan) step(from, to time.Duration, number int) string {
	for _, t := range p.Repeats {
		if t.Number == number && from > 0 && to > 0 {
			return table.Number(float64(p.Pool.Per100()/t.Distance)*(from-to).Seconds(), 1)
		}
	}
	return ""
}

// bracketed says how wide the two repeats around a speed were swum, and planned.
func (p Plan) bracketed(name string, at float64, all []Deviation) string {
	per := p.Pool.Per100()
	var below *Deviation
	var distance pace.Length
	for i := range all {
		d := &all[i]
		for _, t := range p.Repeats {
			if t.Number == d.Number {
				distance = t.Distance
			}
		}
		v, err := pace.Over(distance, d.Time)
		if err != nil {
			continue
		}
		if v.MetresPerSecond() < at {
			below = d
			continue
		}
		if below == nil {
			return ""
		}
		share := float64(per / distance)
		swum, planned := share*(below.Time-d.Time).Seconds(), share*(below.Target-d.Target).Seconds()
		note := fmt.Sprintf("%s lies between repeats %d and %d, %s s per %v apart", name, below.Number, d.Number, table.Number(swum, 1), per)
		switch {
		case below.Target == 0 || d.Target == 0:
			return note + "."
		case math.Abs(swum-planned) < 0.1:
			return note + ", as planned."
		case swum > planned:
			return fmt.Sprintf("%s, where %s were planned: it is bracketed more coarsely.", note, table.Number(planned, 1))
		}
		return fmt.Sprintf("%s, where %s were planned: it is bracketed more finely.", note, table.Number(planned, 1))
	}
	return ""
}

func clockOr(t time.Duration, none string) string {
	if t == 0 {
		return none
	}
	return pace.FormatTime(t, decimalsOf(t))
}
