package sheet

import (
	"fmt"
	"maps"
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
	key      key    // empty where the row does not say whose it is
	spelt    string // the name in the row, where key has another spelling
	pool     pace.Pool
	rest     float64
	warmUp   pace.Length
	next     time.Time
	repeat   protocol.Repeat
	isSample bool // the row is a sample after the repeat, not a repeat
}

// cells reads the cells of one row and collects their faults.
type cells struct {
	row    row
	comma  bool // the sheet's decimal sign may be a comma
	sample bool // the row is a sample after the last repeat
	faults []*protocol.Fault
}

// fault reports a cell. One that a repeat cannot do without costs the row, any
// other only itself.
func (c *cells) fault(col column, found, want string) {
	needed := col.required() && col != colLactate || col == colAfter && c.sample
	c.faults = append(c.faults, &protocol.Fault{Line: c.row.line, Column: col.String(), Found: form.Shorten(found), Want: want, Err: protocol.ErrValue, Kept: !needed})
}

// blankDashes takes a dash for a blank in the cells that may be blank.
func (c *cells) blankDashes() {
	for col := range columnCount {
		if text := c.row.cell[col]; (!col.required() || col == colTime || col == colLactate) && col != colRemark && strings.Trim(text, "-–—−") == "" {
			c.row.cell[col] = ""
		}
	}
}

// decimal returns the text of a cell with a point as its decimal sign.
func (c *cells) decimal(col column) string {
	s := c.row.cell[col]
	if c.comma && strings.Count(s, ",") == 1 && !strings.Contains(s, ".") {
		s = strings.Replace(s, ",", ".", 1)
	}
	return s
}

// plain tells whether s holds nothing but digits and at most one point.
func plain(s string) bool {
	return strings.Trim(s, "0123456789") == "" || strings.Count(s, ".") == 1 && strings.Trim(strings.Replace(s, ".", "", 1), "0123456789") == ""
}

// number reads a cell that may be blank.
func (c *cells) number(col column, low, high float64, want string) float64 {
	found := c.row.cell[col]
	if found == "" {
		return 0
	}
	s, unit := unitOf(c.decimal(col))
	v, err := strconv.ParseFloat(s, 64)
	switch {
	case unit != "" && !col.unitFits(strings.ToLower(unit)):
		if name := col.unit(); name != "" && len([]rune(unit)) > 1 && plain(s) {
			want += fmt.Sprintf("; the unit is %s, not %q", strings.Replace(name, "/l", "/L", 1), form.Shorten(unit))
		}
	case strings.Contains(s, ":"):
		want += "; this reads as a time: are two columns swapped?"
	case !c.comma && strings.Contains(s, ","):
		want += "; write the decimals after a point"
	case err == nil && plain(s) && v >= low && v <= high:
		return v
	}
	c.fault(col, found, want)
	return 0
}

// unitOf splits a number from the unit behind it; without one of both, all is
// number.
func unitOf(s string) (number, unit string) {
	i := strings.IndexFunc(s, func(r rune) bool { return !strings.ContainsRune("0123456789.,:", r) })
	if i <= 0 {
		return s, ""
	}
	return s[:i], strings.TrimSpace(s[i:])
}

// text reads a cell that is kept as it is.
func (c *cells) text(col column) string {
	s := c.row.cell[col]
	if !form.Printable(s) {
		c.fault(col, s, "text without control characters")
		return ""
	}
	return s
}

// clock reads a time; zero is refused unless zeroOK.
func (c *cells) clock(col column, s string, zeroOK bool) time.Duration {
	t, err := pace.ParseTime(s)
	if err != nil {
		c.fault(col, c.row.cell[col], because(`a time such as "5:32.4"`, err))
		return 0
	}
	if t == 0 && !zeroOK {
		c.fault(col, c.row.cell[col], `a time such as "5:32.4"`)
	}
	return t
}

// length reads a distance, in the unit of the pool where it has none.
func (c *cells) length(col column, pool pace.Pool) pace.Length {
	s := c.decimal(col)
	const want = `a distance such as "400", in the unit of the pool, or "400 m"`
	switch {
	case s == "":
		return 0
	case !plain(s):
		d, err := pace.ParseLength(s)
		if err != nil || !(d > 0) {
			c.fault(col, c.row.cell[col], want)
			return 0
		}
		return d
	case pool.IsZero():
		return 0 // the pool's fault is reported
	}
	n, err := strconv.ParseFloat(s, 64)
	if err != nil || !(n > 0 && n <= 1e6) {
		c.fault(col, c.row.cell[col], want)
		return 0
	}
	return pace.Length(n) * pool.Unit()
}

// parseRow reads all cells of a row. The faults are all those of the row.
func parseRow(r row, semicolons bool) (parsed, []*protocol.Fault) {
	c := &cells{row: r, comma: semicolons, faults: r.stray}
	c.blankDashes()
	p := parsed{line: r.line}
	p.key = key{c.text(colSwimmer), r.cell[colDate]}
	if r.cell[colSwimmer] == "" {
		c.fault(colSwimmer, "", "the swimmer's name in every row")
	}
	c.date(colDate)
	if costsRow(c.faults) {
		p.key = key{}
	}
	c.readPool(&p)
	c.readRepeat(&p)
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
	return p, c.faults
}

