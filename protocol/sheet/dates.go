package sheet

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"example.com/steptest/protocol"
	"example.com/steptest/protocol/internal/day"
)

// maxWaiting bounds the rows that wait for a date that shows the order of day and
// month [bytes].
const maxWaiting = 1 << 20

// dates finds out what the dates of a sheet mean. From the first one that can be
// read in two ways, rows wait until another shows the order of day and month, or
// until too many wait.
type dates struct {
	order   DateOrder
	given   bool   // the order is an option, or stands in the header
	because string // how the order is known
	found   string // the date that showed it, with its line
	mixed   bool   // dates of both orders were found: none can be trusted
	waiting []row
	size    int
}

// newDates starts at the unit of the header's date.
func newDates(o Options, unit string) *dates {
	header, _ := orderOf(unit)
	switch {
	case o.Dates != OrderUnknown:
		return &dates{order: o.Dates, given: true, because: "as asked for"}
	case header != OrderUnknown:
		return &dates{order: header, given: true, because: "as the header says"}
	}
	return &dates{}
}

// add takes the next row, and returns those whose dates are known.
func (d *dates) add(r row) []row {
	wait := len(d.waiting) > 0
	for _, col := range r.dated() {
		read := day.Read(r.cell[col])
		if order := orderShown(read); order != OrderUnknown {
			d.learn(order, col, &r)
		}
		wait = wait || read.Two()
	}
	if d.order == OrderUnknown && wait {
		d.waiting = append(d.waiting, r)
		d.size += r.size
		if d.size < maxWaiting {
			return nil
		}
		return d.release()
	}
	ready := d.release()
	d.resolve(&r, nil)
	return append(ready, r)
}

// dated are the columns of a row that have dates.
func (r *row) dated() []column {
	if r.broken {
		return nil
	}
	return []column{colDate, colNext}
}

// orderShown returns the order that a date shows, as one with a number above 12 does.
func orderShown(read day.Reading) DateOrder {
	switch {
	case read.Day.IsZero() || read.DayFirst.Equal(read.MonthFirst):
		return OrderUnknown
	case read.MonthFirst.IsZero():
		return DayFirst
	}
	return MonthFirst
}

// learn takes a date that shows the order. One of another order than those
// before it is a fault.
func (d *dates) learn(order DateOrder, col column, r *row) {
	switch {
	case d.given || d.mixed:
	case d.order == OrderUnknown:
		d.order, d.found = order, fmt.Sprintf("%s in line %d", r.cell[col], r.line)
		d.because = fmt.Sprintf("as %s shows", d.found)
	case d.order != order:
		d.order, d.mixed = OrderUnknown, true
		r.faults = append(r.faults, kept(conflict(r.line, col, r.cell[col], fmt.Sprintf("day and month in one order throughout the sheet; %s has the other", d.found))))
	}
}

// release resolves the rows that wait.
func (d *dates) release() []row {
	out, undecided := d.waiting, &protocol.Fault{}
	for i := range out {
		d.resolve(&out[i], undecided)
	}
	d.waiting, d.size = nil, 0
	return out
}

// resolve writes the dates of a row with the year first. A date that stays
// undecided is counted in the fault.
func (d *dates) resolve(r *row, undecided *protocol.Fault) {
	for _, col := range r.dated() {
		text := r.cell[col]
		read, order, because := day.Read(text), d.order, d.because
		if order == OrderUnknown && read.Points && !d.mixed {
			order, because = DayFirst, "as dates with points are (common practice)"
		}
		switch {
		case read.Two() && order == OrderUnknown:
			r.undecide(col, read, undecided)
		case read.Two():
			first := "day first"
			if read.Day = read.DayFirst; order == MonthFirst {
				read.Day, first = read.MonthFirst, "month first"
			}
			r.cell[col] = read.Day.Format(time.DateOnly)
			r.note(col, "%s is read as %s, %s, %s", text, r.cell[col], first, because)
		case !read.Day.IsZero():
			r.cell[col] = read.Day.Format(time.DateOnly)
			if read.Serial {
				r.note(col, "%s is read as %s, a spreadsheet's number of a day", text, r.cell[col])
			}
		}
	}
}

// undecide leaves a date open. The date of the next test is a fault of its own.
func (r *row) undecide(col column, read day.Reading, f *protocol.Fault) {
	either := []string{read.DayFirst.Format(time.DateOnly), read.MonthFirst.Format(time.DateOnly)}
	fault := protocol.Fault{Line: r.line, Column: col.String(), Found: r.cell[col], Err: ErrDates, Kept: col == colNext,
		Want: fmt.Sprintf("dates that can be read in one way: this is %s or %s, and no other date of the sheet says which; write the year first, or ask for day or month first", either[0], either[1])}
	if col == colNext {
		r.faults, r.cell[col] = append(r.faults, &fault), ""
		return
	}
	if f.Line == 0 {
		*f = fault
	}
	f.Rows++
	r.undecided, r.either = f, either
}

// orderOf returns the order of day and month in a form of dates, such as
// dd/mm/yyyy. ok reports whether it is such a form.
func orderOf(s string) (order DateOrder, ok bool) {
	letters := slices.Compact([]rune(strings.NewReplacer("/", "", ".", "", "-", "", " ", "").Replace(s)))
	switch string(letters) {
	case "dmy":
		return DayFirst, true
	case "mdy":
		return MonthFirst, true
	}
	return OrderUnknown, string(letters) == "ymd"
}
