package protocol

import (
	"fmt"
	"math"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/pace"
	"example.com/steptest/protocol/internal/form"
)

// Known is what may be known of a swimmer when a plan is reviewed. The zero
// value means that nothing is.
type Known struct {
	// Threshold is the expected speed at LT2 [m/s]. Zero means unknown.
	Threshold pace.Speed `json:"threshold,omitzero"`
	// LT1 is the expected speed at LT1 [m/s]. Zero means unknown.
	LT1 pace.Speed `json:"lt1,omitzero"`
	// Fastest is the fastest speed of the last test [m/s]. Zero means unknown.
	Fastest pace.Speed `json:"fastest,omitzero"`
	// Best is a recent best over the distance of the last repeat. Zero means
	// unknown.
	Best time.Duration `json:"best_ns,omitzero"`
	// HalfLife of lactate in the blood at rest. Zero means 15 min, the short
	// end of what reviews give for rest without swimming (15 to 25 min, from
	// memory; the percentages of Mota et al. 2017 come out slower still).
	HalfLife time.Duration `json:"half_life_ns,omitzero"`
}

// Where Review draws its lines. Without a source, they are ours.
const (
	shortStep   = 2 * time.Minute  // Zinner 2011
	briefStep   = 3 * time.Minute  // Bentley 2007
	coarseStep  = 0.07             // [m/s]; protocols to exhaustion step by 0.05
	fineStep    = time.Second      // a few times the error of two hand timings
	lowestShare = 0.35             // of the range, below which a threshold has too little under it
	highShare   = 0.85             // and above which too little over it
	shortRest   = 45 * time.Second // to touch, dry, prick and sample
	longTotal   = time.Hour        // from the first start to the last sample
	leastBelow  = 2                // repeats below LT1, to tell a rise from the baseline
	mostCleared = 0.10             // share of the lactate gone before the next repeat
	slowBest    = 1.01             // last target over recent best
)

// Review says what to think of before the plan is swum, each warning with its
// source: steps too short, too few, too coarse or too fine; a threshold that is
// not in the middle of what is tested; too little below LT1; a last repeat that is
// not maximal, or slower than what was swum; a rest that is too long or too short;
// a test that is too long; and what the whole test takes. A plan
// with warnings is still a plan.
func (p Plan) Review(k Known) []lactate.Warning {
	var out review
	n := len(p.Repeats)
	if n == 0 {
		out.add(WarnNoRepeats, nil, "", "no repeats")
		return out
	}
	if n < 5 {
		out.add(WarnFewRepeats, nil, "common practice", "%s: five or more are usual; fewer hardly show where the curve bends", counted(n, "repeat"))
	}
	p.reviewLengths(&out)
	p.reviewSteps(&out)
	p.reviewThreshold(k, &out)
	p.reviewBelow(k, &out)
	p.reviewLast(k, &out)
	p.reviewRests(k, &out)
	if d := p.Duration(); d > longTotal {
		out.add(WarnTooLong, nil, "", "takes %s: more than an hour tires a swimmer before the last repeat; fewer or shorter repeats", pace.FormatTime(d, 0))
	}
	out.add(WarnInTotal, nil, "", "in total %s, %s swum without the warm-up, %s from the first start to the last sample",
		counted(p.Samples(), "blood sample"), distanceText(p.Distance(), p.Pool), pace.FormatTime(p.Duration(), 0))
	return out
}

// reviewLengths looks at how long each repeat lasts.
func (p Plan) reviewLengths(out *review) {
	short, brief := 0, 0
	for _, t := range p.Repeats {
		switch {
		case t.Time == 0:
		case t.Time < shortStep:
			short = t.Number
		case t.Time < briefStep:
			brief = t.Number
		}
		if t.Distance != p.Repeats[0].Distance {
			out.add(WarnDistanceDiffers, []int{t.Number, p.Repeats[0].Number}, "Zinner et al. 2011", "%s, where the first is %s: lactate depends on how long a step lasts", distanceText(t.Distance, p.Pool), distanceText(p.Repeats[0].Distance, p.Pool))
		}
	}
	if short > 0 {
		out.add(WarnShortRepeat, []int{short}, "Zinner et al. 2011, abstract", "lasts less than 2 min, judged too short for lactate to follow the speed: a longer distance would do")
	} else if brief > 0 {
		out.add(WarnShortRepeat, []int{brief}, "Bentley, Newell & Bishop 2007 and Foxdal et al. 1996, from memory", "lasts less than 3 min: 3 to 4 min are the least for lactate to settle, 5 are better")
	}
}

// reviewSteps looks at what lies between one repeat and the next.
func (p Plan) reviewSteps(out *review) {
	for i := 1; i < len(p.Repeats); i++ {
		a, b := p.Repeats[i-1], p.Repeats[i]
		if a.Time == 0 || b.Time == 0 {
			continue
		}
		pair := []int{b.Number, a.Number}
		step := b.speed() - a.speed()
		ahead := a.Split(p.Pool.Per100()) - b.Split(p.Pool.Per100())
		saved := time.Duration(float64(ahead) * float64(b.Distance/p.Pool.Per100()))
		switch {
		case !(step > 0):
			out.add(WarnNotFaster, pair, "common practice", "not faster than repeat {2}")
		case saved < fineStep:
			out.add(WarnFineStep, pair, "hand timing is off by 0.10 s, Am J Phys 2019, abstract", "only %s s faster than repeat {2}: the watch and the swimmer's pacing blur the two", secondsText(saved))
		case step > coarseStep:
			out.add(WarnCoarseStep, pair, "protocols with 0.05 m/s, from memory", "%.2f m/s faster than repeat {2}: a threshold in between is bracketed coarsely; more repeats or a smaller drop", float64(step))
		}
	}
}

