package sheet

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/internal/form"
)

// parse reads all cells of a row.
func (r *row) parse() {
	r.blankDashes()
	if r.cell[colDate] == "" && r.cell[colPool] == "" && r.cell[colDistance] == "" && r.cell[colRepeat] == "" {
		r.faults = append(r.faults, &protocol.Fault{Line: r.line, Found: form.Shorten(r.cell[colSwimmer]), Err: protocol.ErrRow,
			Want: "a repeat, with date, pool, distance and number; this row has none of them, as one of means has none"})
		return
	}
	r.key = r.readKey()
	r.pool = r.readPool()
	r.readRepeat()
	r.rest = r.readRest()
	r.warmUp = r.readLength(colWarmUp)
	if r.cell[colNext] != "" {
		r.next = r.readDate(colNext)
	}
	if costsRow(r.faults) { // then a cell costs nothing more; placeFaults sees to faults found later
		for _, f := range r.faults {
			f.Kept = false
		}
	}
}

// readKey reads swimmer and date. The key is empty if either has a fault.
func (r *row) readKey() key {
	before := len(r.faults)
	k := key{protocol.CleanName(r.readText(colSwimmer)), r.cell[colDate]}
	if k.swimmer == "" && len(r.faults) == before {
		r.fault(colSwimmer, "", "the swimmer's name in every row")
	}
	r.readDate(colDate)
	if costsRow(r.faults) {
		return key{}
	}
	return k
}

// readPool reads the pool, whose unit may stand in the header.
func (r *row) readPool() pace.Pool {
	pool, err := pace.ParsePool(r.decimal(colPool))
	if unit := r.units[colPool]; err != nil && unit != "" {
		if p, unitErr := pace.ParsePool(r.decimal(colPool) + " " + unit); unitErr == nil {
			return p
		}
	}
	if err != nil {
		r.fault(colPool, r.cell[colPool], because("a pool such as 25 yd, 25 m, 50 m, SCY, SCM or LCM", err))
	}
	return pool
}

// wholeLengths returns the distance of whole lengths that was written: in a pool
// of 33 1/3 m, 533.33 m are 16 lengths.
func (r *row) wholeLengths(d pace.Length) pace.Length {
	pool := r.pool
	_, err := pool.Lengths(d)
	if err == nil {
		return d
	}
	number, _ := unitOf(r.decimal(colDistance))
	if _, decimals, ok := strings.Cut(number, "."); ok {
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
	r.fault(colDistance, r.cell[colDistance], want)
	return 0
}

// readRepeat reads what belongs to the swim, or to the sample after it.
func (r *row) readRepeat() {
	rep, cell := &r.repeat, &r.cell
	rep.Distance = r.readLength(colDistance)
	if rep.Distance > 0 && !r.pool.IsZero() {
		rep.Distance = r.wholeLengths(rep.Distance)
	}
	if n, err := strconv.Atoi(cell[colRepeat]); err == nil && n >= 1 && n <= form.MaxNumber && plain(cell[colRepeat]) {
		rep.Number = n
	} else {
		r.fault(colRepeat, cell[colRepeat], fmt.Sprintf("the number of the repeat, 1 to %d", form.MaxNumber))
	}
	r.isSample = cell[colAfter] != "" && cell[colTime] == ""
	rep.After = r.readMinutes()
	if cell[colDistance] == "" && !r.isSample {
		r.fault(colDistance, "", `the distance of the repeat, such as "400"`)
	}
	rep.Time = r.readTime()
	if r.exchanged() {
		r.swapped = cell[colLactate]
		cell[colLactate], cell[colHeartRate] = "", ""
	}
	rep.Lactate, rep.Range = r.readLactate()
	rep.HeartRate = r.readHeartRate()
	if cell[colTime] == "" && !r.isSample && (cell[colLactate] != "" || cell[colHeartRate] != "" || r.swapped != "") {
		r.fault(colTime, "", "the time swum: without it the sample has no place on the curve (or, for a further sample after the last repeat, the minutes after)")
	}
	rep.Target, rep.AllOut = r.readTarget()
	rep.Leave = r.readClock(colLeave, r.decimal(colLeave), 0, true)
	r.readStrokes(rep)
	rep.Remark = r.readText(colRemark)
	rep.Extra = r.readExtra()
	if r.isSample {
		r.refuseInSample()
	}
}

// readStrokes reads what was counted and timed over a stretch in mid-pool.
func (r *row) readStrokes(rep *protocol.Repeat) {
	rep.Cycles = r.readNumber(colCycles, form.Range{Min: 0.5, Max: 1000}, "a number of stroke cycles above zero, or nothing if they were not counted")
	rep.Segment = r.readLength(colSegment)
	if rep.Segment > 0 && rep.Distance > 0 && rep.Segment > rep.Distance {
		r.fault(colSegment, r.cell[colSegment], "a stretch of the repeat, no longer than its distance")
		rep.Segment = 0
	}
	rep.SegmentTime = r.readClock(colSegmentTime, r.decimal(colSegmentTime), rep.Segment, false)
	rep.StrokeRate = r.readNumber(colRate, form.Range{Min: 5, Max: 150}, "a stroke rate of %v cycles per min, or nothing if it was not taken")
	rep.StrokesPerLength = r.readNumber(colPerLength, form.Range{Min: 1, Max: 500}, "a number of arm strokes over one length, or nothing if they were not counted")
}

// readExtra reads the cells of columns that are kept as they are. Nil means none.
func (r *row) readExtra() map[string]string {
	for _, name := range slices.Sorted(maps.Keys(r.extra)) {
		if value := r.extra[name]; !form.Printable(value) {
			r.faults = append(r.faults, &protocol.Fault{Line: r.line, Column: name, Found: form.Shorten(value), Want: "text without control characters", Err: protocol.ErrValue, Kept: true})
			delete(r.extra, name)
		}
	}
	if len(r.extra) == 0 {
		return nil
	}
	return r.extra
}

// refuseInSample refuses cells that the row of a sample cannot have. They cost the row.
func (r *row) refuseInSample() {
	for _, col := range []column{colTarget, colLeave, colCycles, colSegment, colSegmentTime, colRate, colPerLength, colRest, colWarmUp, colNext} {
		if r.cell[col] != "" {
			r.need(col, "nothing in the row of a sample after the repeat")
		}
	}
}
