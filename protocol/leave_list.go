package protocol

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
)

// atOnce is how close two swimmers may come back for one sampler to take both.
const atOnce = 45 * time.Second

// LeaveList returns who leaves when, of several plans that are swum together: a row for
// each repeat in order of time, the swimmers starting so far apart, and when each is
// expected back for a sample. A note names those who come back within 45 s of each
// other, which is too close for one sampler. The error says which plan has no swimmer.
func LeaveList(plans []Plan, apart time.Duration) (table.Table, error) {
	type row struct {
		leave, back time.Duration // a back of zero is not known
		swimmer     string
		target      Target
	}
	var rows []row
	var errs []error
	for i, p := range plans {
		if p.Swimmer == "" {
			errs = append(errs, fmt.Errorf("protocol: leave list: plan %d: found no swimmer, want a name", i+1))
		}
		for _, t := range p.Repeats {
			r := row{leave: t.Leave + time.Duration(i)*apart, swimmer: p.Swimmer, target: t}
			if t.Time > 0 {
				r.back = r.leave + t.Time
			}
			rows = append(rows, r)
		}
	}
	if apart < 0 {
		errs = append(errs, fmt.Errorf("protocol: leave list: found starts %v apart, want zero or more", apart))
	}
	if errs != nil {
		return table.Table{}, errors.Join(errs...)
	}
	slices.SortStableFunc(rows, func(a, b row) int { return cmp.Compare(a.leave, b.leave) })
	out := table.Table{Caption: "Who leaves when"}
	for _, name := range []string{"leave at", "swimmer", "repeat", "target", "back at"} {
		out.Head = append(out.Head, table.Column{Name: name, Number: name != "swimmer"})
	}
	clock := func(t time.Duration) string { return pace.FormatTime(t.Round(time.Second), 0) }
	for _, r := range rows {
		cells := []string{clock(r.leave), r.swimmer, fmt.Sprint(r.target.Number), "all out", ""}
		if r.back > 0 {
			cells[3], cells[4] = pace.FormatTime(r.target.Time, decimalsOf(r.target.Time)), clock(r.back)
			if r.target.AllOut {
				cells[3] = "~" + cells[3]
			}
		}
		out.Rows = append(out.Rows, cells)
	}
	slices.SortStableFunc(rows, func(a, b row) int { return cmp.Compare(a.back, b.back) })
	var close []string
	for i := 1; i < len(rows); i++ {
		if a, b := rows[i-1], rows[i]; a.back > 0 && b.back-a.back < atOnce && a.swimmer != b.swimmer {
			close = append(close, fmt.Sprintf("%s and %s at %s", a.swimmer, b.swimmer, clock(b.back)))
		}
	}
	if close != nil {
		out.Notes = append(out.Notes, fmt.Sprintf("Back within %s s of each other, too close for one sampler: %s.", secondsText(atOnce), strings.Join(close, "; ")))
	}
	return out, nil
}
