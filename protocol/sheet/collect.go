package sheet

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/internal/form"
)

const (
	// maxFaults is how many faults of one test are kept. Those beyond it are only counted.
	maxFaults = 100
	// maxRows is how many rows of a test are kept: its repeats, and the samples after
	// the last, twice.
	maxRows = 4 * form.MaxNumber
)

// newCollector starts a test at its first row, or at [lost] ones.
func newCollector(p parsed) *collector {
	day, _ := time.Parse(time.DateOnly, p.key.date) // read before as the date of a row
	return &collector{key: p.key, line: p.line, record: protocol.Record{Swimmer: p.key.swimmer, Date: day}}
}

// add takes a row, or [lost] ones.
func (c *collector) add(p parsed) {
	switch {
	case costsRow(p.faults):
	case len(c.rows) == maxRows:
		c.fault(conflict(p.line, colRepeat, fmt.Sprint(p.repeat.Number), fmt.Sprintf("no more than %d rows of a swimmer's test on one day", maxRows)))
	default:
		c.rows = append(c.rows, p)
	}
	c.countNotes(p.notes)
	for _, f := range p.faults {
		c.fault(f)
	}
}

func (c *collector) fault(f *protocol.Fault) {
	switch {
	case f.Rows > 0 && slices.Contains(c.record.Faults, f): // told once for many rows
	case len(c.record.Faults) < maxFaults:
		c.record.Faults = append(c.record.Faults, f)
	default:
		c.dropped++
	}
}

// conflict is the fault of a row that contradicts another.
func conflict(line int, col column, found, want string) *protocol.Fault {
	return &protocol.Fault{Line: line, Column: col.String(), Found: form.Shorten(found), Want: want, Err: protocol.ErrConflict}
}

// kept says that a fault costs the cell only.
func kept(f *protocol.Fault) *protocol.Fault {
	f.Kept = true
	return f
}

// finish puts the test in order and returns it.
func (c *collector) finish() protocol.Record {
	rec := &c.record
	most := c.pool()
	rec.Pool = most.pool
	for _, p := range c.rows {
		c.place(p, most)
	}
	c.rows = nil
	slices.SortFunc(rec.Repeats, func(a, b protocol.Repeat) int { return cmp.Compare(a.Number, b.Number) })
	c.placeSamples()
	c.placeFaults()
	c.placeNotes()
	return *rec
}

// pool returns the first row with the pool of most rows.
func (c *collector) pool() (most parsed) {
	rows := map[pace.Pool]int{}
	for _, p := range c.rows {
		rows[p.pool]++
	}
	for _, p := range c.rows {
		if rows[p.pool] > rows[most.pool] {
			most = p
		}
	}
	return most
}

// wantExchanged is what is wanted of rows in which neither lactate nor heart
// rate can be what the header says.
var wantExchanged = "a lactate of " + form.Lactate.String() + " mmol/L; lactate and heart rate look exchanged: should the names of the two columns be?"

// place puts a row into the record, unless it has another pool than most.
func (c *collector) place(p, most parsed) {
	rec := &c.record
	if p.pool != most.pool {
		c.fault(conflict(p.line, colPool, p.pool.String(), fmt.Sprintf("one pool throughout a test; line %d has %s", most.line, most.pool)))
		return
	}
	if p.swapped != "" {
		if c.swapped == nil {
			c.swapped = &protocol.Fault{Line: p.line, Column: colLactate.String(), Found: form.Shorten(p.swapped), Want: wantExchanged, Err: protocol.ErrValue, Kept: true}
			c.fault(c.swapped)
		}
		c.swapped.Rows++
	}
	setOnce(c, p.line, colRest, &rec.Rest, p.rest, numberText)
	setOnce(c, p.line, colWarmUp, &rec.WarmUp, p.warmUp, func(d pace.Length) string { return lengthText(d, rec.Pool) })
	setOnce(c, p.line, colNext, &rec.Next, p.next, dateText)
	n := p.repeat.Number
	switch {
	case p.isSample && len(c.samples) == form.MaxNumber:
		c.fault(conflict(p.line, colAfter, form.Minutes(p.repeat.After), fmt.Sprintf("no more than %d samples after the last repeat", form.MaxNumber)))
	case p.isSample:
		c.samples = append(c.samples, p)
	case c.number[n] != 0:
		c.fault(conflict(p.line, colRepeat, fmt.Sprint(n), fmt.Sprintf("every repeat of a swimmer's test on one day only once; line %d has it already (a further sample after the last repeat has the minutes after and no time)", c.number[n])))
	default:
		c.number[n] = p.line
		rec.Repeats = append(rec.Repeats, p.repeat)
	}
}

