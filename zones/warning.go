package zones

import "example.com/steptest/lactate"

// What the warnings of a [Table] are about.
const (
	WarnOffInterval      lactate.WarningKind = "off interval"      // a threshold outside its own interval
	WarnZonesJoined      lactate.WarningKind = "zones joined"      // the test did not reach the edge between them
	WarnIntervalsOverlap lactate.WarningKind = "intervals overlap" // a zone is not told from its neighbours
	WarnHeartRateFalls   lactate.WarningKind = "heart rate falls"  // it does not rise from edge to edge, and is left out
	WarnEdgeUnknown      lactate.WarningKind = "edge unknown"      // no heart rate or lactate at an edge
)

func (t *Table) warn(kind lactate.WarningKind, words string, values ...any) {
	t.Warnings = append(t.Warnings, lactate.Warning{Kind: kind, Words: words, Values: values})
}
