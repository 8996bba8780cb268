package chart

import (
	"cmp"
	"slices"

	"example.com/steptest/lactate"
)

// sorted returns the stages in order of intensity.
func sorted(ss []lactate.Stage) []lactate.Stage {
	slices.SortStableFunc(ss, func(a, b lactate.Stage) int { return cmp.Compare(a.Intensity, b.Intensity) })
	return ss
}
