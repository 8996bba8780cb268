package sheet

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/internal/day"
	"example.com/steptest/protocol/internal/form"
)

// blankDashes takes a dash for a blank in the cells that may be blank.
func (r *row) blankDashes() {
	for col := range columnCount {
		if text := r.cell[col]; (!col.required() || col == colTime || col == colLactate) && col != colRemark && strings.Trim(text, "-–—−") == "" {
			r.cell[col] = ""
		}
	}
}

// fault reports a cell. A cell that a repeat needs costs the row, any other only itself.
func (r *row) fault(col column, found, want string) {
	needed := col.required() && col != colLactate || col == colAfter && r.isSample
	r.faults = append(r.faults, &protocol.Fault{Line: r.line, Column: col.String(), Found: form.Shorten(found), Want: want, Err: protocol.ErrValue, Kept: !needed})
}

// need reports a cell, and costs the row.
func (r *row) need(col column, want string) {
	r.fault(col, r.cell[col], want)
	r.faults[len(r.faults)-1].Kept = false
}

// because adds what another package's error says is wrong, or wanted, to what is wanted.
func because(want string, err error) string {
	p := form.Problem(err)
	if wanted, ok := strings.CutPrefix(p, "want "); ok {
		return wanted
	}
	return want + "; " + strings.Replace(p, ": want ", ": ", 1)
}

// decimal returns the text of a cell with a point as its decimal sign.
func (r *row) decimal(col column) string {
	s := r.cell[col]
	if r.decimalComma && strings.Count(s, ",") == 1 && !strings.Contains(s, ".") {
		s = strings.Replace(s, ",", ".", 1)
	}
	return s
}

// quotedComma is decimal, and of a sheet with commas it reads one between quotation marks
// as the decimal sign too, before one or two digits: three may be thousands.
func (r *row) quotedComma(col column) (text string, quoted bool) {
	s := r.decimal(col)
	number, _ := unitOf(s)
	whole, digits, ok := strings.Cut(number, ",")
	if r.decimalComma || !ok || whole == "" || len(digits) < 1 || len(digits) > 2 || strings.Trim(whole+digits, "0123456789") != "" {
		return s, false
	}
	return strings.Replace(s, ",", ".", 1), true
}

// plain reports whether s holds digits and at most one point, and nothing else.
func plain(s string) bool {
	return strings.Trim(strings.Replace(s, ".", "", 1), "0123456789") == ""
}

// unitOf splits a number from the unit behind it. If either is missing, all is number.
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

// notTaken is what people write into a cell for want of a number.
var notTaken = []string{".", "..", "...", "?", "n/a", "#n/a", "na", "n.a.", "nil", "nan", "none", "null", "x"}

// readNumber reads a cell that may be blank; %v in what is wanted are the bounds.
func (r *row) readNumber(col column, bounds form.Range, want string) float64 {
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
	case !r.decimalComma && strings.Contains(s, ","):
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

func (r *row) readText(col column) string {
	s := r.cell[col]
	if !form.Printable(s) {
		r.fault(col, s, "text without control characters")
		return ""
	}
	return s
}

func (r *row) readDate(col column) time.Time {
	s := r.cell[col]
	d, err := time.Parse(time.DateOnly, s)
	switch {
	case err == nil && form.HasYear(d):
		return d
	case col == colDate && r.undecided != nil:
		r.faults = append(r.faults, r.undecided)
	default:
		r.fault(col, s, day.Want(s))
	}
	return time.Time{}
}

// readLength reads a distance. Without a unit it is in that of the header, or of the pool.
func (r *row) readLength(col column) pace.Length {
	s := r.decimal(col)
	if s == "" || plain(s) && r.units[col] == "" && r.pool.IsZero() { // the pool's fault is reported
		return 0
	}
	d, err := pace.ParseLength(s)
	if plain(s) || err != nil { // 533 1/3
		d, err = pace.ParseLength(s + " " + cmp.Or(r.units[col], r.pool.UnitSymbol()))
	}
	if err != nil || !(d > 0 && d <= 1e6) {
		r.fault(col, r.cell[col], `a distance such as "400", in the unit of the pool, or "400 m"`)
		return 0
	}
	return d
}

func (r *row) readHeartRate() float64 {
	return r.readNumber(colHeartRate, form.HeartRate, "a heart rate of %v per min, or nothing if it was not taken")
}

// readLactate reads a sample, or what an analyser shows beyond its range.
func (r *row) readLactate() (float64, protocol.Range) {
	s := r.cell[colLactate]
	if beyond := rangeOf(s); beyond != protocol.InRange {
		return 0, beyond
	}
	if rest, ok := strings.CutPrefix(s, ">"); ok && isLactate(rest) {
		r.note(colLactate, "%s is read as HI, above the range of the analyser", form.Shorten(s))
		return 0, protocol.AboveRange
	}
	if rest, ok := strings.CutPrefix(s, "<"); ok && isLactate(rest) {
		r.note(colLactate, "%s is read as Lo, below the range of the analyser", form.Shorten(s))
		return 0, protocol.BelowRange
	}
	return r.readNumber(colLactate, form.Lactate, "a lactate of %v mmol/L, HI or Lo, or nothing if the sample was lost"), protocol.InRange
}

// readRest reads the lactate at rest. One beyond the range of the analyser is left out.
func (r *row) readRest() float64 {
	if s := r.cell[colRest]; rangeOf(s) != protocol.InRange {
		r.note(colRest, "%s is beyond the range of the analyser, and read as not taken", s)
		return 0
	}
	return r.readNumber(colRest, form.Lactate, "a lactate of %v mmol/L, or nothing if it was not taken")
}

// rangeOf returns what an analyser shows beyond its range.
func rangeOf(s string) protocol.Range {
	switch strings.ToLower(s) {
	case "hi", "high":
		return protocol.AboveRange
	case "lo", "low":
		return protocol.BelowRange
	}
	return protocol.InRange
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
