package app

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"example.com/steptest/pace"
	"example.com/steptest/protocol"
)

// enter puts a number into a cell of a test. An empty value clears it.
func (q Request) enter(records []protocol.Record) (any, error) {
	i, err := q.find(records)
	if err != nil {
		return nil, err
	}
	told(records, i, q.Cell)
	if err := put(&records[i], q.Cell, strings.TrimSpace(q.Value)); err != nil {
		return nil, err
	}
	return change(records)
}

// told puts the target that the swimmer was told beside the time of a repeat that was
// swum just now.
func told(records []protocol.Record, i int, id string) {
	next, _ := nextTarget(records[i], earlier(records, records[i]))
	for k := range records[i].Repeats {
		if rep := &records[i].Repeats[k]; rep.Number == next.Number && id == fmt.Sprintf("%d.time", rep.Number) && next.Time > 0 {
			rep.Target = next.Time
		}
	}
}

func put(r *protocol.Record, id, value string) error {
	if id == "rest" {
		var beyond protocol.Range
		if err := sample(&r.Rest, &beyond, value); err != nil || beyond == protocol.InRange {
			return err
		}
		return fmt.Errorf("lactate at rest: found %s, want a number", beyond)
	}
	of, what, ok := strings.Cut(id, ".")
	if of == "after" {
		for i := range r.Recovery {
			if afterID(r.Recovery[i].After) == id {
				return sample(&r.Recovery[i].Lactate, &r.Recovery[i].Range, value)
			}
		}
	}
	n, err := strconv.Atoi(of)
	if ok && err == nil {
		for i := range r.Repeats {
			if rep := &r.Repeats[i]; rep.Number == n {
				return putRepeat(rep, what, value)
			}
		}
	}
	return fmt.Errorf("found the cell %q, want one of the test's", id)
}

func putRepeat(rep *protocol.Repeat, what, value string) error {
	switch {
	case what != "time" && value != "" && rep.Time == 0:
		return fmt.Errorf("found no time of repeat %d, want it first: without it a sample has no place on the curve", rep.Number)
	case what == "time" && value == "" && (rep.Lactate > 0 || rep.Range != protocol.InRange || rep.HeartRate > 0):
		return fmt.Errorf("found samples of repeat %d, want its time: clear them first, or type another time", rep.Number)
	}
	switch what {
	case "lactate":
		return sample(&rep.Lactate, &rep.Range, value)
	case "beats":
		return number(&rep.HeartRate, value, "beats", "a minute")
	case "time":
		return swumIn(rep, value)
	}
	return fmt.Errorf("found %q, want time, lactate or beats", what)
}

// fastest is above any speed that people swim for a minute or more [m/s].
const fastest = 2.5

func swumIn(rep *protocol.Repeat, value string) error {
	if value == "" {
		rep.Time = 0
		return nil
	}
	t, err := pace.ParseTime(value)
	if err != nil {
		return err
	}
	v, err := pace.MeanSpeed(rep.Distance, t)
	if err != nil {
		return err
	}
	if v > fastest {
		return fmt.Errorf("found %s for %v, want minutes, seconds and a tenth of the whole repeat: nobody swims %s per 100 m", value, rep.Distance, pace.FormatTime(v.Time(100).Round(time.Second/10), 1))
	}
	rep.Time = t
	return nil
}

// sample reads a lactate, or HI or Lo for one beyond the analyser's range.
func sample(to *float64, beyond *protocol.Range, value string) error {
	for _, r := range []protocol.Range{protocol.AboveRange, protocol.BelowRange} {
		if value == r.String() {
			*to, *beyond = 0, r
			return nil
		}
	}
	err := number(to, value, "lactate", "mmol/L")
	if err == nil {
		*beyond = protocol.InRange
	}
	return err
}

// number reads a number above zero. What it may be is checked as the sheet is written.
func number(to *float64, value, what, unit string) error {
	if value == "" {
		*to = 0
		return nil
	}
	v, err := strconv.ParseFloat(strings.ReplaceAll(value, ",", "."), 64)
	if err != nil || !(v > 0) {
		return fmt.Errorf("%s: found %q, want a number above zero, %s", what, value, unit)
	}
	*to = v
	return nil
}
