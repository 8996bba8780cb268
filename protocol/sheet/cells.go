package sheet

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.com/steptest/internal/form"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
)

// fault reports a cell. A cell that a repeat needs costs the row, any other only
// itself.
func (r *row) fault(col column, found, want string) {
	needed := col.required() && col != colLactate || col == colAfter && r.isSample
	r.faults = append(r.faults, &protocol.Fault{Line: r.line, Column: col.String(), Found: form.Shorten(found), Want: want, Err: protocol.ErrValue, Kept: !needed})
}

// need reports a cell, and costs the row.
func (r *row) need(col column, want string) {
	r.fault(col, r.cell[col], want)
	r.faults[len(r.faults)-1].Kept = false
}

// blankDashes takes a dash for a blank in the cells that may be blank.
func (r *row) blankDashes() {
	for col := range columnCount {
		if text := r.cell[col]; (!col.required() || col == colTime || col == colLactate) && col != colRemark && strings.Trim(text, "-–—−") == "" {
			r.cell[col] = ""
		}
	}
}

// decimal returns the text of a cell with a point as its decimal sign.
func (r *row) decimal(col column) string {
	s := r.cell[col]
	if r.comma && strings.Count(s, ",") == 1 && !strings.Contains(s, ".") {
		s = strings.Replace(s, ",", ".", 1)
	}
	return s
}

// plain reports whether s holds digits and at most one point, and nothing else.
func plain(s string) bool {
	return strings.Trim(strings.Replace(s, ".", "", 1), "0123456789") == ""
}

// number reads a cell that may be blank; %v in what is wanted are the bounds.
func (r *row) number(col column, bounds form.Range, want string) float64 {
	found := r.cell[col]
	if found == "" {
		return 0
	}
	text, quoted := r.quotedComma(col)
	s, _ := unitOf(text)
	v, unit, ok := amount(text)
	why := ""
	switch {
	case slices.Contains(notTaken, strings.ToLower(found)):
		why = "; leave the cell blank"
	case !col.unitFits(strings.ToLower(unit)):
		if name := col.unit(); name != "" && len([]rune(unit)) > 1 && plain(s) && !strings.ContainsAny(unit, "0123456789") {
			why = fmt.Sprintf("; the unit is %s, not %q", name, form.Shorten(unit))
		}
	case strings.Contains(s, ":"):
		why = "; this reads as a time: are two columns swapped?"
	case !r.comma && strings.Contains(s, ","):
		why = "; write the decimals after a point"
	case ok && bounds.Has(v):
		if quoted {
			r.note(col, "%s is read as %s: between quotation marks a comma is the decimal sign", form.Shorten(found), text)
		}
		return v
	}
	r.fault(col, found, strings.Replace(want, "%v", bounds.String(), 1)+why)
	return 0
}

// notTaken is what people write into a cell for want of a number.
var notTaken = []string{".", "..", "...", "?", "n/a", "#n/a", "na", "n.a.", "nil", "nan", "none", "null", "x"}

