// Package form holds what a value of a step test may be, and how it is written
// in a sheet and in a message. Packages protocol, sheet and squad share it.
package form

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"example.com/steptest/lactate/table"
	"example.com/steptest/pace"
)

// How much there may be of what.
const (
	MaxNumber = 99   // repeats in a test, and samples after it
	MaxFaults = 1000 // listed of a sheet
	MaxAfter  = 2 * time.Hour
)

// Shorten cuts a text to a length that fits a message, on one line and without control
// characters.
func Shorten(s string) string { return table.Short(s, 40) }

// Quoted lists names in quotes, shortened, at most eight of them.
func Quoted(names []string) string {
	const most = 8
	more := len(names) - most
	if more > 0 {
		names = names[:most]
	}
	quoted := make([]string, len(names), most+1)
	for i, name := range names {
		quoted[i] = strconv.Quote(Shorten(name))
	}
	if more > 0 {
		quoted = append(quoted, fmt.Sprintf("%d more", more))
	}
	return strings.Join(quoted, ", ")
}

// Most are the first of the faults of a sheet, and then one that says that there are more.
func Most(faults []error, more error) []error {
	if len(faults) > MaxFaults {
		return append(faults[:MaxFaults:MaxFaults], more)
	}
	return faults
}

// ToldOnce reports whether faults of a column in the same words are told once for all tests
// of a sheet: what is wrong with a pool or a distance is often wrong for a whole squad.
func ToldOnce(column string) bool { return column == "pool" || column == "distance" }

// Printable reports whether a text is UTF-8 without control characters, line
// breaks and tabs aside.
func Printable(s string) bool {
	if !utf8.ValidString(s) {
		return false
	}
	for _, r := range s {
		if r == '\ufeff' || unicode.IsControl(r) && r != '\n' && r != '\t' {
			return false
		}
	}
	return true
}

// Problem returns what an error of package pace says is wrong.
func Problem(err error) string {
	if p, ok := err.(*pace.ParseError); ok {
		return p.Problem
	}
	return table.Bare(err)
}

// Decimal writes a number in full.
func Decimal(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// Minutes writes minutes with at most three decimals, or as a time. Zero is
// empty.
func Minutes(t time.Duration) string {
	switch m := math.Round(t.Minutes()*1000) / 1000; {
	case t == 0:
		return ""
	case time.Duration(m*60*1000+0.5)*time.Millisecond == t:
		return Decimal(m)
	}
	return pace.FormatTime(t, -1)
}
