package sheet

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/internal/form"
)

// key tells one test from another.
type key struct{ swimmer, date string }

// parsed is one row of a sheet in the types of a record.
type parsed struct {
	line     int
	key      key    // empty if the row does not say whose it is
	spelt    string // the name in the row, if key has another spelling
	pool     pace.Pool
	rest     float64
	warmUp   pace.Length
	next     time.Time
	repeat   protocol.Repeat
	isSample bool // the row is a sample after the repeat, not a repeat
	notes    []note
	swapped  string // the lactate cell, if lactate and heart rate are exchanged
}

// parseRow reads all cells of a row. The faults are all those of the row.
func parseRow(r row, semicolons bool) (parsed, []*protocol.Fault) {
	c := &cells{row: r, comma: semicolons, faults: r.stray}
	c.blankDashes()
	p := parsed{line: r.line}
	if r.cell[colDate] == "" && r.cell[colPool] == "" && r.cell[colDistance] == "" && r.cell[colRepeat] == "" {
		return p, append(c.faults, &protocol.Fault{Line: r.line, Found: form.Shorten(r.cell[colSwimmer]), Err: protocol.ErrRow,
			Want: "a repeat, with date, pool, distance and number; this row has none of them, as one of means has none"})
	}
	p.key = key{protocol.CleanName(c.text(colSwimmer)), r.cell[colDate]}
	if p.key.swimmer == "" && len(c.faults) == len(r.stray) {
		c.fault(colSwimmer, "", "the swimmer's name in every row")
	}
	c.date(colDate)
	if costsRow(c.faults) {
		p.key = key{}
	}
	c.readPool(&p)
	c.readRepeat(&p)
	c.readRest(&p)
	p.rest = c.number(colRest, form.MinLactate, form.MaxLactate, "a lactate of 0.1 to 30 mmol/L, or nothing if it was not taken")
	p.warmUp = c.length(colWarmUp, p.pool)
	if c.row.cell[colNext] != "" {
		p.next = c.date(colNext)
	}
	if costsRow(c.faults) {
		for _, f := range c.faults {
			f.Kept = false
		}
	}
	p.notes = c.row.notes
	return p, c.faults
}

// readRest leaves a resting sample beyond the range of the analyser out.
func (c *cells) readRest(p *parsed) {
	cell := &c.row.cell[colRest]
	switch strings.ToLower(*cell) {
	case "hi", "high", "lo", "low":
		c.row.note(colRest, noteRange, fmt.Sprintf("%s is beyond the range of the analyser, and read as not taken", *cell))
		*cell = ""
	}
}

// readPool reads the pool and the distance in it.
func (c *cells) readPool(p *parsed) {
	pool, err := pace.ParsePool(c.decimal(colPool))
	if unit := c.unit(colPool); err != nil && unit != "" {
		if p, unitErr := pace.ParsePool(c.decimal(colPool) + " " + unit); unitErr == nil {
			pool, err = p, nil
		}
	}
	if err != nil {
		c.fault(colPool, c.row.cell[colPool], because("a pool such as 25 yd, 25 m, 50 m, SCY, SCM or LCM", err))
	}
	p.pool = pool
	rep := &p.repeat
	rep.Distance = c.length(colDistance, pool)
	if rep.Distance > 0 && err == nil {
		rep.Distance = c.wholeLengths(rep.Distance, pool)
	}
	c.swum = rep.Distance
}

// wholeLengths returns the distance of whole lengths that was written: in a pool
// of 33 1/3 m, 533.33 m are 16 lengths.
func (c *cells) wholeLengths(d pace.Length, pool pace.Pool) pace.Length {
	_, err := pool.Lengths(d)
	if err == nil {
		return d
	}
	text := c.decimal(colDistance)
	if _, decimals, ok := strings.Cut(strings.TrimRight(text, " abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"), "."); ok {
		whole := pool.Distance(int(math.Round(float64(d / pool.Length()))))
		if whole > 0 && math.Abs(float64((d-whole)/pool.Unit())) <= 0.5*math.Pow(10, -float64(len(decimals)))+1e-9 {
			return whole
		}
	}
	short := strings.TrimPrefix(form.Problem(err), "distance: found ")
	want := "a whole number of lengths; " + strings.Replace(short, ", want whole lengths", "", 1)
	if other, err := pace.NewPool(float64(pool.Length()/pool.Unit()), pace.Yard+pace.Metre-pool.Unit()); err == nil {
		if _, err := other.Lengths(d); err == nil {
			want += fmt.Sprintf("; is the pool %s?", other)
		}
	}
	c.fault(colDistance, c.row.cell[colDistance], want)
	return 0
}

