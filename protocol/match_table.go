package protocol

import (
	"fmt"
	"math"
	"slices"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
)

// Swum returns the repeats of a record beside their targets: how late each was, by how
// many per cent its speed was off, and how far it was from the repeat before it, per
// 100 of the pool. Notes say what that did to the bracket of LT1 and of LT2, the two
// repeats with a sample around it, if there is an analysis; nil is none. The error is that of
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
				if note := p.bracketed(fmt.Sprintf("LT%d", i+1), th.Intensity.Value, r); note != "" {
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

// bracketed says how far the two sampled repeats around a speed lie apart, and how far
// it was planned.
func (p Plan) bracketed(name string, at float64, r Record) string {
	below := -1
	for i, rep := range r.Repeats {
		v, err := rep.Speed()
		if err != nil || rep.Lactate == 0 && (i < len(r.Repeats)-1 || peakOf(r.Recovery) == 0) {
			continue
		}
		if v.MetresPerSecond() < at {
			below = i
			continue
		}
		if below < 0 {
			return ""
		}
		under, share := r.Repeats[below], float64(p.Pool.Per100()/rep.Distance)
		swum := share * (under.Time - rep.Time).Seconds()
		note := fmt.Sprintf("%s lies between repeats %d and %d, %s s per %v apart", name, under.Number, rep.Number, table.Number(swum, 1), p.Pool.Per100())
		k := slices.IndexFunc(p.Repeats, func(t Target) bool { return t.Number == under.Number })
		if k < 0 || k+1 >= len(p.Repeats) || p.Repeats[k].Time == 0 || p.Repeats[k+1].Time == 0 {
			return note + "."
		}
		planned := share * (p.Repeats[k].Time - p.Repeats[k+1].Time).Seconds()
		switch {
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
