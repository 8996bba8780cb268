package protocol

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// CleanName returns a name as a sheet is read: the composed form of Unicode
// (NFC, Unicode Standard Annex #15), without characters that do not show, with
// ' for every apostrophe and - for every hyphen, and with single spaces. Two
// names with the same clean form look alike, however they were typed.
func CleanName(s string) string {
	if isClean(s) {
		return s
	}
	s = strings.Map(func(r rune) rune {
		switch {
		case strings.ContainsRune("’‘ʼ`´′＇", r):
			return '\''
		case strings.ContainsRune("‐‑–−", r):
			return '-'
		case unicode.Is(unicode.Cf, r) || unicode.Is(unicode.Variation_Selector, r) || r == '\u034f':
			return -1 // soft hyphens, joiners, marks of direction
		case unicode.IsSpace(r):
			return ' '
		}
		return r
	}, norm.NFC.String(s))
	return norm.NFC.String(strings.Join(strings.Fields(s), " "))
}

// isClean reports whether a name is plainly its own clean name.
func isClean(s string) bool {
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' || s[i] == '`' || s[i] == ' ' && (i == 0 || i == len(s)-1 || s[i-1] == ' ') {
			return false
		}
	}
	return true
}

// FoldName returns the clean name without case and spaces. Two names that fold
// to the same text are one swimmer, spelt in two ways.
func FoldName(s string) string {
	return strings.ReplaceAll(strings.ToLower(CleanName(s)), " ", "")
}