// setOnce sets a value that a test has once. It may stand in several rows, but must be the
// same in all: the first counts.
func setOnce[T comparable](c *collector, line int, col column, to *T, v T, text func(T) string) {
	switch found, before := text(v), text(*to); {
	case found == "":
	case before == "":
		*to, c.ofTest[col] = v, line
	case found != before:
		c.fault(kept(conflict(line, col, found, fmt.Sprintf("one value for the whole test; line %d has %s", c.ofTest[col], before))))
	}
}

// placeSamples puts the samples after the last repeat into the record, in order of time.
func (c *collector) placeSamples() {
	rec, last := &c.record, protocol.Repeat{}
	if n := len(rec.Repeats); n > 0 {
		last = rec.Repeats[n-1]
	}
	slices.SortStableFunc(c.samples, func(a, b parsed) int { return cmp.Compare(a.repeat.After, b.repeat.After) })
	allRows := !costsRow(rec.Faults)
	for i, p := range c.samples {
		s := p.repeat
		switch {
		case s.Number < last.Number || allRows && s.Number > last.Number || rec.RecoveryAfter != 0 && s.Number != rec.RecoveryAfter:
			c.fault(conflict(p.line, colRepeat, fmt.Sprint(s.Number), fmt.Sprintf("the last repeat, %d, since minutes without a time make this a sample after it; a repeat needs its time", last.Number)))
		case s.Distance != 0 && s.Number == last.Number && s.Distance != last.Distance:
			c.fault(conflict(p.line, colDistance, s.Distance.String(), fmt.Sprintf("nothing, or the distance of repeat %d, %s", last.Number, last.Distance)))
		case i > 0 && s.After == c.samples[i-1].repeat.After:
			c.fault(conflict(p.line, colAfter, form.Minutes(s.After), fmt.Sprintf("one sample at a time; line %d has this one already", c.samples[i-1].line)))
		default:
			if s.Number > last.Number { // the row of that repeat is at fault
				rec.RecoveryAfter = s.Number
			}
			rec.Recovery = append(rec.Recovery, protocol.Sample{After: s.After, Lactate: s.Lactate, Range: s.Range, HeartRate: s.HeartRate, Remark: s.Remark, Extra: s.Extra})
		}
	}
}

// placeFaults sorts the faults by line. A cell of a row that is left out costs nothing more,
// as in row.parse, if it is another row that shows it to be at fault.
func (c *collector) placeFaults() {
	faults := c.record.Faults
	slices.SortStableFunc(faults, func(a, b *protocol.Fault) int { return cmp.Compare(a.Line, b.Line) })
	leftOut := map[int]bool{} // by line
	for _, f := range faults {
		leftOut[f.Line] = leftOut[f.Line] || !f.Kept
	}
	for _, f := range faults {
		f.Kept = f.Kept && !leftOut[f.Line]
	}
	if c.dropped > 0 {
		c.record.Faults = append(faults, &protocol.Fault{Found: fmt.Sprintf("%d more faults in the test of %s", c.dropped, form.Shorten(c.key.swimmer)), Want: "none", Err: protocol.ErrRow})
	}
}
