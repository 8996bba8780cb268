package pace

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
)

// ParseTime reads a swim time: "5:32", "1:21.6", ":45", "1:02:03.4", or plain
// seconds, "81.6", "332". Minutes and seconds after a colon have two digits and
// are below 60; up to nine decimals are read. The error is a [*ParseError].
//
// A point is often written for a colon, and a spreadsheet drops the
// last zero of 5.30. So a number below 20 with one or two decimals that also
// read as seconds is refused with an error that wraps [ErrAmbiguous]: "5.32" is
// 5:32 or 5.32 s, "3.1" is 3:10 or 3.1 s. Write "5:32" or "0:05.32". From 20 on,
// a bare number is read as seconds ("24.51", "59.8", "81.6"), since twenty
// minutes are longer than the repeats of a test and twenty seconds are not: a
// caller who knows the distance should still check the speed. A whole number is
// always seconds. The bound of 20 is ours, not a rule of the sport.
func ParseTime(s string) (time.Duration, error) {
	fail := func(problem string) (time.Duration, error) {
		return 0, &ParseError{What: "time", Input: s, Problem: problem}
	}
	t := strings.TrimSpace(s)
	switch {
	case t == "":
		return fail(`empty, want a time such as "5:32.4"`)
	case t[0] == '-':
		return fail("a swim time is not negative")
	case strings.ContainsRune(t, ','):
		return fail("decimals follow a point, not a comma")
	}
	const longest uint64 = math.MaxInt64 // [ns]
	parts := strings.Split(t, ":")
	if len(parts) > 3 {
		return fail("more than hours, minutes and seconds")
	}
	last := parts[len(parts)-1]
	whole, decimals, point := strings.Cut(last, ".")
	if strings.ContainsRune(decimals, '.') {
		return fail(`two points: minutes and seconds are parted by a colon, "5:32.4"`)
	}
	if point && decimals == "" {
		return fail("no digits after the point")
	}
	if len(decimals) > 9 {
		return fail("more than nine decimals")
	}
	parts[len(parts)-1] = whole
	if len(parts) == 2 && parts[0] == "" { // ":45"
		parts[0] = "0"
	}
	total := uint64(0) // seconds
	for i, p := range parts {
		if p == "" || digits(p) != len(p) {
			return fail(`want a time such as "5:32", "1:21.6", "81.6" or "1:02:03.4"`)
		}
		if i > 0 && len(p) != 2 {
			return fail("two digits belong after a colon")
		}
		n, err := strconv.ParseUint(p, 10, 32)
		if err != nil {
			return 0, &ParseError{What: "time", Input: s, Problem: "too long", Err: ErrValue}
		}
		if i > 0 && n > 59 {
			return fail(fmt.Sprintf("%d after a colon, want 00 to 59", n))
		}
		total = total*60 + n
	}
	if len(parts) == 1 && total < 20 && (len(decimals) == 1 || len(decimals) == 2) && decimals[0] < '6' {
		seconds := (decimals + "0")[:2]
		return 0, &ParseError{What: "time", Input: s, Err: ErrAmbiguous, Problem: fmt.Sprintf(
			"could mean %d:%s (minutes and seconds) or %d.%s s; write %d:%s or 0:%02d.%s",
			total, seconds, total, decimals, total, seconds, total, decimals)}
	}
	ns, _ := strconv.ParseUint((decimals + "000000000")[:9], 10, 32) // digits checked below
	if digits(decimals) != len(decimals) {
		return fail(`want a time such as "5:32", "1:21.6", "81.6" or "1:02:03.4"`)
	}
	if total > longest/1e9 || total == longest/1e9 && ns > longest%1e9 {
		return 0, &ParseError{What: "time", Input: s, Problem: "too long", Err: ErrValue}
	}
	return time.Duration(total*1e9 + ns), nil
}

// FormatTime prints t with the given number of decimals, 0 to 9, rounded half
// up: "5:32", "1:21.6", "0:45.20", "1:02:03.4". It rounds before it parts
// minutes from seconds: 1:59.97 prints as 2:00.0 and never as 1:60.0. A
// negative number of decimals prints as many as t needs; more than nine print
// nine. There is always a colon: no reader takes seconds for minutes, and
// [ParseTime] reads back every time from zero up that was not rounded past the
// longest [time.Duration]. A negative t, a difference, has a minus sign
// in front.
func FormatTime(t time.Duration, decimals int) string {
	n := uint64(t)
	sign := ""
	if t < 0 {
		n, sign = -n, "-"
	}
	exact := decimals < 0
	if exact || decimals > 9 {
		decimals = 9
	}
	unit := uint64(1)
	for range 9 - decimals {
		unit *= 10
	}
	n = (n + unit/2) / unit // in units of the last decimal
	if n == 0 {
		sign = ""
	}
	second := uint64(1)
	for range decimals {
		second *= 10
	}
	whole, fraction := n/second, n%second
	var b strings.Builder
	b.WriteString(sign)
	if whole >= 3600 {
		fmt.Fprintf(&b, "%d:%02d:%02d", whole/3600, whole/60%60, whole%60)
	} else {
		fmt.Fprintf(&b, "%d:%02d", whole/60, whole%60)
	}
	if decimals > 0 {
		f := fmt.Sprintf("%0*d", decimals, fraction)
		if exact {
			f = strings.TrimRight(f, "0")
		}
		if f != "" {
			b.WriteString("." + f)
		}
	}
	return b.String()
}
