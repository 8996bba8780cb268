package zones

import "example.com/steptest/lactate"

// What the warnings of a [Table] are about.
const (
	OffInterval      lactate.WarningKind = "off interval"      // a threshold outside its own interval
	ZonesJoined      lactate.WarningKind = "zones joined"      // the test did not reach the edge between them
	IntervalsOverlap lactate.WarningKind = "intervals overlap" // a zone is not told from its neighbours
	HeartRateFalls   lactate.WarningKind = "heart rate falls"  // it does not rise from edge to edge, and is left out
	EdgeUnknown      lactate.WarningKind = "edge unknown"      // no heart rate or lactate at an edge
)

func (t *Table) warn(kind lactate.WarningKind, words string, values ...any) {
	t.Warnings = append(t.Warnings, lactate.Warning{Kind: kind, Words: words, Values: values})
}
