package zones

import (
	"fmt"

	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
)

// span prints a range whose ends may be open: "below 142", "142–165", "above
// 165". below and above are the words for an open slow and an open fast end.
func (z Zone) span(below, above, unit string, known func(Edge) bool, text func(Edge) string) string {
	from, to := "", ""
	if !z.From.Open() {
		if !known(z.From) {
			return "not known"
		}
		from = text(z.From)
	}
	if !z.To.Open() {
		if !known(z.To) {
			return "not known"
		}
		to = text(z.To)
	}
	switch {
	case z.From.Open() && z.To.Open():
		return "any"
	case z.From.Open():
		return below + " " + to + unit
	case z.To.Open():
		return above + " " + from + unit
	}
	return from + "–" + to + unit
}

func located(e Edge) bool { return e.Speed > 0 }

// PaceRange returns the pace range per 100 of the pool, slow edge first:
// "1:21.6–1:15.2/100 yd", "slower than 1:21.6/100 yd", "faster than
// 1:15.2/100 yd".
func (z Zone) PaceRange(p pace.Pool) string {
	return z.span("slower than", "faster than", "/"+p.Per100().String(), located, func(e Edge) string {
		return pace.FormatTime(e.Speed.Time(p.Per100()), 1)
	})
}

// SpeedRange returns the speed range, "1.203–1.290 m/s".
func (z Zone) SpeedRange() string {
	return z.span("below", "above", " m/s", located, func(e Edge) string { return fmt.Sprintf("%.3f", float64(e.Speed)) })
}

// HeartRateRange returns the heart rates, "148–166 /min", or "not known".
func (z Zone) HeartRateRange() string {
	return z.span("below", "above", " /min", func(e Edge) bool { return e.HeartRate > 0 },
		func(e Edge) string { return fmt.Sprintf("%.0f", e.HeartRate) })
}

// LactateRange returns the blood lactate, "1.6–3.1 mmol/L", or "not known".
func (z Zone) LactateRange() string {
	return z.span("below", "above", " mmol/L", func(e Edge) bool { return e.Lactate > 0 },
		func(e Edge) string { return fmt.Sprintf("%.1f", e.Lactate) })
}

// AnchorRange returns what the edges hang on, "below LT1", "LT1–LT2".
func (z Zone) AnchorRange() string {
	return z.span("below", "above", "", func(Edge) bool { return true }, func(e Edge) string { return e.Bound.String() })
}

// In prints an edge as a pace with its anchor and, if there is one, its
// interval, slow end first: "LT1 at 1:21.6/100 yd (1:22.4–1:20.9)".
func (e Edge) In(p pace.Pool) string {
	if e.Open() {
		return "open"
	}
	s := e.Bound.String() + " at " + e.Speed.In(p).String()
	if e.Low > 0 && e.High > 0 {
		s += " (" + pace.FormatTime(e.Low.Time(p.Per100()), 1) + "–" + pace.FormatTime(e.High.Time(p.Per100()), 1) + ")"
	}
	return s
}

// Table returns the zones with paces per 100 of the pool, a row for each; notes
// give the edges that have an interval, and the warnings. Heart rate and lactate
// have a column if the profile has them.
func (t *Table) Table(p pace.Pool) table.Table {
	out := table.Table{Head: []table.Column{{Name: "zone"}, {Name: "where"}, {Name: "pace"}}}
	for _, z := range t.Zones {
		out.Rows = append(out.Rows, []string{z.Name, z.AnchorRange(), z.PaceRange(p)})
		if e := z.From; e.Low > 0 && e.High > 0 {
			out.Notes = append(out.Notes, e.In(p))
		}
	}
	add := func(name string, known bool, cell func(Zone) string) {
		if !known {
			return
		}
		out.Head = append(out.Head, table.Column{Name: name})
		for i, z := range t.Zones {
			out.Rows[i] = append(out.Rows[i], cell(z))
		}
	}
	add("heart rate", t.Profile.HeartRate != nil, Zone.HeartRateRange)
	add("speed", true, Zone.SpeedRange)
	add("lactate", t.Profile.Lactate != nil, Zone.LactateRange)
	for _, w := range t.Warnings {
		out.Notes = append(out.Notes, w.Text("repeat"))
	}
	return out
}
