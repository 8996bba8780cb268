package protocol

import (
	"slices"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/pace"
)

// Differences says how two tests differ as they were swum, and what that does to the
// answer whether a swimmer has changed: no comparison counts it.
func Differences(before, after Record) []lactate.Warning {
	var out review
	add := func(kind lactate.WarningKind, what, why string, faster bool, whose string, values ...any) {
		side := map[bool]string{true: "faster", false: "slower"}[faster]
		out.add(kind, nil, "", "the "+what+" differ, %v and %v: "+why+" makes the swimmer look "+side+" now. All of the change, or more, may be the "+whose+"'s: the odds do not count that", values...)
	}
	if p, q := before.Pool, after.Pool; p != q {
		faster := q.Length() < p.Length()
		add(WarnOtherPool, "pools", "a shorter pool is faster by its turns, and the shorter one of the "+map[bool]string{true: "second", false: "first"}[faster]+" test", faster, "pool", p, q)
	}
	if d, e := before.longest(), after.longest(); d != e {
		add(WarnOtherDistance, "repeats", "longer ones gather more lactate at the same speed, which", e < d, "distance", d, e)
	}
	if d, e := before.restBetween(), after.restBetween(); d > 0 && e > 0 && (d-e).Abs() >= otherRest {
		add(WarnOtherRest, "rests", "a longer rest lets lactate fall, which", e > d, "rest", "about "+d.Round(time.Second).String(), e.Round(time.Second))
	}
	return out
}

// otherRest is how much the typical rests of two tests may differ; ours.
const otherRest = 20 * time.Second

// longest returns the longest distance of a repeat.
func (r Record) longest() (d pace.Length) {
	for _, rep := range r.Repeats {
		d = max(d, rep.Distance)
	}
	return d
}

// restBetween is the middle one of the planned rests: from the end of a repeat to the
// time at which the next one leaves. Zero means not noted.
func (r Record) restBetween() time.Duration {
	var all []time.Duration
	for i, next := range r.Repeats[min(1, len(r.Repeats)):] {
		last := r.Repeats[i]
		if rest := next.Leave - last.Leave - last.Time; next.Leave > 0 && last.Time > 0 && rest > 0 {
			all = append(all, rest)
		}
	}
	if len(all) == 0 {
		return 0
	}
	slices.Sort(all)
	return all[len(all)/2]
}
