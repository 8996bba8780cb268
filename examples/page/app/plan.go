package app

import (
	"cmp"
	"errors"
	"fmt"
	"strings"
	"time"

	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
)

// Wanted is what the page knows of a test to be planned.
type Wanted struct {
	Pool     string `json:"pool"`
	Distance string `json:"distance"` // in the pool's unit; empty means 400
	Repeats  int    `json:"repeats"`  // zero means 6
	Best     string `json:"best"`     // expected of the last repeat; empty means as in the last test
	Rest     string `json:"rest"`     // between repeats; empty means the library's
}

// planned is a plan as the page shows it.
type planned struct {
	Swimmer  string   `json:"swimmer"`
	Day      string   `json:"day"`
	Pool     string   `json:"pool"`
	WarmUp   string   `json:"warm_up"`
	Unit     string   `json:"unit"` // 100 yd or 100 m
	From     string   `json:"from"` // where the targets come from
	Repeats  []repeat `json:"repeats"`
	Samples  string   `json:"samples"`
	Findings []string `json:"findings"`
	Cautions []string `json:"cautions"`
}

// plan shows a plan; nothing is kept.
func (q Request) plan(records []protocol.Record) (any, error) {
	p, from, err := q.newPlan(records)
	if err != nil {
		return nil, err
	}
	out := planned{
		Swimmer: p.Swimmer, Day: table.Day(p.Date), Pool: p.Pool.String(), WarmUp: p.WarmUp.String(), Unit: p.Pool.Per100().String(), From: from,
		Repeats: testOf(p.Record()).Repeats, Findings: findings(p), Cautions: protocol.Cautions(), Samples: samples(p),
	}
	return out, nil
}

// keep puts the plan on the sheet.
func (q Request) keep(records []protocol.Record) (any, error) {
	p, _, err := q.newPlan(records)
	if err != nil {
		return nil, err
	}
	q.Swimmer = p.Swimmer
	if i, err := q.find(records); err == nil {
		if testOf(records[i]).Done > 0 {
			return nil, fmt.Errorf("found a test of %s on %s that is under way, want another day; or remove that test first", p.Swimmer, table.Day(p.Date))
		}
		records[i] = p.Record()
		return change(records)
	}
	return change(append(records, p.Record()))
}

// newPlan makes the plan, and says where its targets come from. All that is wrong is
// said at once.
func (q Request) newPlan(records []protocol.Record) (protocol.Plan, string, error) {
	var errs []error
	wrong := func(format string, a ...any) { errs = append(errs, fmt.Errorf(format, a...)) }
	r := protocol.Request{Swimmer: protocol.CleanName(q.Swimmer), Repeats: q.Plan.Repeats}
	if r.Swimmer == "" {
		wrong("name: found nothing, want the swimmer's name")
	}
	for _, rec := range records { // one spelling of a name
		if protocol.FoldName(rec.Swimmer) == protocol.FoldName(r.Swimmer) {
			r.Swimmer = rec.Swimmer
		}
	}
	var err error
	if r.Date, err = time.Parse(time.DateOnly, q.Date); err != nil {
		wrong("day: found %q, want a date", q.Date)
	}
	if r.Pool, err = pace.ParsePool(q.Plan.Pool); err != nil {
		return protocol.Plan{}, "", errors.Join(append(errs, fmt.Errorf("pool: %w", err))...)
	}
	if r.Repeats == 0 {
		r.Repeats = 6
	}
	if d := strings.TrimSpace(q.Plan.Distance); d != "" {
		if r.Distance, err = pace.ParseLength(d + " " + r.Pool.UnitSymbol()); err != nil {
			wrong("distance: %w", err)
		}
	}
	if q.Plan.Rest != "" {
		if r.Rest, err = pace.ParseTime(q.Plan.Rest); err != nil {
			wrong("rest: %w", err)
		}
	}
	from := "From the best time alone. The next test follows from this one, and fits better."
	if q.Plan.Best != "" {
		if r.Best, err = pace.ParseTime(q.Plan.Best); err != nil {
			wrong("best time: %w", err)
		} else if v, err := pace.MeanSpeed(cmp.Or(r.Distance, 4*r.Pool.Per100()), r.Best); err == nil && v > fastest {
			wrong("best time: found %s, want one that people swim over the distance: minutes, seconds and a tenth, 4590 for 4:59.0", q.Plan.Best)
		}
	} else if last, day, err := lastTest(records, r.Swimmer, r.Date); err == nil {
		r = r.FromLast(last)
		from = "From the test of " + day + ": the same range, so that the two compare."
	} else if r.Swimmer != "" {
		wrong("best time: found nothing, want a recent time over the distance, since there is no earlier test of %s", r.Swimmer)
	}
	if len(errs) > 0 {
		return protocol.Plan{}, "", errors.Join(errs...)
	}
	p, err := protocol.NewPlan(r)
	return p, from, err
}

// samples says which samples are taken, and how long it all takes.
func samples(p protocol.Plan) string {
	text := "at rest, after each repeat"
	if n := len(p.After); n > 0 {
		var minutes []string
		for _, a := range p.After {
			minutes = append(minutes, fmt.Sprintf("%g", a.Minutes()))
		}
		text += ", and " + strings.Join(minutes[:n-1], ", ")
		if n > 1 {
			text += " and "
		}
		text += minutes[n-1] + " min after the last"
	}
	return fmt.Sprintf("%d samples: %s. %s from the first start to the last sample.", p.Samples(), text, pace.FormatTime(p.Duration(), 0))
}
