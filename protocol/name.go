package protocol

import "strings"

// FoldName returns a name without case and spaces. Two names that fold to the
// same text are one swimmer, spelt in two ways.
func FoldName(s string) string { return strings.Join(strings.Fields(strings.ToLower(s)), "") }
