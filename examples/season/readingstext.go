package main

import (
	"fmt"
	"math"

	"example.com/steptest/examples/internal/command"
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/between"
	"example.com/steptest/lactate/table"
)

// Text prints where the curve is now, then the season, then the readings.
func (f *course) Text(d command.Detail) string {
	parts := []string{f.title(), f.today(), f.season(d)}
	if d > command.Brief {
		parts = append(parts, f.kinds(), f.news())
	}
	if d == command.Full {
		parts = append(parts, f.all())
	}
	return command.Sections(parts...)
}

// bracket is a speed as time per 100 with its bracket.
func (f *course) bracket(e lactate.Estimate) string {
	clock := func(v float64) string { return table.Clock(f.pool().Per100().Metres() / v) }
	return fmt.Sprintf("%s per %v (%s to %s)", clock(e.Value), f.pool().Per100(), clock(e.Low), clock(e.High))
}

// today says where the curve is, and whether a test is worth its blood.
func (f *course) today() string {
	d := f.Due
	out := fmt.Sprintf("Where is the curve on %s?\n", command.Day(d.Place.Date))
	by := f.Course.ByTests(d.Place.Date)
	switch with := d.Place.LT2; {
	case with.HasInterval():
		out += command.Indented("LT2 at %s on an average day; 90 in 100 that it lies in the bracket. By the tests alone: %s.", f.bracket(with), f.bracket(by.LT2))
	default:
		s := func(v float64) string { return table.Signed(f.seconds(v), 1) }
		out += command.Indented("The curves have no LT2 in the tested range. Since the first test: %s s per %v (%s to %s; + is faster).",
			s(d.Place.Shift.Value), f.pool().Per100(), s(d.Place.Shift.Low), s(d.Place.Shift.High))
	}
	half, least, size := f.seconds(d.Half), f.seconds(d.AfterTest), f.seconds(d.Matters)
	switch {
	case d.Disagree:
		faster := "faster"
		if d.Moved.Value < 0 {
			faster = "slower"
		}
		out += command.Indented("A test is worth its blood: the %d readings since the last one disagree with it. They put the curve %.1f s per %v %s than it did; if drift and days alone had moved it, readings would do as much %.0f times in 100.",
			d.Since, math.Abs(f.seconds(d.Moved.Value)), f.pool().Per100(), faster, math.Max(100*d.Chance, 1))
	case d.Wide:
		out += command.Indented("A test is worth its blood: the bracket reaches %.1f s per %v either way, more than the %.1f s that matter (%.0f %% of the speed). One more test would make that %.1f s.", half, f.pool().Per100(), size, 100*matters, least)
	default:
		out += command.Indented("If the curve keeps its shape a test would tell little: the bracket reaches %.1f s per %v either way, and a test on that day would make that %.1f s. Without another test or reading it grows. From %s on it reaches beyond %.1f s (%.0f %% of the speed), which matters.",
			half, f.pool().Per100(), least, command.Day(d.WideOn), size, 100*matters)
	}
	out += command.Indented("Presumed: the curve keeps its shape, which only a test can check; a kind of repeat always adds the same; one day differs from an average one by %.1f %% of the speed; and the curve drifts by %.1f %% in a week and twice that in four, or half or twice as fast, weighed by how well each fits (one standard deviation each).", 100*dayToDay, 100*drift)
	return out
}

// kinds says what each kind of repeat adds to the lactate of a test.
func (f *course) kinds() string {
	t := table.Table{Caption: "What the kinds of repeats add to the lactate of a test at the same speed", Head: []table.Column{
		{Name: "repeats"}, {Name: "readings", Number: true}, {Name: "mmol/L", Number: true}, {Name: "90 % bracket", Number: true}}}
	for _, k := range f.Course.Kinds {
		name := k.Kind
		if k.Analyser != "" {
			name += ", " + k.Analyser
		}
		row := []string{name, fmt.Sprint(k.Readings), "not known", ""}
		if k.Offset.HasInterval() {
			row[2] = table.Signed(k.Offset.Value, 1)
			row[3] = table.Signed(k.Offset.Low, 1) + " to " + table.Signed(k.Offset.High, 1)
		}
		t.Rows = append(t.Rows, row)
	}
	if len(t.Rows) == 0 {
		return ""
	}
	return t.String()
}

// news says which readings were news when they came.
func (f *course) news() string {
	var lines []string
	judged, news := 0, 0
	for _, r := range f.Course.Readings {
		if !math.IsNaN(r.Percentile) {
			judged++
		}
		if !r.News {
			continue
		}
		news++
		lines = append(lines, fmt.Sprintf("%s, %s: %.1f mmol/L at %s, 90 in 100 were expected from %.1f to %.1f", command.Day(r.Date), kindOf(r), r.Lactate, f.pace(r), r.Expected.Low, r.Expected.High))
	}
	const most = 10
	if n := len(lines); n > most {
		lines = append(lines[:most:most], fmt.Sprintf("and %d more; -full lists all readings", n-most))
	}
	caption := fmt.Sprintf("Readings that were news when they came: %d of %d; chance alone makes 2 in 100", news, judged)
	if news == 0 {
		return command.Line("None of the %d readings was news when it came.", judged)
	}
	return command.List(caption, lines)
}

func kindOf(r between.Told) string {
	if r.Kind == "" {
		return "kind not said"
	}
	return r.Kind
}

func (f *course) pace(r between.Told) string {
	return table.Clock(f.pool().Per100().Metres() / r.Intensity)
}

// all says what each reading was, and what it changed.
func (f *course) all() string {
	t := table.Table{Caption: "What each reading changed", Head: []table.Column{
		{Name: "day"}, {Name: "repeats"}, {Name: "per 100", Number: true}, {Name: "mmol/L", Number: true}, {Name: "expected", Number: true}, {Name: "moves, s", Number: true}, {Name: "known to, s", Number: true}}}
	for _, r := range f.Course.Readings {
		row := []string{r.Date.Format("2 Jan 2006"), kindOf(r), f.pace(r), fmt.Sprintf("%.1f", r.Lactate), "not used:", string(r.Unused)}
		if r.Unused == "" {
			row[4], row[5] = "", table.Signed(f.seconds(r.After.Value-r.Before.Value), 1)
			if r.Expected.HasInterval() {
				row[4] = fmt.Sprintf("%.1f to %.1f", r.Expected.Low, r.Expected.High)
			} else {
				row[5] = ""
			}
			row = append(row, fmt.Sprintf("%.1f", f.seconds(r.After.High-r.After.Low)/2))
		}
		t.Rows = append(t.Rows, row)
	}
	t.Notes = []string{"Expected: 90 in 100 such readings, by all that was known before. News is the 1 in 100 at either end.",
		fmt.Sprintf("Moves: how far the reading moves the curve of an average day, in seconds per %v; + is faster. Known to: half the 90 %% bracket after it.", f.pool().Per100())}
	return t.String()
}