func (c *cells) date(col column) time.Time {
	s := c.row.cell[col]
	d, err := time.Parse(time.DateOnly, s)
	if err != nil || d.Year() < form.MinYear || d.Year() > form.MaxYear {
		c.fault(col, s, wantedDate(s))
		return time.Time{}
	}
	return d
}

func (c *cells) readPool(p *parsed) {
	pool, err := pace.ParsePool(c.row.cell[colPool])
	if err != nil {
		c.fault(colPool, c.row.cell[colPool], because("a pool such as 25 yd, 25 m, 50 m, SCY, SCM or LCM", err))
	}
	p.pool = pool
	rep := &p.repeat
	rep.Distance = c.length(colDistance, pool)
	if rep.Distance > 0 && err == nil {
		if _, err := pool.Lengths(rep.Distance); err != nil {
			c.fault(colDistance, c.row.cell[colDistance], "a whole number of lengths; "+form.Problem(err))
			rep.Distance = 0
		}
	}
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
	if cell[colTime] != "" {
		rep.Time = c.clock(colTime, c.decimal(colTime), false)
	}
	if rep.Time > 0 && rep.Distance > 0 {
		if v := rep.Distance.Metres() / rep.Time.Seconds(); !(v >= form.MinSpeed && v <= form.MaxSpeed) {
			c.fault(colTime, cell[colTime], fmt.Sprintf("a time of %s to %s for %s; this is %.2f m/s",
				pace.FormatTime(pace.Speed(form.MaxSpeed).Time(rep.Distance), 0), pace.FormatTime(pace.Speed(form.MinSpeed).Time(rep.Distance), 0), rep.Distance, v))
		}
	}
	rep.Lactate = c.number(colLactate, form.MinLactate, form.MaxLactate, "a lactate of 0.1 to 30 mmol/L, or nothing if the sample was lost")
	rep.HeartRate = c.number(colHeartRate, form.MinHeartRate, form.MaxHeartRate, "a heart rate of 30 to 250 per min, or nothing if it was not taken")
	if cell[colTime] == "" && !p.isSample && (cell[colLactate] != "" || cell[colHeartRate] != "") {
		c.fault(colTime, "", "the time swum: without it the sample has no place on the curve (or, for a further sample after the last repeat, the minutes after)")
	}
	rep.Target, rep.AllOut = c.target()
	if cell[colLeave] != "" {
		rep.Leave = c.clock(colLeave, c.decimal(colLeave), true)
	}
	rep.Cycles = c.number(colCycles, 0.5, 1000, "a number of stroke cycles above zero, or nothing if they were not counted")
	rep.Segment = c.length(colSegment, p.pool)
	if rep.Segment > 0 && rep.Distance > 0 && rep.Segment > rep.Distance {
		c.fault(colSegment, cell[colSegment], "a stretch of the repeat, no longer than its distance")
		rep.Segment = 0
	}
	if cell[colSegmentTime] != "" {
		rep.SegmentTime = c.clock(colSegmentTime, c.decimal(colSegmentTime), false)
	}
	rep.Remark = c.text(colRemark)
	for _, name := range slices.Sorted(maps.Keys(c.row.extra)) {
		if value := c.row.extra[name]; !form.Printable(value) {
			c.faults = append(c.faults, &protocol.Fault{Line: c.row.line, Column: name, Found: form.Shorten(value), Want: "text without control characters", Err: protocol.ErrValue, Kept: true})
			delete(c.row.extra, name)
		}
	}
	if len(c.row.extra) > 0 {
		rep.Extra = c.row.extra
	}
	if p.isSample {
		for _, col := range []column{colTarget, colLeave, colCycles, colSegment, colSegmentTime, colRest, colWarmUp, colNext} {
			if cell[col] != "" {
				c.fault(col, cell[col], "nothing in the row of a sample after the repeat")
				c.faults[len(c.faults)-1].Kept = false
			}
		}
	}
}

// minutes reads the time between the end of the repeat and the sample.
func (c *cells) minutes() time.Duration {
	const want = `minutes such as "3", "1.5" or "1:30"`
	s := c.decimal(colAfter)
	var t time.Duration
	if strings.Contains(s, ":") {
		t, _ = pace.ParseTime(s)
	} else if s, unit := unitOf(s); unit != "" && !colAfter.unitFits(strings.ToLower(unit)) {
		c.fault(colAfter, c.row.cell[colAfter], want+fmt.Sprintf("; the unit is min, not %q", form.Shorten(unit)))
		return 0
	} else if m, err := strconv.ParseFloat(s, 64); err == nil && plain(s) && m <= form.MaxAfter.Minutes() {
		t = time.Duration(m*60*1000+0.5) * time.Millisecond
	}
	if t <= 0 || t > form.MaxAfter {
		c.fault(colAfter, c.row.cell[colAfter], want)
		return 0
	}
	return t
}

// target reads a planned time: "5:32", "all out", or "4:50 all out".
func (c *cells) target() (time.Duration, bool) {
	s := strings.ToLower(c.decimal(colTarget))
	rest, allOut := strings.CutSuffix(s, "all out")
	rest = strings.TrimSpace(rest)
	if rest == "" {
		return 0, allOut
	}
	return c.clock(colTarget, rest, false), allOut
}

// because adds to what is wanted what another package's error says is wrong; one
// that says what is wanted stands for both.
func because(want string, err error) string {
	p := form.Problem(err)
	if wanted, ok := strings.CutPrefix(p, "want "); ok {
		return wanted
	}
	return want + "; " + strings.Replace(p, ": want ", ": ", 1)
}
