package protocol

import (
	"maps"
	"slices"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/pace"
	"example.com/steptest/protocol/internal/form"
)

// Review says what a reader of the record should know before a curve is drawn
// through it: how many repeats were swum, which rows and samples are missing,
// which repeats were not faster than the one before, or swum over another
// distance, which columns of the sheet were not understood, and which values look like a slip
// of the pen, with what was likely meant. Whether lactate behaves is left to package lactate.
// A record with warnings is still a record.
func (r Record) Review() []lactate.Warning {
	var out review
	swum, sampled := 0, 0
	peak := peakOf(r.Recovery)
	none := peak == 0 && !slices.ContainsFunc(r.Repeats, func(rep Repeat) bool { return rep.Lactate > 0 || rep.Range != InRange })
	next := 1
	for i, rep := range r.Repeats {
		for ; next < rep.Number && next <= form.MaxNumber; next++ {
			row := "no row"
			if len(r.Faults) > 0 { // it may be one of those
				row = "no row that could be read"
			}
			out.add(WarnRowMissing, []int{next}, "", row+": the numbers go on to %d without it", rep.Number)
		}
		next = min(max(rep.Number, 0), form.MaxNumber) + 1
		if rep.Time == 0 {
			out.add(WarnNotSwum, []int{rep.Number}, "", "no time: not swum, or lost; it has no place on the curve")
			continue
		}
		swum++
		switch last := i == len(r.Repeats)-1 && r.RecoveryAfter == 0; {
		case rep.Range != InRange:
			out.add(WarnBeyondRange, []int{rep.Number}, "", "%s", r.beyond(i))
		case last && rep.Lactate == 0 && hasAbove(r.Recovery):
			out.add(WarnBeyondRange, []int{rep.Number}, "", "a sample after it is above the range of the analyser (HI), and the highest is not known: the repeat is kept, but is no point of the curve")
		case rep.Lactate > 0:
			sampled++
			if last && peak > rep.Lactate {
				out.add(WarnLaterIsHigher, []int{rep.Number}, "common practice", "the samples after it rise to %.1f mmol/L, above its own %.1f: leave its own blank if the highest is meant", peak, rep.Lactate)
			}
		case last && peak > 0:
			sampled++
			out.add(WarnSampleStandsIn, []int{rep.Number}, "common practice", "no sample of its own: the highest of those after it, %.1f mmol/L, stands for it", peak)
		case none: // said once
		default:
			out.add(WarnNoSample, []int{rep.Number}, "", "no lactate: the repeat is kept, but is no point of the curve")
		}
	}
	switch {
	case swum == 1:
		out.add(WarnFewRepeats, nil, "", "one repeat: no curve can be drawn; a step test has several, each faster than the last")
	case sampled < 4:
		out.add(WarnFewRepeats, nil, "", "%s with a sample: five or more show where the curve bends", counted(sampled, "repeat"))
	case sampled < 5:
		out.add(WarnFewRepeats, nil, "common practice", "%s with a sample; five or more are usual", counted(sampled, "repeat"))
	}
	r.reviewOrder(&out)
	r.reviewSlips(&out)
	if r.RecoveryAfter > 0 {
		out.add(WarnNoSample, []int{r.RecoveryAfter}, "", "its row is lost, and the samples after it are kept: none of them is a point of the curve")
	}
	for _, n := range r.Notes {
		out.add(WarnReadingNote, nil, "", "%s", n)
	}
	if names := r.extraNames(); len(names) > 0 {
		out.add(WarnUnknownColumns, nil, "", "kept, but not used, since their names are none that a sheet knows: the columns %s", form.Quoted(names))
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
func (r Record) reviewOrder(out *review) {
	before := -1
	for i, rep := range r.Repeats {
		v, err := rep.Speed()
		if err != nil {
			continue
		}
		if before >= 0 {
			prev := r.Repeats[before]
			u, _ := prev.Speed()
			pair := []int{rep.Number, prev.Number}
			switch {
			case v == u:
				out.add(WarnSameSpeed, pair, "", "the same speed as repeat {2}: both are points of the curve, but add no further speed to it")
			case v < u:
				out.add(WarnSlower, pair, "common practice", "slower than repeat {2} (%s after %s per 100): in a step test every repeat is faster than the last, and lactate from a faster one is still in the blood",
					pace.FormatTime(v.In(r.Pool).Time.Round(100*time.Millisecond), 1), pace.FormatTime(u.In(r.Pool).Time.Round(100*time.Millisecond), 1))
			}
			if rep.Distance != prev.Distance {
				out.add(WarnDistanceDiffers, pair, "Zinner et al. 2011", "another distance than repeat {2} (%s, not %s): lactate depends on how long a step lasts", rep.Distance, prev.Distance)
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
