package sheet

import (
	"fmt"
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
	comma  bool // the sheet's decimal sign may be a comma
	sample bool // the row is a sample after the last repeat
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

// length reads a distance. Without a unit it is in the unit of the pool.
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

// date reads a day.
func (c *cells) date(col column) time.Time {
	s := c.row.cell[col]
	d, err := time.Parse(time.DateOnly, s)
	if err != nil || d.Year() < form.MinYear || d.Year() > form.MaxYear {
		c.fault(col, s, wantedDate(s))
		return time.Time{}
	}
	return d
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

// because adds to what is wanted what another package's error says is wrong. An
// error that says what is wanted stands for both.
func because(want string, err error) string {
	p := form.Problem(err)
	if wanted, ok := strings.CutPrefix(p, "want "); ok {
		return wanted
	}
	return want + "; " + strings.Replace(p, ": want ", ": ", 1)
}
