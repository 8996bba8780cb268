package sheet

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/internal/form"
)

// cells reads the cells of one row and collects their faults.
type cells struct {
	row    row
	comma  bool        // the sheet's decimal sign may be a comma
	sample bool        // the row is a sample after the last repeat
	swum   pace.Length // distance of the row; zero if it is not known
	faults []*protocol.Fault
}

// fault reports a cell. A cell that a repeat needs costs the row, any other only
// itself.
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

// plain reports whether s holds digits and at most one point, and nothing else.
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
		if name := col.unit(); name != "" && len([]rune(unit)) > 1 && plain(s) && !strings.ContainsAny(unit, "0123456789") {
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

// unitOf splits a number from the unit behind it. If either is missing, all is
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

// clock reads a time over a distance, which is zero if there is none. A time that
// makes no swim is read in the one other way that makes one. Zero is refused
// unless zeroOK.
func (c *cells) clock(col column, s string, d pace.Length, zeroOK bool) time.Duration {
	if u := c.unit(col); inSeconds(u) && plain(s) {
		s += "s"
	}
	t, err := pace.ParseTime(s)
	fits := func(t time.Duration) bool { return d > 0 && swims(d, t) || d == 0 && t <= maxLeave }
	if err != nil || t > 0 && !fits(t) {
		other, ok := oneTime(s, fits)
		switch {
		case ok && (err == nil || strings.HasSuffix(strings.ToLower(s), "m")):
			c.row.note(col, noteTime, fmt.Sprintf("%s is read as %s, as a spreadsheet writes minutes and seconds", form.Shorten(c.row.cell[col]), pace.FormatTime(other, -1)))
			fallthrough
		case ok:
			t, err = other, nil
		case err == nil && d > 0 && col != colTime: // which is judged by its speed
			c.fault(col, c.row.cell[col], fmt.Sprintf("a time in which %s can be swum", d))
			return 0
		}
	}
	if err != nil {
		c.fault(col, c.row.cell[col], because(`a time such as "5:32.4"`, err))
		return 0
	}
	if t == 0 && !zeroOK {
		c.fault(col, c.row.cell[col], `a time such as "5:32.4"`)
	}
	return t
}

// maxLeave is the longest time from the first start to another that is not
// doubted.
const maxLeave = 3 * time.Hour

// swims reports whether a distance is swum in a time.
func swims(d pace.Length, t time.Duration) bool {
	v := d.Metres() / t.Seconds()
	return v >= form.MinSpeed && v <= form.MaxSpeed
}

// oneTime returns the reading of a time that fits, if there is one only.
func oneTime(s string, fits func(time.Duration) bool) (time.Duration, bool) {
	all := pace.TimeReadings(s)
	all = slices.DeleteFunc(all, func(t time.Duration) bool { return t == 0 || !fits(t) })
	if len(all) != 1 {
		return 0, false
	}
	return all[0], true
}

// unit returns the unit that the header gives for a column.
func (c *cells) unit(col column) string {
	if c.row.units == nil {
		return ""
	}
	return c.row.units[col]
}

// length reads a distance. Without a unit it is in that of the header, or of the
// pool.
func (c *cells) length(col column, pool pace.Pool) pace.Length {
	s := c.decimal(col)
	if s == "" {
		return 0
	}
	unit := c.unit(col)
	switch {
	case unit == "" && pool.IsZero() && plain(s):
		return 0 // the pool's fault is reported
	case unit == "":
		unit = pool.UnitSymbol()
	}
	text := s
	if plain(s) {
		text += " " + unit
	}
	d, err := pace.ParseLength(text)
	if err != nil && text == s { // 533 1/3
		d, err = pace.ParseLength(s + " " + unit)
	}
	if err != nil || !(d > 0 && d <= 1e6) {
		c.fault(col, c.row.cell[col], `a distance such as "400", in the unit of the pool, or "400 m"`)
		return 0
	}
	return d
}

// lactate reads a sample, or what an analyser shows beyond its range.
func (c *cells) lactate() (float64, protocol.Range) {
	s := c.row.cell[colLactate]
	switch strings.ToLower(s) {
	case "hi", "high":
		return 0, protocol.AboveRange
	case "lo", "low":
		return 0, protocol.BelowRange
	}
	if rest, ok := strings.CutPrefix(s, ">"); ok && c.isLactate(rest) {
		c.row.note(colLactate, noteRange, fmt.Sprintf("%s is read as HI, above the range of the analyser", form.Shorten(s)))
		return 0, protocol.AboveRange
	}
	if rest, ok := strings.CutPrefix(s, "<"); ok && c.isLactate(rest) {
		c.row.note(colLactate, noteRange, fmt.Sprintf("%s is read as Lo, below the range of the analyser", form.Shorten(s)))
		return 0, protocol.BelowRange
	}
	return c.number(colLactate, form.MinLactate, form.MaxLactate, "a lactate of 0.1 to 30 mmol/L, HI or Lo, or nothing if the sample was lost"), protocol.InRange
}

func (c *cells) isLactate(s string) bool {
	number, unit := unitOf(strings.TrimSpace(strings.Replace(s, ",", ".", 1)))
	v, err := strconv.ParseFloat(number, 64)
	return err == nil && plain(number) && v > 0 && v <= 2*form.MaxLactate && (unit == "" || colLactate.unitFits(strings.ToLower(unit)))
}

// exchanged reports whether lactate and heart rate stand in each other's cells:
// neither can be what its column says, and each can be what the other's does.
func (c *cells) exchanged() bool {
	value := func(col column) float64 {
		s := c.decimal(col)
		v, err := strconv.ParseFloat(s, 64)
		if err != nil || !plain(s) {
			return 0
		}
		return v
	}
	la, hr := value(colLactate), value(colHeartRate)
	return la > form.MaxLactate && la <= form.MaxHeartRate && hr >= form.MinLactate && hr < form.MinHeartRate
}

// date reads a day.
func (c *cells) date(col column) time.Time {
	s := c.row.cell[col]
	d, err := time.Parse(time.DateOnly, s)
	if err != nil || d.Year() < form.MinYear || d.Year() > form.MaxYear {
		if col == colDate && c.row.undecided != nil {
			c.faults = append(c.faults, c.row.undecided)
			return time.Time{}
		}
		c.fault(col, s, wantedDate(s))
		return time.Time{}
	}
	return d
}

// usualAfter is the longest time to a sample that is not doubted.
const usualAfter = 30 * time.Minute

// minutes reads the time between the end of the repeat and the sample.
func (c *cells) minutes() time.Duration {
	const want = `minutes such as "3", "1.5" or "1:30"`
	s := c.decimal(colAfter)
	var t time.Duration
	if strings.Contains(s, ":") {
		t, _ = pace.ParseTime(s)
		if other, ok := oneTime(s, func(t time.Duration) bool { return t <= usualAfter }); ok && !(t > 0 && t <= usualAfter) {
			c.row.note(colAfter, noteTime, fmt.Sprintf("%s is read as %s, as a spreadsheet writes minutes and seconds", form.Shorten(c.row.cell[colAfter]), pace.FormatTime(other, -1)))
			t = other
		}
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
	return c.clock(colTarget, rest, c.swum, false), allOut
}

// because adds to what is wanted what another package's error says is wrong. An
// error that says what is wanted stands for both.
func because(want string, err error) string {
	p := form.Problem(err)
	if wanted, ok := strings.CutPrefix(p, "want "); ok {
		return wanted
	}
	return want + "; " + strings.Replace(p, ": want ", ": ", 1)
}
