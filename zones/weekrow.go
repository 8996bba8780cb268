package zones

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.com/steptest/pace"
)

// A weekRow is one line of a week.
type weekRow struct {
	header, cells []string
	semicolons    bool
	faults        []error
}

// cell returns the cell of a column, empty if the line has none.
func (w *weekRow) cell(column string) string {
	if i := slices.Index(w.header, column); i >= 0 && i < len(w.cells) {
		return strings.TrimSpace(w.cells[i])
	}
	return ""
}

func (w *weekRow) fault(column string, found any, want string) {
	w.faults = append(w.faults, fmt.Errorf("%s: found %q, want %s", column, found, want))
}

// decimal returns a number with points for the commas that semicolons leave free.
func (w *weekRow) decimal(s string) string {
	if w.semicolons {
		return strings.ReplaceAll(s, ",", ".")
	}
	return s
}

// clock reads a time; zero if the cell is empty.
func (w *weekRow) clock(column, example string) time.Duration {
	s := w.cell(column)
	if s == "" {
		return 0
	}
	d, err := pace.ParseTime(w.decimal(s))
	if err != nil {
		w.fault(column, s, "a time such as "+strconv.Quote(example))
	}
	return d
}

// read returns the set of the line, and its faults.
func (w *weekRow) read(pool pace.Pool) (WeekSet, []error) {
	if len(w.cells) > len(w.header) {
		return WeekSet{}, []error{fmt.Errorf("found %d cells, want at most %d", len(w.cells), len(w.header))}
	}
	s := WeekSet{Reason: w.cell("reason")}
	s.Set.Zone = w.cell("zone")
	if s.Set.Zone == "" {
		w.fault("zone", "", "the name of a zone")
	}
	n, err := strconv.Atoi(w.cell("repeats"))
	if err != nil || n < 1 {
		w.fault("repeats", w.cell("repeats"), "how many repeats")
	}
	s.Set.Repeats = n
	d, err := strconv.ParseFloat(w.decimal(w.cell("distance")), 64)
	s.Set.Distance = pace.Length(d) * pool.Unit()
	_, lengthsErr := pool.Lengths(s.Set.Distance)
	whole := err == nil && lengthsErr == nil
	if !whole {
		w.fault("distance", w.cell("distance"), fmt.Sprintf("a whole number of lengths of a %v pool, as a number of %s", pool, pool.UnitSymbol()))
	}
	s.Set.Rest, s.Set.SendOff = w.clock("rest", "0:20"), w.clock("send-off", "3:00")
	s.Swum = w.swims(s.Set.Distance, whole)
	return s, w.faults
}

// swims reads what was swum: times, and heart rates beside them.
func (w *weekRow) swims(distance pace.Length, whole bool) (swims []Repeat) {
	rates, times := strings.Fields(w.cell("heart rate")), strings.Fields(w.cell("swum"))
	if len(rates) > 0 && len(rates) != len(times) {
		w.fault("heart rate", w.cell("heart rate"), fmt.Sprintf("one for each of %d times swum, a dash where not taken", len(times)))
		rates = nil
	}
	for i, text := range times {
		swim := Repeat{Distance: distance}
		var err error
		swim.Time, err = swimTime(w.decimal(text), distance)
		if err != nil || swim.Time <= 0 {
			w.fault("swum", text, `a time such as "2:42.6"`)
		} else if whole && !pace.Swims(distance, swim.Time) {
			w.fault("swum", text, pace.WantSwim(distance, swim.Time))
		}
		if len(rates) > 0 && rates[i] != "-" {
			swim.HeartRate, err = strconv.ParseFloat(w.decimal(rates[i]), 64)
			if err != nil || !beats(swim.HeartRate) {
				w.fault("heart rate", rates[i], "beats per minute, "+wantBeats+", or a dash where not taken")
			}
		}
		swims = append(swims, swim)
	}
	return swims
}

// swimTime reads a time, in the one way that makes a swim if a spreadsheet has taken it for
// one of the day.
func swimTime(text string, d pace.Length) (time.Duration, error) {
	fits := func(t time.Duration) bool { return pace.Swims(d, t) }
	t, err := pace.ParseTime(text)
	if err == nil && fits(t) {
		return t, nil
	}
	all := slices.DeleteFunc(pace.TimeReadings(text), func(t time.Duration) bool { return !fits(t) })
	if len(all) == 1 {
		return all[0], nil
	}
	return t, err
}
