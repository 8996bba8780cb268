// Package form holds what a value of a step test may be, and how it is written
// in a sheet and in a message.
package form

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"example.com/steptest/internal/clean"
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
func Shorten(s string) string { return clean.Short(s, 40) }

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
	return clean.Bare(err)
}

// WithColon reads seconds as minutes and seconds that lack their colon, if they can be:
// 551.7 as 5:51.7.
func WithColon(t time.Duration) (time.Duration, bool) {
	const hundred = 100 * time.Second
	return t/hundred*time.Minute + t%hundred, t >= hundred && t%hundred < time.Minute
}

// Saved returns how many seconds less a length takes at one speed than at another [m/s].
func Saved(per pace.Length, from, to float64) float64 { return per.Metres()/from - per.Metres()/to }

// Decimal writes a number in full.
func Decimal(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// Day writes a date.
func Day(t time.Time) string { return t.Format("2 January 2006") }

// Whose names a test in an error, with the date as it stands in a sheet.
func Whose(swimmer string, date time.Time) string {
	return clean.Short(swimmer, 200) + ", " + date.Format(time.DateOnly)
}

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
