package protocol

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"
)

// maxFaults is how many faults of one test are kept apart; those beyond it are
// only counted.
const maxFaults = 100

// collector gathers the rows of one test.
type collector struct {
	key      key
	line     int // of the first row
	record   Record
	number   [maxNumber + 1]int // line of each repeat, by its number
	poolLine int
	ofTest   [columnCount]int // line that has the value of the whole test
	samples  []parsed
	spelt    []string // other spellings of the name in the rows taken
	dropped  int      // faults beyond maxFaults
}

func newCollector(k key) *collector {
	day, _ := time.Parse(isoDate, k.date) // read before as the date of a row
	return &collector{key: k, record: Record{Swimmer: k.swimmer, Date: day}}
}

func (c *collector) fault(f *SheetError) {
	if len(c.record.Faults) < maxFaults {
		c.record.Faults = append(c.record.Faults, f)
	} else {
		c.dropped++
	}
}

func (c *collector) conflict(line int, col column, found, want string) {
	c.fault(&SheetError{Line: line, Column: col.String(), Found: shorten(found), Want: want, Err: ErrConflict})
}

// take takes a row, or its faults.
func (c *collector) take(p parsed, faults []*SheetError) {
	if c.line == 0 {
		c.line = p.line
	}
	if !costsRow(faults) {
		c.add(p)
	}
	for _, f := range faults {
		c.fault(f)
	}
}

// speltLike reports that another name is this one but for case and blanks.
func (c *collector) speltLike(other key, line int) {
	c.fault(&SheetError{Line: c.line, Column: colSwimmer.String(), Found: shorten(c.key.swimmer), Want: fmt.Sprintf("one spelling of a name; line %d has %q", line, shorten(other.swimmer)), Err: ErrConflict, Kept: true})
}

// respell gives a row of another spelling of the name, on the same day, to the
// test that has the first: nobody tells two swimmers by case and blanks, and a
// test without the row would be another test. The fault is told all the same.
func (p *parsed) respell(first key, line int, faults []*SheetError) []*SheetError {
	if p.key.date != first.date || !alike(p.key.swimmer, first.swimmer) {
		return faults
	}
	if p.line > 0 {
		faults = append(faults, &SheetError{Line: p.line, Column: colSwimmer.String(), Found: shorten(p.key.swimmer),
			Want: fmt.Sprintf("one spelling of a name; line %d has %q", line, shorten(first.swimmer)), Err: ErrConflict, Kept: true})
	}
	p.spelt, p.key = p.key.swimmer, first
	return faults
}

// elsewhere tells whether a row has the name in another spelling than all rows of
// the test, and another pool, so that it is of a test of its own.
func (c *collector) elsewhere(p parsed) bool {
	return alike(p.key.swimmer, c.key.swimmer) && c.poolLine != 0 && !p.pool.IsZero() && p.pool != c.record.Pool && !slices.Contains(c.spelt, p.key.swimmer)
}

// alike tells whether two names differ by no more than case and blanks, but do.
func alike(a, b string) bool { return a != b && foldName(a) == foldName(b) }

// foldName leaves out what nobody tells two swimmers by: case and blanks.
func foldName(s string) string { return strings.Join(strings.Fields(strings.ToLower(s)), "") }

// add takes a row without faults of its own.
func (c *collector) add(p parsed) {
	rec := &c.record
	if c.poolLine == 0 {
		rec.Pool, c.poolLine = p.pool, p.line
	}
	if p.pool != rec.Pool {
		c.conflict(p.line, colPool, p.pool.String(), fmt.Sprintf("one pool throughout a test; line %d has %s", c.poolLine, rec.Pool))
		return
	}
	if c.once(p.line, colRest, numberText(p.rest), numberText(rec.Rest)) && p.rest != 0 {
		rec.Rest = p.rest
	}
	if c.once(p.line, colWarmUp, lengthText(p.warmUp, rec.Pool), lengthText(rec.WarmUp, rec.Pool)) && p.warmUp != 0 {
		rec.WarmUp = p.warmUp
	}
	if c.once(p.line, colNext, dateText(p.next), dateText(rec.Next)) && !p.next.IsZero() {
		rec.Next = p.next
	}
	if p.spelt != "" && !slices.Contains(c.spelt, p.spelt) {
		c.spelt = append(c.spelt, p.spelt)
	}
	n := p.repeat.Number
	switch {
	case p.isSample && len(c.samples) == maxNumber:
		c.conflict(p.line, colAfter, minutesText(p.repeat.After), fmt.Sprintf("no more than %d samples after the last repeat", maxNumber))
	case p.isSample:
		c.samples = append(c.samples, p)
	case c.number[n] != 0:
		c.conflict(p.line, colRepeat, fmt.Sprint(n), fmt.Sprintf("every repeat of a swimmer's test on one day only once; line %d has it already (a further sample after the last repeat has the minutes after and no time)", c.number[n]))
	default:
		c.number[n] = p.line
		rec.Repeats = append(rec.Repeats, p.repeat)
	}
}

// once checks a value that a test has once: it may stand in several rows, but
// must be the same in all. The first counts.
func (c *collector) once(line int, col column, found, before string) bool {
	if found != "" && before != "" && found != before {
		c.fault(&SheetError{Line: line, Column: col.String(), Found: shorten(found), Want: fmt.Sprintf("one value for the whole test; line %d has %s", c.ofTest[col], before), Err: ErrConflict, Kept: true})
		return false
	}
	if found != "" && before == "" {
		c.ofTest[col] = line
	}
	return true
}

// finish puts the test in order and returns it.
func (c *collector) finish() Record {
	rec := &c.record
	slices.SortFunc(rec.Repeats, func(a, b Repeat) int { return cmp.Compare(a.Number, b.Number) })
	slices.SortStableFunc(c.samples, func(a, b parsed) int { return cmp.Compare(a.repeat.After, b.repeat.After) })
	last := Repeat{}
	if n := len(rec.Repeats); n > 0 {
		last = rec.Repeats[n-1]
	}
	whole := !costsRow(rec.Faults)
	for i, p := range c.samples {
		s := p.repeat
		switch {
		case s.Number < last.Number || whole && s.Number > last.Number:
			c.conflict(p.line, colRepeat, fmt.Sprint(s.Number), fmt.Sprintf("the last repeat, %d, since minutes without a time make this a sample after it; a repeat needs its time", last.Number))
		case s.Distance != 0 && s.Number == last.Number && s.Distance != last.Distance:
			c.conflict(p.line, colDistance, s.Distance.String(), fmt.Sprintf("nothing, or the distance of repeat %d, %s", last.Number, last.Distance))
		case i > 0 && s.After == c.samples[i-1].repeat.After:
			c.conflict(p.line, colAfter, minutesText(s.After), fmt.Sprintf("one sample at a time; line %d has this one already", c.samples[i-1].line))
		default:
			rec.Recovery = append(rec.Recovery, Sample{After: s.After, Lactate: s.Lactate, HeartRate: s.HeartRate, Remark: s.Remark, Extra: s.Extra})
		}
	}
	slices.SortStableFunc(rec.Faults, func(a, b *SheetError) int { return cmp.Compare(a.Line, b.Line) })
	lost := linesLost(rec.Faults)
	for _, f := range rec.Faults {
		f.Kept = f.Kept && !lost[f.Line]
	}
	if c.dropped > 0 {
		rec.Faults = append(rec.Faults, &SheetError{Found: fmt.Sprintf("%d more faults in the test of %s", c.dropped, shorten(c.key.swimmer)), Want: "none", Err: ErrRow})
	}
	return *rec
}
