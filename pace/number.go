package pace

import (
	"strconv"
	"strings"
)

// digits returns how many bytes of s, from its start, are decimal digits.
func digits(s string) int {
	n := 0
	for n < len(s) && '0' <= s[n] && s[n] <= '9' {
		n++
	}
	return n
}

// cutNumber reads a number without sign or exponent ("400", "22.86") from the
// start of s and returns what follows it.
func cutNumber(s string) (x float64, text, rest string, ok bool) {
	n := digits(s)
	if n == 0 {
		return 0, "", s, false
	}
	if n < len(s) && s[n] == '.' {
		d := digits(s[n+1:])
		if d == 0 {
			return 0, "", s, false
		}
		n += 1 + d
	}
	x, err := strconv.ParseFloat(s[:n], 64)
	return x, s[:n], s[n:], err == nil
}

// cutMixed reads a number as cutNumber does, with thirds behind a whole one
// ("33 1/3", "533⅔").
func cutMixed(s string) (x float64, rest string, ok bool) {
	x, text, rest, ok := cutNumber(s)
	rest = strings.TrimSpace(rest)
	if !ok || strings.Contains(text, ".") {
		return x, rest, ok
	}
	for _, f := range fractions() {
		for _, sign := range []string{f.text, f.sign} {
			if after, found := strings.CutPrefix(rest, sign); found {
				return x + f.value, after, true
			}
		}
	}
	return x, rest, true
}

// unitOf returns the length of one metre or one yard by its name.
func unitOf(s string) (Length, bool) {
	switch strings.ToLower(strings.TrimSpace(s)) {
	case "m", "metre", "metres", "meter", "meters":
		return Metre, true
	case "yd", "yds", "y", "yard", "yards":
		return Yard, true
	}
	return 0, false
}

// decimal prints x with up to the given number of decimals and no trailing
// zeros. A negative number of decimals prints as many as x needs.
func decimal(x float64, decimals int) string {
	s := strconv.FormatFloat(x, 'f', decimals, 64)
	if decimals > 0 {
		s = strings.TrimRight(s, "0")
		s = strings.TrimSuffix(s, ".")
	}
	if s == "-0" {
		s = "0"
	}
	return s
}
