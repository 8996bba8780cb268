package sheet

import (
	"slices"
	"strings"

	"example.com/steptest/pace"
)

// column is one of the columns that a sheet knows.
type column int

const (
	colSwimmer column = iota
	colDate
	colPool
	colDistance
	colRepeat
	colTarget
	colLeave
	colTime
	colAfter
	colLactate
	colHeartRate
	colRest
	colCycles
	colSegment
	colSegmentTime
	colRate
	colPerLength
	colRemark
	colWarmUp
	colNext
	columnCount
)

// String returns the name under which the column is written.
func (c column) String() string {
	return [columnCount]string{
		"swimmer", "date", "pool", "distance", "repeat", "target", "leave",
		"time", "minutes after", "lactate", "heart rate", "resting lactate",
		"stroke cycles", "stroke segment", "segment time", "stroke rate", "strokes per length", "remark", "warm up", "next test",
	}[c]
}

// required reports whether a sheet must have the column.
func (c column) required() bool {
	switch c {
	case colSwimmer, colDate, colPool, colDistance, colRepeat, colTime, colLactate:
		return true
	}
	return false
}

// unit is what may stand in brackets after the name. It is empty if the values
// carry their unit, or have none.
func (c column) unit() string {
	switch c {
	case colLactate, colRest:
		return "mmol/l"
	case colHeartRate, colRate:
		return "1/min"
	}
	return ""
}

// length reports whether the cells of a column are distances.
func (c column) length() bool {
	return c == colDistance || c == colSegment || c == colWarmUp || c == colPool
}

// columnNamed finds the column that a header field means: by its name, or by
// another name of the trade.
func columnNamed(name string) (column, bool) {
	name = joined(name)
	for c := range columnCount {
		if name == joined(c.String()) {
			return c, true
		}
	}
	switch name {
	case "name", "athlete", "swimmername", "swimmer'sname":
		return colSwimmer, true
	case "day", "testdate", "dateoftest":
		return colDate, true
	case "course", "poollength":
		return colPool, true
	case "dist":
		return colDistance, true
	case "rep", "step", "stage", "no", "nr", "#", "number", "repno", "repeatno", "stepno", "stageno", "repeatnumber", "stepnumber", "stagenumber":
		return colRepeat, true
	case "targettime":
		return colTarget, true
	case "swimtime", "timeswum":
		return colTime, true
	case "hr", "pulse", "bpm":
		return colHeartRate, true
	case "la", "lac", "bla", "bloodlactate":
		return colLactate, true
	case "sr":
		return colRate, true
	case "spl", "strokes/length":
		return colPerLength, true
	case "restlactate":
		return colRest, true
	case "cycles":
		return colCycles, true
	case "note", "notes", "remarks", "comment", "comments":
		return colRemark, true
	}
	return 0, false
}

// joined leaves the blanks out of a folded name.
func joined(name string) string { return strings.ReplaceAll(name, " ", "") }

// clock reports whether the cells of a column are times such as 5:32.4.
func (c column) clock() bool {
	return c == colTime || c == colTarget || c == colLeave || c == colSegmentTime
}

// fold brings a header field to the form in which names of columns are compared:
// lower case, single spaces, no underscores or hyphens, no point, colon or # at
// its end. A unit in brackets at its end is returned apart.
func fold(field string) (name, unit string) {
	s := strings.ToLower(strings.TrimSpace(field))
	for _, pair := range []string{"[]", "()"} {
		if open := strings.IndexByte(s, pair[0]); open > 0 && s[len(s)-1] == pair[1] {
			s, unit = s[:open], strings.TrimSpace(s[open+1:len(s)-1])
			break
		}
	}
	s = strings.Map(func(r rune) rune {
		if r == '_' || r == '-' {
			return ' '
		}
		return r
	}, s)
	name = strings.Join(strings.Fields(s), " ")
	if bare := strings.TrimRight(name, ".:# "); bare != "" {
		name = bare
	}
	return name, unit
}

// heading finds the column that a header field means, and the unit that stands
// with it: in brackets, or as its last word.
func heading(field string) (c column, unit string, ok bool) {
	name, unit := fold(field)
	if c, ok = columnNamed(name); ok {
		return c, unit, true
	}
	if i := strings.LastIndexByte(name, ' '); i > 0 && unit == "" {
		if c, ok = columnNamed(strings.TrimRight(name[:i], ",")); ok && c.unitFits(name[i+1:]) {
			return c, name[i+1:], true
		}
	}
	return 0, "", false
}

// unitFits reports whether the unit in a header's brackets is that of the column.
func (c column) unitFits(unit string) bool {
	switch {
	case unit == "" || unit == c.unit():
		return true
	case c == colHeartRate:
		return slices.Contains([]string{"bpm", "/min", "min⁻¹", "min-1", "beats/min", "b/min", "beats per minute"}, unit)
	case c == colRate:
		return slices.Contains([]string{"/min", "min⁻¹", "min-1", "cycles/min", "c/min", "cycles per minute"}, unit)
	case c == colLactate || c == colRest:
		return slices.Contains([]string{"mm", "mmol", "mmol l-1", "mmol l⁻¹", "mmol·l⁻¹", "mmol·l-1", "mmol.l-1"}, unit)
	case c.length():
		_, err := pace.ParseLength("1 " + unit)
		return err == nil
	case (c == colTime || c == colSegmentTime) && inSeconds(unit):
		return true
	case c.clock(): // a form: min:s, mm:ss.0, h:mm:ss
		return strings.Contains(unit, ":") && strings.Trim(unit, "hminsectx0:., ") == ""
	case c == colAfter:
		return unit == "min" || unit == "minutes"
	case c == colDate || c == colNext:
		_, ok := orderOf(unit)
		return ok
	}
	return false
}

func inSeconds(unit string) bool {
	return unit == "s" || unit == "sec" || unit == "seconds"
}

// slipOf finds the column whose name differs from this one by no more than a slip
// of the pen, among those that are not in the header.
func slipOf(name string, present func(column) bool) (column, bool) {
	name = joined(name)
	for c := range columnCount {
		known := joined(c.String())
		slips := 1
		if len(known) >= 8 {
			slips = 2
		}
		if len(known) >= 4 && !present(c) && editDistance(name, known) <= slips {
			return c, true
		}
	}
	return 0, false
}

// editDistance is the least number of letters to insert, delete or replace
// that turns a into b (Levenshtein 1966).
func editDistance(a, b string) int {
	x, y := []rune(a), []rune(b)
	const far = 99
	if d := len(x) - len(y); d > 3 || d < -3 {
		return far
	}
	row := make([]int, len(y)+1)
	for j := range row {
		row[j] = j
	}
	for i := range x {
		diagonal := row[0]
		row[0] = i + 1
		for j := range y {
			cost := 1
			if x[i] == y[j] {
				cost = 0
			}
			diagonal, row[j+1] = row[j+1], min(row[j]+1, row[j+1]+1, diagonal+cost)
		}
	}
	return row[len(y)]
}
