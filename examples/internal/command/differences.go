package command

import (
	"fmt"
	"slices"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
)

// Differences says how two tests differ as they were swum, and what that does to the
// answer whether a swimmer has changed.
func Differences(before, after protocol.Record) (out []string) {
	if before.Pool != after.Pool {
		looks := "the shorter one of the first test makes the swimmer look slower now"
		if after.Pool.Length() < before.Pool.Length() {
			looks = "the shorter one of the second test makes the swimmer look faster now"
		}
		out = append(out, fmt.Sprintf("the pools differ, %v and %v: a shorter pool is faster by its turns, and %s. All of the change, or more, may be the pool's: the odds do not count that", before.Pool, after.Pool, looks))
	}
	if d, e := Longest(before), Longest(after); d != e {
		looks := "slower"
		if e < d {
			looks = "faster"
		}
		out = append(out, fmt.Sprintf("the repeats differ, %v and %v: longer ones gather more lactate at the same speed, which makes the swimmer look %s now. All of the change, or more, may be the distance's: the odds do not count that", d, e, looks))
	}
	if d, e := rest(before), rest(after); d > 0 && e > 0 && max(d, e)-min(d, e) >= otherRest {
		looks := "faster"
		if e < d {
			looks = "slower"
		}
		out = append(out, fmt.Sprintf("the rests differ, about %v and %v: a longer rest lets lactate fall, which makes the swimmer look %s now. All of the change, or more, may be the rest's: the odds do not count that",
			d.Round(time.Second), e.Round(time.Second), looks))
	}
	return out
}

// TestAgain reports whether the answer of a comparison is to test again.
func TestAgain(c *lactate.Change) bool {
	return !c.BetweenDays.Grade.Sure() || slices.ContainsFunc(c.Warnings, func(w lactate.Warning) bool { return w.Kind == lactate.WarnLittleShared })
}

// otherRest is how much the typical rests of two tests may differ; ours.
const otherRest = 20 * time.Second

// Longest returns the longest distance of a repeat.
func Longest(rec protocol.Record) pace.Length {
	var d pace.Length
	for _, rep := range rec.Repeats {
		d = max(d, rep.Distance)
	}
	return d
}

// rest is the middle one of the planned rests: from the end of a repeat to the time at
// which the next one leaves. Zero means not noted.
func rest(rec protocol.Record) time.Duration {
	var all []time.Duration
	for i := 1; i < len(rec.Repeats); i++ {
		last, next := rec.Repeats[i-1], rec.Repeats[i]
		if left := next.Leave - last.Leave - last.Time; next.Leave > 0 && last.Time > 0 && left > 0 {
			all = append(all, left)
		}
	}
	if len(all) == 0 {
		return 0
	}
	slices.Sort(all)
	return all[len(all)/2]
}