// quotedComma is decimal, and of a sheet with commas it reads one between quotation marks
// as the decimal sign too, before one or two digits: three may be thousands.
func (r *row) quotedComma(col column) (text string, quoted bool) {
	s := r.decimal(col)
	number, _ := unitOf(s)
	whole, digits, ok := strings.Cut(number, ",")
	if r.comma || !ok || whole == "" || len(digits) < 1 || len(digits) > 2 || strings.Trim(whole+digits, "0123456789") != "" {
		return s, false
	}
	return strings.Replace(s, ",", ".", 1), true
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

// amount reads a number without a sign or an exponent, and the unit behind it.
func amount(s string) (v float64, unit string, ok bool) {
	number, unit := unitOf(s)
	v, err := strconv.ParseFloat(number, 64)
	return v, unit, err == nil && plain(number)
}

// text reads a cell that is kept as it is.
func (r *row) text(col column) string {
	s := r.cell[col]
	if !form.Printable(s) {
		r.fault(col, s, "text without control characters")
		return ""
	}
	return s
}

// heartRate reads the heart rate.
func (r *row) heartRate() float64 {
	return r.number(colHeartRate, form.HeartRate, "a heart rate of %v per min, or nothing if it was not taken")
}

// clock reads a time over a distance, which is zero if there is none. A time that
// makes no swim is read in the one other way that makes one. A zero is refused unless
// zeroOK; a blank is not.
func (r *row) clock(col column, s string, d pace.Length, zeroOK bool) time.Duration {
	if s == "" {
		return 0
	}
	if inSeconds(r.units[col]) && plain(s) {
		s += "s"
	}
	const want = `a time such as "5:32.4"`
	t, err := pace.ParseTime(s)
	fits := func(t time.Duration) bool { return d > 0 && form.Swims(d, t) || d == 0 && t <= maxLeave }
	if err != nil || t > 0 && !fits(t) {
		other, ok := oneTime(s, fits)
		switch {
		case ok:
			if err == nil || strings.HasSuffix(strings.ToLower(s), "m") {
				r.noteTime(col, other)
			}
			t, err = other, nil
		case err == nil && d > 0 && col != colTime: // which is judged by its speed
			r.fault(col, r.cell[col], fmt.Sprintf("a time in which %s can be swum", d))
			return 0
		}
	}
	switch {
	case err != nil:
		r.fault(col, r.cell[col], because(want, err))
		return 0
	case t == 0 && !zeroOK:
		r.fault(col, r.cell[col], want)
	}
	return t
}

// noteTime notes the other reading of a time.
func (r *row) noteTime(col column, t time.Duration) {
	r.note(col, "%s is read as %s, as a spreadsheet writes minutes and seconds", form.Shorten(r.cell[col]), pace.FormatTime(t, -1))
}

// maxLeave is the longest time from the first start to another that is not
// doubted.
const maxLeave = 3 * time.Hour

// oneTime returns the reading of a time that fits, if there is one only.
func oneTime(s string, fits func(time.Duration) bool) (time.Duration, bool) {
	all := slices.DeleteFunc(pace.TimeReadings(s), func(t time.Duration) bool { return t == 0 || !fits(t) })
	if len(all) != 1 {
		return 0, false
	}
	return all[0], true
}

// length reads a distance. Without a unit it is in that of the header, or of the
// pool.
func (r *row) length(col column) pace.Length {
	s := r.decimal(col)
	if s == "" {
		return 0
	}
	if plain(s) && r.units[col] == "" && r.pool.IsZero() {
		return 0 // the pool's fault is reported
	}
	unit := cmp.Or(r.units[col], r.pool.UnitSymbol())
	d, err := pace.ParseLength(s)
	if plain(s) || err != nil { // 533 1/3
		d, err = pace.ParseLength(s + " " + unit)
	}
	if err != nil || !(d > 0 && d <= 1e6) {
		r.fault(col, r.cell[col], `a distance such as "400", in the unit of the pool, or "400 m"`)
		return 0
	}
	return d
}

// lactate reads a sample, or what an analyser shows beyond its range.
func (r *row) lactate() (float64, protocol.Range) {
	s := r.cell[colLactate]
	switch strings.ToLower(s) {
	case "hi", "high":
		return 0, protocol.AboveRange
	case "lo", "low":
		return 0, protocol.BelowRange
	}
	if rest, ok := strings.CutPrefix(s, ">"); ok && isLactate(rest) {
		r.note(colLactate, "%s is read as HI, above the range of the analyser", form.Shorten(s))
		return 0, protocol.AboveRange
	}
	if rest, ok := strings.CutPrefix(s, "<"); ok && isLactate(rest) {
		r.note(colLactate, "%s is read as Lo, below the range of the analyser", form.Shorten(s))
		return 0, protocol.BelowRange
	}
	return r.number(colLactate, form.Lactate, "a lactate of %v mmol/L, HI or Lo, or nothing if the sample was lost"), protocol.InRange
}

func isLactate(s string) bool {
	v, unit, ok := amount(strings.TrimSpace(strings.Replace(s, ",", ".", 1)))
	return ok && v > 0 && v <= 2*form.Lactate.Max && colLactate.unitFits(strings.ToLower(unit))
}

// exchanged reports whether lactate and heart rate stand in each other's cells:
// neither can be what its column says, and each can be what the other's does.
func (r *row) exchanged() bool {
	la, laUnit, laOK := amount(r.decimal(colLactate))
	hr, hrUnit, hrOK := amount(r.decimal(colHeartRate))
	return laOK && hrOK && laUnit == "" && hrUnit == "" && la > form.Lactate.Max && la <= form.HeartRate.Max && hr >= form.Lactate.Min && hr < form.HeartRate.Min
}

// date reads a day.
func (r *row) date(col column) time.Time {
	s := r.cell[col]
	d, err := time.Parse(time.DateOnly, s)
	switch {
	case err == nil && form.HasYear(d):
		return d
	case col == colDate && r.undecided != nil:
		r.faults = append(r.faults, r.undecided)
	default:
		r.fault(col, s, wantedDate(s))
	}
	return time.Time{}
}

// usualAfter is the longest time to a sample that is not doubted.
const usualAfter = 30 * time.Minute

// minutes reads the time between the end of the repeat and the sample.
func (r *row) minutes() time.Duration {
	s := r.decimal(colAfter)
	if s == "" {
		return 0
	}
	want := `minutes such as "3", "1.5" or "1:30"`
	var t time.Duration
	m, unit, ok := amount(s)
	if strings.Contains(s, ":") {
		usual := func(t time.Duration) bool { return t > 0 && t <= usualAfter }
		t, _ = pace.ParseTime(s)
		if other, ok := oneTime(s, usual); ok && !usual(t) {
			r.noteTime(colAfter, other)
			t = other
		}
	} else if !colAfter.unitFits(strings.ToLower(unit)) {
		want += fmt.Sprintf("; the unit is min, not %q", form.Shorten(unit))
	} else if ok && m <= form.MaxAfter.Minutes() {
		t = time.Duration(m*60*1000+0.5) * time.Millisecond
	}
	if t <= 0 || t > form.MaxAfter {
		r.fault(colAfter, r.cell[colAfter], want)
		return 0
	}
	return t
}

// target reads a planned time: "5:32", "all out", or "4:50 all out".
func (r *row) target() (time.Duration, bool) {
	rest, allOut := strings.CutSuffix(strings.ToLower(r.decimal(colTarget)), "all out")
	return r.clock(colTarget, strings.TrimSpace(rest), r.repeat.Distance, false), allOut
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
