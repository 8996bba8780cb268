// Package clean makes text from outside fit to be shown.
package clean

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Text returns a text from outside as a terminal, a page or a picture may show it:
// bytes that are no UTF-8 become U+FFFD; control characters but line feeds, and the
// separators of lines and paragraphs, become spaces; marks that turn the direction of what follows are
// left out, since they can make a line say something else than it holds.
func Text(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.Is(unicode.Bidi_Control, r):
			return -1
		case unicode.IsControl(r) && r != '\n', r == '\u2028', r == '\u2029', r == '\ufeff':
			return ' '
		}
		return r
	}, strings.ToValidUTF8(s, "\ufffd"))
}

// Line is Text, with one space for each run of them and none at the ends.
func Line(s string) string { return strings.Join(strings.Fields(Text(s)), " ") }

// Short is Line, cut to so many letters: what an error repeats of what it found.
func Short(s string, most int) string {
	most = min(max(most, 0), len(s))
	s = Line(s[:min(len(s), 8*most)])
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "…"
	}
	return s
}

// Capital returns s with its first letter in upper case.
func Capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}

// Bare returns the text of an error without the names of the packages of this module that
// head it, or a line of it; empty if there is none.
func Bare(err error) string {
	if err == nil {
		return ""
	}
	return packages.ReplaceAllString(err.Error(), "")
}

var packages = regexp.MustCompile(`(?m)^((between|chart|curve|forecast|heartrate|lactate|pace|protocol|sheet|squad|table|technique|zones): )+`)