// readRepeat reads what belongs to the swim, or to the sample after it.
func (c *cells) readRepeat(p *parsed) {
	rep, cell := &p.repeat, &c.row.cell
	if n, err := strconv.Atoi(cell[colRepeat]); err == nil && n >= 1 && n <= form.MaxNumber && plain(cell[colRepeat]) {
		rep.Number = n
	} else {
		c.fault(colRepeat, cell[colRepeat], fmt.Sprintf("the number of the repeat, 1 to %d", form.MaxNumber))
	}
	p.isSample = cell[colAfter] != "" && cell[colTime] == ""
	c.sample = p.isSample
	if cell[colAfter] != "" {
		rep.After = c.minutes()
	}
	if cell[colDistance] == "" && !p.isSample {
		c.fault(colDistance, "", `the distance of the repeat, such as "400"`)
	}
	c.readTime(rep, p.pool)
	if c.exchanged() {
		p.swapped = cell[colLactate]
		cell[colLactate], cell[colHeartRate] = "", ""
	}
	rep.Lactate, rep.Range = c.lactate()
	rep.HeartRate = c.number(colHeartRate, form.MinHeartRate, form.MaxHeartRate, "a heart rate of 30 to 250 per min, or nothing if it was not taken")
	if cell[colTime] == "" && !p.isSample && (cell[colLactate] != "" || cell[colHeartRate] != "" || p.swapped != "") {
		c.fault(colTime, "", "the time swum: without it the sample has no place on the curve (or, for a further sample after the last repeat, the minutes after)")
	}
	rep.Target, rep.AllOut = c.target()
	if cell[colLeave] != "" {
		rep.Leave = c.clock(colLeave, c.decimal(colLeave), 0, true)
	}
	c.readStrokes(rep, p.pool)
	rep.Remark = c.text(colRemark)
	rep.Extra = c.extra()
	if p.isSample {
		c.refuseInSample()
	}
}

// readTime reads the time swum, and judges the speed.
func (c *cells) readTime(rep *protocol.Repeat, pool pace.Pool) {
	if c.row.cell[colTime] != "" {
		rep.Time = c.clock(colTime, c.decimal(colTime), rep.Distance, false)
	}
	if !(rep.Time > 0 && rep.Distance > 0) {
		return
	}
	if v := rep.Distance.Metres() / rep.Time.Seconds(); !(v >= form.MinSpeed && v <= form.MaxSpeed) {
		want := fmt.Sprintf("a time of %s to %s for %s; this is %.2f m/s",
			pace.FormatTime(pace.Speed(form.MaxSpeed).Time(rep.Distance), 0), pace.FormatTime(pace.Speed(form.MinSpeed).Time(rep.Distance), 0), rep.Distance, v)
		per := pool.Per100()
		if t := time.Duration(float64(rep.Time) * float64(rep.Distance/per)); rep.Distance > per && swims(rep.Distance, t) {
			want += fmt.Sprintf("; as a pace per %s it would be %s", per, pace.FormatTime(t, 1))
		}
		c.fault(colTime, c.row.cell[colTime], want)
	}
}

// readStrokes reads what was counted and timed over a stretch in mid-pool.
func (c *cells) readStrokes(rep *protocol.Repeat, pool pace.Pool) {
	rep.Cycles = c.number(colCycles, 0.5, 1000, "a number of stroke cycles above zero, or nothing if they were not counted")
	rep.Segment = c.length(colSegment, pool)
	if rep.Segment > 0 && rep.Distance > 0 && rep.Segment > rep.Distance {
		c.fault(colSegment, c.row.cell[colSegment], "a stretch of the repeat, no longer than its distance")
		rep.Segment = 0
	}
	if c.row.cell[colSegmentTime] != "" {
		rep.SegmentTime = c.clock(colSegmentTime, c.decimal(colSegmentTime), rep.Segment, false)
	}
	rep.StrokeRate = c.number(colRate, 5, 150, "a stroke rate of 5 to 150 cycles per min, or nothing if it was not taken")
	rep.StrokesPerLength = c.number(colPerLength, 1, 500, "a number of arm strokes over one length, or nothing if they were not counted")
}

// extra returns the cells of columns that are kept as they are. Nil means none.
func (c *cells) extra() map[string]string {
	for _, name := range slices.Sorted(maps.Keys(c.row.extra)) {
		if value := c.row.extra[name]; !form.Printable(value) {
			c.faults = append(c.faults, &protocol.Fault{Line: c.row.line, Column: name, Found: form.Shorten(value), Want: "text without control characters", Err: protocol.ErrValue, Kept: true})
			delete(c.row.extra, name)
		}
	}
	if len(c.row.extra) == 0 {
		return nil
	}
	return c.row.extra
}

// refuseInSample refuses cells that the row of a sample cannot have. They cost
// the row.
func (c *cells) refuseInSample() {
	for _, col := range []column{colTarget, colLeave, colCycles, colSegment, colSegmentTime, colRate, colPerLength, colRest, colWarmUp, colNext} {
		if cell := c.row.cell[col]; cell != "" {
			c.fault(col, cell, "nothing in the row of a sample after the repeat")
			c.faults[len(c.faults)-1].Kept = false
		}
	}
}
