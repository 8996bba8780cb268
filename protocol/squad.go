package protocol

import (
	"slices"
	"time"

	"example.com/steptest/lactate"
)

// BySwimmer parts tests by swimmer, in the order of the sheet, each swimmer's by
// date.
func BySwimmer(records []Record) (all [][]Record) {
	at := map[string]int{}
	for _, r := range records {
		i, ok := at[r.Swimmer]
		if !ok {
			i, all = len(all), append(all, nil)
			at[r.Swimmer] = i
		}
		all[i] = append(all[i], r)
	}
	for _, tests := range all {
		slices.SortStableFunc(tests, func(a, b Record) int { return a.Date.Compare(b.Date) })
	}
	return all
}

// Why a test has nothing to read yet, see [Record.Pending].
const (
	PendingSwim   = "not swum" // a plan that waits
	PendingSample = "no lactate"
)

// Pending says why a test without faults has nothing to read yet: [PendingSwim] or
// [PendingSample]. It is empty for all others.
func (r Record) Pending() string {
	swum, sampled := false, len(r.Faults) > 0 || slices.ContainsFunc(r.Recovery, func(s Sample) bool { return s.Lactate > 0 })
	for _, rep := range r.Repeats {
		swum, sampled = swum || rep.Time > 0, sampled || rep.Lactate > 0
	}
	switch {
	case sampled:
		return ""
	case swum:
		return PendingSample
	}
	return PendingSwim
}

// Comparable reports whether the speeds of two tests mix: one pool, one distance.
func (r Record) Comparable(other Record) bool {
	return r.Pool == other.Pool && len(r.Repeats) > 0 && len(other.Repeats) > 0 && r.Repeats[0].Distance == other.Repeats[0].Distance
}

// NextDay is the day of the next test: that of the sheet, or six weeks after this one, as
// six to eight are common practice.
func (r Record) NextDay() time.Time {
	if r.Next.IsZero() {
		return r.Date.AddDate(0, 0, 7*6)
	}
	return r.Next
}

// NextTest plans the same test again on [Record.NextDay], between the same ends: then the
// two compare. The error is that of [NewPlan], or [ErrNoRepeats].
func (r Record) NextTest(a *lactate.Analysis) (Plan, error) {
	if len(r.Repeats) == 0 {
		return Plan{}, ErrNoRepeats
	}
	last := r.Repeats[len(r.Repeats)-1]
	q := Request{Swimmer: r.Swimmer, Date: r.NextDay(), Pool: r.Pool, Repeats: last.Number, Distance: last.Distance}
	return NewPlan(q.FromLast(a))
}
