package sheet

import (
	"slices"
	"strings"

	"example.com/steptest/pace"
)

// column is one of the columns that we know. A new one has a constant here and a row
// in [columns]; row.parse reads its cells (parse.go), and rowOf writes them, or rowsOf
// if it is of the whole test (write.go).
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
	columnCount // of a sheet; those below are of a file of readings alone
)

const (
	colKind column = columnCount + iota
	colPace
	colAnalyser
	allColumns
)

// columns has of each column the name under which it is written, whether a sheet must
// have it, what its cells hold, and other names of the trade, without blanks in them.
var columns = [allColumns]struct {
	name     string
	required bool
	holds    content
	others   string
}{
	colSwimmer:     {"swimmer", true, holdsText, "name athlete swimmername swimmer'sname"},
	colDate:        {"date", true, holdsDay, "day testdate dateoftest"},
	colPool:        {"pool", true, holdsLength, "course poollength"},
	colDistance:    {"distance", true, holdsLength, "dist"},
	colRepeat:      {"repeat", true, holdsNumber, "rep step stage no nr # number repno repeatno stepno stageno repeatnumber stepnumber stagenumber"},
	colTarget:      {"target", false, holdsTime, "targettime"},
	colLeave:       {"leave", false, holdsTime, ""},
	colTime:        {"time", true, holdsTime, "swimtime timeswum"},
	colAfter:       {"minutes after", false, holdsMinutes, ""},
	colLactate:     {"lactate", true, holdsLactate, "la lac bla bloodlactate"},
	colHeartRate:   {"heart rate", false, holdsBeats, "hr pulse bpm"},
	colRest:        {"resting lactate", false, holdsLactate, "restlactate"},
	colCycles:      {"stroke cycles", false, holdsNumber, "cycles"},
	colSegment:     {"stroke segment", false, holdsLength, ""},
	colSegmentTime: {"segment time", false, holdsTime, ""},
	colRate:        {"stroke rate", false, holdsCycles, "sr"},
	colPerLength:   {"strokes per length", false, holdsNumber, "spl strokes/length"},
	colRemark:      {"remark", false, holdsText, "note notes remarks comment comments"},
	colWarmUp:      {"warm up", false, holdsLength, ""},
	colNext:        {"next test", false, holdsDay, ""},

	colKind:     {"kind", false, holdsText, "set repeats kindofrepeat"},
	colPace:     {"pace", false, holdsText, ""},
	colAnalyser: {"analyser", false, holdsText, "analyzer meter"},
}

// content is what the cells of a column hold.
type content int

const (
	holdsText content = iota
	holdsNumber
	holdsDay
	holdsLength
	holdsTime // such as 5:32.4
	holdsMinutes
	holdsLactate
	holdsBeats  // per minute
	holdsCycles // per minute
)

// unitsOf are the units that a header may give for cells, in lower case, ours first.
var unitsOf = map[content][]string{
	holdsMinutes: {"min", "minutes"},
	holdsLactate: {"mmol/l", "mm", "mmol", "mmol l-1", "mmol l⁻¹", "mmol·l⁻¹", "mmol·l-1", "mmol.l-1"},
	holdsBeats:   {"1/min", "bpm", "/min", "min⁻¹", "min-1", "beats/min", "b/min", "beats per minute"},
	holdsCycles:  {"1/min", "/min", "min⁻¹", "min-1", "cycles/min", "c/min", "cycles per minute"},
}

// heading finds the column that a header field means among those before a column, and
// the unit that stands with it: in brackets, or as its last word.
func heading(field string, before column) (c column, unit string, ok bool) {
	name, unit := fold(field)
	if c, ok = columnNamed(name, before); ok {
		return c, unit, true
	}
	if i := strings.LastIndexByte(name, ' '); i > 0 && unit == "" {
		if c, ok = columnNamed(strings.TrimRight(name[:i], ","), before); ok && c.unitFits(name[i+1:]) {
			return c, name[i+1:], true
		}
	}
	return 0, "", false
}

// columnNamed finds the column of that name, or of another name of the trade, among
// those before a column.
func columnNamed(name string, before column) (column, bool) {
	name = joined(name)
	for c := range before {
		if name == joined(c.String()) || slices.Contains(strings.Fields(columns[c].others), name) {
			return c, true
		}
	}
	return 0, false
}

// joined leaves the blanks out of a folded name.
func joined(name string) string { return strings.ReplaceAll(name, " ", "") }

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
	name = strings.Join(strings.Fields(strings.NewReplacer("_", " ", "-", " ").Replace(s)), " ")
	if bare := strings.TrimRight(name, ".:# "); bare != "" {
		name = bare
	}
	return name, unit
}

// slipOf finds the column whose name differs from this one by no more than a slip
// of the pen, among those that are not in the header.
func slipOf(name string, present func(column) bool) (column, bool) {
	for c := range columnCount {
		known, slips := joined(c.String()), 1
		if len(known) >= 8 {
			slips = 2
		}
		if len(known) >= 4 && !present(c) && editDistance(joined(name), known) <= slips {
			return c, true
		}
	}
	return 0, false
}

// editDistance is the least number of letters to insert, delete or replace
// that turns a into b (Levenshtein 1966).
func editDistance(a, b string) int {
	x, y := []rune(a), []rune(b)
	row := make([]int, len(y)+1)
	for j := range row {
		row[j] = j
	}
	for i := range x {
		diagonal := row[0]
		row[0] = i + 1
		for j := range y {
			least := 1 + min(diagonal, row[j], row[j+1])
			if x[i] == y[j] {
				least = diagonal
			}
			diagonal, row[j+1] = row[j+1], least
		}
	}
	return row[len(y)]
}

func (c column) String() string { return columns[c].name }
func (c column) required() bool { return columns[c].required }
func (c column) holds() content { return columns[c].holds }

// unit is our spelling of the unit. It is empty if the values carry theirs, or have none.
func (c column) unit() string {
	if all := unitsOf[c.holds()]; len(all) > 0 {
		return strings.Replace(all[0], "/l", "/L", 1)
	}
	return ""
}

// unitFits reports whether a header may give this unit, or form, for the column.
func (c column) unitFits(unit string) bool {
	if unit == "" || slices.Contains(unitsOf[c.holds()], unit) {
		return true
	}
	switch c.holds() {
	case holdsLength:
		_, err := pace.ParseLength("1 " + unit)
		return err == nil
	case holdsTime: // min:s, mm:ss.0, h:mm:ss
		return inSeconds(unit) && c != colTarget && c != colLeave || strings.Contains(unit, ":") && strings.Trim(unit, "hminsectx0:., ") == ""
	case holdsDay:
		_, ok := orderOf(unit)
		return ok
	}
	return false
}

func inSeconds(unit string) bool { return unit == "s" || unit == "sec" || unit == "seconds" }
