package sheet

import (
	"fmt"
	"time"

	"example.com/steptest/protocol"
)

// maxWaiting bounds the rows that wait for a date that shows the order of day and
// month [bytes].
const maxWaiting = 1 << 20

// waitingRow is a row, or the fault of one that cannot be split into cells.
type waitingRow struct {
	row   row
	fault *protocol.Fault
}

// dates finds out what the dates of a sheet mean. From the first one that can be
// read in two ways, rows wait until another shows the order of day and month, or
// until too many wait.
type dates struct {
	order   DateOrder
	given   bool   // the order is an option, or stands in the header
	because string // how the order is known
	found   string // the date that showed it, with its line
	mixed   bool   // dates of both orders were found: none can be trusted
	waiting []waitingRow
	size    int
}

func newDates(o Options, header DateOrder) *dates {
	switch {
	case o.Dates != OrderUnknown:
		return &dates{order: o.Dates, given: true, because: "as asked for"}
	case header != OrderUnknown:
		return &dates{order: header, given: true, because: "as the header says"}
	}
	return &dates{}
}

// add takes the next row, and returns those whose dates are settled.
func (d *dates) add(w waitingRow) []waitingRow {
	wait := false
	for _, col := range []column{colDate, colNext} {
		if w.fault != nil {
			break
		}
		read := readDate(w.row.cell[col])
		if order, ok := read.one(); ok {
			d.learn(order, col, &w.row)
		}
		wait = wait || len(read.byOrder) == 2
	}
	if d.order == OrderUnknown && (wait || len(d.waiting) > 0) {
		d.waiting = append(d.waiting, w)
		d.size += w.row.size()
		if d.size < maxWaiting {
			return nil
		}
		return d.flush()
	}
	return append(d.flush(), d.settle(w, nil))
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
		r.otherOrder(col, fmt.Sprintf("day and month in one order throughout the sheet; %s has the other", d.found))
	}
}

// flush settles the rows that wait.
func (d *dates) flush() []waitingRow {
	if len(d.waiting) == 0 {
		return nil
	}
	undecided := &protocol.Fault{}
	out := make([]waitingRow, len(d.waiting))
	for i, w := range d.waiting {
		out[i] = d.settle(w, undecided)
	}
	d.waiting, d.size = nil, 0
	return out
}

// settle writes the dates of a row with the year first. A date that stays
// undecided is counted in the fault.
func (d *dates) settle(w waitingRow, undecided *protocol.Fault) waitingRow {
	if w.fault != nil {
		return w
	}
	for _, col := range []column{colDate, colNext} {
		text := w.row.cell[col]
		read := readDate(text)
		order, because := d.order, d.because
		if order == OrderUnknown && read.points && !d.mixed {
			order, because = DayFirst, "as dates with points are (common practice)"
		}
		switch {
		case read.day.IsZero() && len(read.byOrder) == 2 && order != OrderUnknown:
			day := read.byOrder[order]
			w.row.cell[col] = day.Format(time.DateOnly)
			w.row.note(col, noteOrder, fmt.Sprintf("%s is read as %s, %s, %s", text, w.row.cell[col], map[DateOrder]string{DayFirst: "day first", MonthFirst: "month first"}[order], because))
		case read.day.IsZero() && len(read.byOrder) == 2:
			w.row.undecide(col, read, undecided)
		case !read.day.IsZero():
			w.row.cell[col] = read.day.Format(time.DateOnly)
			if read.serial {
				w.row.note(col, noteSerial, fmt.Sprintf("%s is read as %s, a spreadsheet's number of a day", text, w.row.cell[col]))
			}
		}
	}
	return w
}

// undecide leaves a date open. The date of the next test is a fault of its own.
func (r *row) undecide(col column, read dateReading, f *protocol.Fault) {
	text := r.cell[col]
	a, b := read.byOrder[DayFirst].Format(time.DateOnly), read.byOrder[MonthFirst].Format(time.DateOnly)
	want := fmt.Sprintf("dates that can be read in one way: this is %s or %s, and no other date of the sheet says which; write the year first, or ask for day or month first", a, b)
	if col == colNext {
		r.stray = append(r.stray, &protocol.Fault{Line: r.line, Column: col.String(), Found: text, Want: want, Err: ErrDates, Kept: true})
		r.cell[col] = ""
		return
	}
	if f.Line == 0 {
		*f = protocol.Fault{Line: r.line, Column: col.String(), Found: text, Want: want, Err: ErrDates}
	}
	f.Rows++
	r.undecided, r.either = f, [2]string{a, b}
}

// otherOrder reports a date whose order is not that of the dates above.
func (r *row) otherOrder(col column, want string) {
	r.stray = append(r.stray, &protocol.Fault{Line: r.line, Column: col.String(), Found: r.cell[col], Want: want, Err: protocol.ErrConflict, Kept: true})
}

// size is about what a row takes in memory [bytes].
func (r *row) size() int {
	n := 1000
	for _, s := range r.cell {
		n += len(s)
	}
	for name, s := range r.extra {
		n += len(name) + len(s)
	}
	return n
}
