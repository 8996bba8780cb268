package protocol

import (
	"fmt"
	"maps"
	"slices"
	"time"

	"example.com/steptest/pace"
	"example.com/steptest/protocol/internal/form"
)

// Review says what a reader of the record should know before a curve is drawn
// through it: how many repeats were swum, which rows and samples are missing,
// which repeats were not faster than the one before, or swum over another
// distance, which columns of the sheet were
// not understood, and which values look like a slip of the pen, with what was
// likely meant. Whether lactate behaves is left to package lactate. A record with
// findings is still a record.
func (r Record) Review() []Finding {
	var out []Finding
	add := func(repeat int, source, format string, a ...any) {
		out = append(out, Finding{repeat, fmt.Sprintf(format, a...), source})
	}
	swum, sampled := 0, 0
	peak := peakOf(r.Recovery)
	none := peak == 0 && !slices.ContainsFunc(r.Repeats, func(rep Repeat) bool { return rep.Lactate > 0 || rep.Range != InRange })
	next := 1
	for i, rep := range r.Repeats {
		for ; next < rep.Number; next++ {
			add(next, "", "no row: the numbers go on to %d without it", rep.Number)
		}
		next = rep.Number + 1
		if rep.Time == 0 {
			add(rep.Number, "", "no time: not swum, or lost; it has no place on the curve")
			continue
		}
		swum++
		switch last := i == len(r.Repeats)-1 && r.RecoveryAfter == 0; {
		case rep.Range != InRange:
			add(rep.Number, "", "%s", r.beyond(i))
		case last && rep.Lactate == 0 && hasAbove(r.Recovery):
			add(rep.Number, "", "a sample after it is above the range of the analyser (HI), so that the highest is not known: the repeat is kept, but is no point of the curve, which is fitted without it")
		case rep.Lactate > 0:
			sampled++
			if last && peak > rep.Lactate {
				add(rep.Number, "common practice", "the samples after it rise to %.1f mmol/L, above its own %.1f: leave its own blank if the highest is meant", peak, rep.Lactate)
			}
		case last && peak > 0:
			sampled++
			add(rep.Number, "common practice", "no sample of its own: the highest of those after it, %.1f mmol/L, stands for it", peak)
		case none: // said once
		default:
			add(rep.Number, "", "no lactate: the repeat is kept, but is no point of the curve")
		}
	}
	switch {
	case swum == 1:
		add(0, "", "one repeat: no curve can be drawn; a step test has several, each faster than the last")
	case sampled < 4:
		add(0, "", "%s with a sample: a curve of three parameters needs four to say anything about its own error", counted(sampled, "repeat"))
	case sampled < 5:
		add(0, "common practice", "%s with a sample; five or more are usual", counted(sampled, "repeat"))
	}
	r.reviewOrder(add)
	r.reviewSlips(add)
	if r.RecoveryAfter > 0 {
		add(r.RecoveryAfter, "", "its row is lost, and the samples after it are kept: none of them is a point of the curve")
	}
	for _, n := range r.Notes {
		add(0, "", "%s", n)
	}
	if names := r.extraNames(); len(names) > 0 {
		add(0, "", "kept, but not used, since their names are none that a sheet knows: the columns %s", form.Quoted(names))
	}
	return out
}

// extraNames returns the names of the columns that are not known, in order.
func (r Record) extraNames() []string {
	found := map[string]bool{}
	for _, rep := range r.Repeats {
		for name := range rep.Extra {
			found[name] = true
		}
	}
	for _, s := range r.Recovery {
		for name := range s.Extra {
			found[name] = true
		}
	}
	return slices.Sorted(maps.Keys(found))
}

// reviewOrder compares each repeat with those before it.
func (r Record) reviewOrder(add func(int, string, string, ...any)) {
	before := -1
	for i, rep := range r.Repeats {
		v, err := rep.Speed()
		if err != nil {
			continue
		}
		if before >= 0 {
			prev := r.Repeats[before]
			u, _ := prev.Speed()
			switch {
			case v == u:
				add(rep.Number, "", "the same speed as repeat %d: both are points of the curve, but add no further speed to it", prev.Number)
			case v < u:
				add(rep.Number, "common practice", "slower than repeat %d (%s after %s per 100): in a step test every repeat is faster than the last, and lactate from a faster one is still in the blood",
					prev.Number, pace.FormatTime(v.In(r.Pool).Time.Round(100*time.Millisecond), 1), pace.FormatTime(u.In(r.Pool).Time.Round(100*time.Millisecond), 1))
			}
			if rep.Distance != prev.Distance {
				add(rep.Number, "Zinner et al. 2011", "another distance than repeat %d (%s, not %s): lactate depends on how long a step lasts", prev.Number, rep.Distance, prev.Distance)
			}
		}
		before = i
	}
}

// peakOf returns the highest lactate, or zero if it is above the range of the
// analyser.
func peakOf(samples []Sample) float64 {
	peak := 0.0
	for _, s := range samples {
		if s.Range == AboveRange {
			return 0
		}
		peak = max(peak, s.Lactate)
	}
	return peak
}