// reviewThreshold asks whether the threshold is bracketed.
func (p Plan) reviewThreshold(k Known, out *review) {
	low, high := p.Repeats[0].speed(), p.Repeats[len(p.Repeats)-1].speed()
	if !(k.Threshold > 0) || !(high > low && low > 0) {
		return
	}
	share := float64((k.Threshold - low) / (high - low))
	at := pace.FormatTime(k.Threshold.In(p.Pool).Time.Round(100*time.Millisecond), 1)
	switch {
	case share < 0 || share > 1:
		out.add(WarnThresholdOffRange, nil, "", "the expected threshold, %s per 100, lies outside the tested range: it cannot be found", at)
	case share < lowestShare:
		out.add(WarnThresholdOffRange, nil, "", "the expected threshold, %s per 100, lies low in the tested range (%.0f %% of the way up): start slower", at, 100*share)
	case share > highShare:
		out.add(WarnThresholdOffRange, nil, "", "the expected threshold, %s per 100, lies high in the tested range (%.0f %% of the way up): end faster", at, 100*share)
	}
}

// reviewBelow asks whether enough lies below LT1.
func (p Plan) reviewBelow(k Known, out *review) {
	if !(k.LT1 > 0) {
		return
	}
	below := 0
	for _, t := range p.Repeats {
		if v := t.speed(); v > 0 && v < k.LT1 {
			below++
		}
	}
	if below < leastBelow {
		out.add(WarnLittleBelow, nil, "", "%s below the expected LT1, %s per 100: a rise shows against two or more; start slower", counted(below, "repeat"),
			pace.FormatTime(k.LT1.In(p.Pool).Time.Round(100*time.Millisecond), 1))
	}
}

// reviewLast asks whether the last repeat is maximal.
func (p Plan) reviewLast(k Known, out *review) {
	last := p.Repeats[len(p.Repeats)-1]
	if !last.AllOut {
		out.add(WarnNotAllOut, []int{last.Number}, "Cheng et al. 1992, from memory", "not all out: where the curve ends decides where Dmax lies, and only maximal tests compare")
	}
	if k.Best > 0 && float64(last.Time) > slowBest*float64(k.Best) {
		out.add(WarnSlowerThanBest, []int{last.Number}, "", "%s is slower than the recent best of %s", pace.FormatTime(last.Time, 0), pace.FormatTime(k.Best, -1))
	}
	if v := last.speed(); v > 0 && k.Fastest > 0 && float64(v)*slowBest < float64(k.Fastest) {
		out.add(WarnSlowerThanSwum, []int{last.Number}, "", "%s per 100 is slower than the last test was swum, up to %s: the curve would end before it did",
			pace.FormatTime(v.In(p.Pool).Time.Round(100*time.Millisecond), 1), pace.FormatTime(k.Fastest.In(p.Pool).Time.Round(100*time.Millisecond), 1))
	}
}

// reviewRests looks at the shortest rest and at the longest.
func (p Plan) reviewRests(k Known, out *review) {
	rests := p.Rest()
	if len(rests) == 0 {
		return
	}
	half := k.HalfLife
	if half <= 0 {
		half = 15 * time.Minute
	}
	shortest, longest := 0, 0
	for i, r := range rests {
		if r < rests[shortest] {
			shortest = i
		}
		if r > rests[longest] {
			longest = i
		}
	}
	number := func(i int) []int { return []int{p.Repeats[i].Number} }
	switch r := rests[shortest]; {
	case r < 0:
		out.add(WarnShortRest, number(shortest), "", "ends after the next repeat leaves")
	case r < shortRest:
		out.add(WarnShortRest, number(shortest), "common practice: a sample about a minute after a step", "%s s of rest: hardly time to touch, dry the hand and sample; several swimmers need a helper each", secondsText(r))
	}
	r := rests[longest]
	if cleared := 1 - math.Exp2(-float64(r)/float64(half)); cleared > mostCleared {
		out.add(WarnLongRest, number(longest), "first-order loss with a half-life from memory; but Arsoniadis et al. 2024, abstract, found no practical difference between 30 s of rest and a 5 min cycle",
			"%s of rest: some %.0f %% of the lactate may be gone before the next repeat", pace.FormatTime(r, 0), 100*cleared)
	}
}

// counted writes a number of things.
func counted(n int, thing string) string {
	if n != 1 {
		thing += "s"
	}
	return fmt.Sprintf("%d %s", n, thing)
}

// secondsText writes seconds with at most one decimal.
func secondsText(t time.Duration) string {
	return form.Decimal(math.Round(t.Seconds()*10) / 10)
}

// distanceText writes a distance in the unit of the pool.
func distanceText(d pace.Length, pool pace.Pool) string {
	return form.Decimal(math.Round(float64(d/pool.Unit())*10)/10) + " " + pool.UnitSymbol()
}
