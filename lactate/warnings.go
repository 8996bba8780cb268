package lactate

import (
	"math"
	"slices"

	"example.com/steptest/lactate/curve"
	"example.com/steptest/lactate/internal/reading"
	"gonum.org/v1/gonum/stat/distuv"
)

// The doubts that [Analyze] raises.
const (
	WarnFewStages    WarningKind = "few stages"                 // fewer than five with a lactate sample
	WarnLostSamples  WarningKind = "lost samples"               // stages without a lactate sample
	WarnNotMaximal   WarningKind = "not maximal"                // the last stage does not look like an all-out effort
	WarnLactateFell  WarningKind = "lactate fell"               // a fall of lactate after it had begun to rise
	WarnCurveDips    WarningKind = "curve dips"                 // the fitted curve falls inside the tested range
	WarnCurveUnbent  WarningKind = "curve does not bend"        // the fitted curve does not bend upward
	WarnCurveMisses  WarningKind = "curve misses"               // the samples lie farther from the curve than the stated noise explains
	WarnNoBaseline   WarningKind = "no baseline"                // lactate rises from the first stage on
	WarnDmaxLow      WarningKind = "Dmax low"                   // Dmax does not lie above LT1
	WarnOddHeartRate WarningKind = "odd heart rate"             // a heart rate far off its neighbours', left out
	WarnInLastGap    WarningKind = "in last gap"                // a threshold between the last two stages
	WarnOpenInterval WarningKind = "open interval"              // an interval that the tested range cuts off
	WarnOutOfOrder   WarningKind = "out of order"               // LT1 does not lie below LT2, or not surely
	WarnEndsEarly    WarningKind = "ends early"                 // the test or its samples end before the effort is all out
	WarnOddSample    WarningKind = "odd sample"                 // a sample far outside what the others lead to expect
	WarnUncounted    WarningKind = "degrees of freedom unknown" // the curve is taken for one that interpolates, and does not
	WarnNoScale      WarningKind = "no scale"                   // nothing says how large the noise is, and there is no interval
)

const (
	fewStages = 5
	// An all-out repeat of two to six minutes ends above this lactate in
	// nearly every swimmer: common practice, no source [mmol/L].
	maximalLactate = 6
	// A fall larger than this is not the analyser's last digit [mmol/L].
	fall = 0.2
	// Residuals as large as this have a probability of 1 % at most if curve and
	// stated noise are right.
	missed = 0.99
)

// unsampled returns the numbers, from 1, of the stages without a lactate sample.
func unsampled(stages []Stage) (out []int) {
	for i, s := range stages {
		if !s.sampled() {
			out = append(out, i+1)
		}
	}
	return out
}

// uncounted reports whether a curve that is taken for one that passes through all samples
// does not.
func (a *Analysis) uncounted() bool {
	if _, ok := a.Curve.(Regression); ok {
		return false
	}
	for i, s := range a.stages {
		if i > 0 && s.Intensity == a.stages[i-1].Intensity || i+1 < len(a.stages) && s.Intensity == a.stages[i+1].Intensity {
			continue // no curve passes through both
		}
		if math.Abs(a.Curve.Predict(s.Intensity)-s.Lactate) > 1e-6*s.Lactate {
			return true
		}
	}
	return false
}

// baselineUnseen reports whether lactate rises from the first stage to the second by more
// than two samples differ by chance, or rises at all from more than 2 mmol/L, which some take
// for LT1 itself (common practice): nothing shows that the first stage was easy enough. A
// second sample that a later one falls below shows nothing either way.
func (a *Analysis) baselineUnseen() bool {
	const chance = 2 * math.Sqrt2 // two standard deviations of a difference
	first, second := a.stages[0].Lactate, a.stages[1].Lactate
	for _, s := range a.stages[2:] {
		if second-s.Lactate > chance*a.opts.Noise.Lactate(second) {
			return false
		}
	}
	return exceeds(second-first, 0.4) && (first > 2 || second-first > chance*a.opts.Noise.Lactate(first))
}

// surelyOrdered is the least share of draws in which LT1 lies below LT2.
const surelyOrdered = 0.95

// climbs reports whether lactate rises over the first three stages by more than chance, and
// about evenly: nothing shows where it begins to. The limits are ours.
func (a *Analysis) climbs() bool {
	first, second, third := a.stages[0], a.stages[1], a.stages[2]
	slope := func(s, t Stage) float64 { return (t.Lactate - s.Lactate) / (t.Intensity - s.Intensity) }
	sd := math.Sqrt2 * a.opts.Noise.Lactate(first.Lactate) // of a difference
	return second.Lactate-first.Lactate > sd && third.Lactate-second.Lactate > sd && slope(first, second) > slope(second, third)/2
}

// warnings gathers the doubts; d may be nil.
func (a *Analysis) warnings(t Test, d *draws) []Warning {
	var out []Warning
	add := func(k WarningKind, stages []int, words string, values ...any) {
		out = append(out, Warning{Kind: k, Stages: stages, Words: words, Values: values})
	}
	n := len(a.stages)
	if n < fewStages {
		add(WarnFewStages, nil, "only %d {stages} have a lactate sample: where the curve bends, and LT1 with it, is presumed more than seen; five or more show it", n)
	}
	if lost := len(t.Stages) - n; lost > 0 {
		words := "%d of %d {stages} have no lactate sample and are not part of the curve"
		if lost == 1 {
			words = "%d of %d {stages} has no lactate sample and is not part of the curve"
		}
		add(WarnLostSamples, unsampled(t.Stages), words, lost, len(t.Stages))
	}
	number := t.inOrder() // as given, from 1
	for i := range number {
		number[i]++
	}
	last, before := a.stages[n-1], a.stages[n-2]
	switch {
	case last.Lactate < before.Lactate && number[n-1] > number[n-2]:
		add(WarnNotMaximal, []int{number[n-2], number[n-1]}, "the last {stage} has less lactate (%.1f mmol/L) than the one before (%.1f): it was not all out, or a sample is wrong", last.Lactate, before.Lactate)
	case last.Lactate < before.Lactate:
		add(WarnNotMaximal, []int{number[n-1], number[n-2]}, "{stage} {1}, the hardest, has less lactate (%.1f mmol/L) than {stage} {2} (%.1f): it was not all out, or a sample is wrong", last.Lactate, before.Lactate)
	case last.Lactate < maximalLactate && !a.test.endsEarly():
		out = append(out, Warning{WarnNotMaximal, []int{number[n-1]}, "the last {stage} ends at %.1f mmol/L, and most all-out efforts end above %d: if it was not all out, Dmax and modified Dmax come out too low", []any{last.Lactate, maximalLactate}, "common practice"})
	}
	switch unseen := a.baselineUnseen(); {
	case unseen:
		add(WarnNoBaseline, []int{number[0], number[1]}, "lactate rises from {stage} {1} to {stage} {2} already (%.1f to %.1f mmol/L): the baseline was not seen, and LT1 and LT2 may lie lower than they are reported; start easier next time", a.stages[0].Lactate, a.stages[1].Lactate)
	case a.climbs():
		add(WarnNoBaseline, number[:3:3], "lactate climbs evenly over the first three {stages} (%.1f, %.1f, %.1f mmol/L): where it begins to rise was not seen, and LT1 may lie lower than it is reported; start easier next time", a.stages[0].Lactate, a.stages[1].Lactate, a.stages[2].Lactate)
	}
	lowest := a.stages[0].Lactate
	for i := 1; i < n; i++ {
		prev, cur := a.stages[i-1], a.stages[i]
		if exceeds(prev.Lactate-cur.Lactate, fall) && exceeds(prev.Lactate-lowest, fall) {
			add(WarnLactateFell, []int{number[i-1], number[i]}, "lactate falls from %.1f to %.1f mmol/L between {stages} {1} and {2}: one of the two samples may be wrong", prev.Lactate, cur.Lactate)
		}
		lowest = min(lowest, cur.Lactate)
	}
	if x, y := reading.Minimum(a.Curve, a.Lowest, a.Highest); x > a.Lowest {
		if start := a.Curve.Predict(a.Lowest); start-y > 0.05 {
			add(WarnCurveDips, nil, "the fitted curve falls from %.2f to %.2f mmol/L before it rises; that is the curve's doing more often than the athlete's", start, y)
		}
	}
	if mid := a.Lowest/2 + a.Highest/2; !(a.Curve.Predict(mid) < (a.Curve.Predict(a.Lowest)+a.Curve.Predict(a.Highest))/2) {
		add(WarnCurveUnbent, nil, "the fitted curve does not bend upward as a lactate curve does")
	}
	if a.uncounted() {
		add(WarnUncounted, nil, "the curve does not pass through the samples, but says nothing of its degrees of freedom: intervals are wider than they need be, and nothing tells whether the curve misses")
	}
	if sc := a.model().scale; sc.Weight > 0 && sc.DoF > 0 && sc.Sum > (distuv.ChiSquared{K: sc.DoF}).Quantile(missed) {
		shape := "lactate does not rise as this curve does, and then Dmax and rises above a baseline are off by more than their intervals"
		if _, ok := a.Curve.(*curve.Convex); ok {
			shape = "lactate follows no curve of the kinds that are tried"
		}
		const hopeless = 5 // times; ours
		far, trust := math.Sqrt(sc.Sum/sc.DoF), ""
		if far > hopeless {
			trust = "trust no threshold of this test; "
		}
		add(WarnCurveMisses, nil, "the samples lie %.1f times as far from the curve as their error explains: %sa sample may be wrong, the error may be larger than stated, or %s", far, trust, shape)
	}
	if found, ok := a.oddSample(); ok {
		out = append(out, found.warning(a, number[found.stage]))
	}
	if a.test.endsEarly() {
		add(WarnEndsEarly, []int{number[n-1]}, "the samples end at {stage} {1} before the effort was all out: Dmax, and whatever else depends on the last {stage}, lies where it is reported or higher")
	}
	if a.LT1.Err == nil && a.LT2.Err == nil {
		switch {
		case !(a.LT1.Intensity.Value < a.LT2.Intensity.Value):
			add(WarnOutOfOrder, nil, "LT1 by %v does not lie below LT2 by %v: nothing lies between them", a.LT1.Method, a.LT2.Method)
		case d.ordered(a.opts.LT1, a.opts.LT2) < surelyOrdered:
			add(WarnOutOfOrder, nil, "LT1 by %v and LT2 by %v lie closer than their brackets can tell apart: in %.0f of 100 draws LT1 does not lie below LT2", a.LT1.Method, a.LT2.Method, 100*(1-d.ordered(a.opts.LT1, a.opts.LT2)))
		}
	}
	for _, th := range a.Thresholds {
		if _, ok := th.Method.(MaxDistance); !ok || th.Err != nil || th.Method == a.LT1.Method || th.Method == a.LT2.Method || a.LT1.Err != nil {
			continue
		}
		if th.Intensity.Value <= a.LT1.Intensity.Value {
			add(WarnDmaxLow, nil, "%v does not lie above LT1: do not take it for LT2 here", th.Method)
		} else if d.ordered(a.LT1.Method, th.Method) < surelyOrdered {
			add(WarnDmaxLow, nil, "%v lies closer to LT1 than their brackets can tell apart: do not take it for LT2 here", th.Method)
		}
	}
	if odd := a.hearts.odd; odd.X > 0 {
		i := slices.IndexFunc(t.Stages, func(s Stage) bool { return s.Intensity == odd.X && s.HeartRate > 0 })
		add(WarnOddHeartRate, []int{i + 1}, "the heart rate of {stage} {1}, %.0f /min, lies far off those beside it, which lead to %.0f: it is left out", odd.Y, a.hearts.expected)
	}
	for i, th := range []Threshold{a.LT1, a.LT2} {
		name := [...]string{"LT1", "LT2"}[i]
		if th.Err != nil {
			continue // which says so itself
		}
		if x := th.Intensity.Value; x > before.Intensity && before.Intensity < last.Intensity {
			add(WarnInLastGap, []int{number[n-2], number[n-1]}, "%s lies between the last two {stages}: a single sample lies above it", name)
		}
		if iv := th.Intensity; iv.HasInterval() && !finite(iv.High) {
			add(WarnOpenInterval, nil, "the bracket of %s is cut off by the end of the test", name)
		} else if iv.HasInterval() && !finite(iv.Low) && !a.baselineUnseen() { // which says so
			add(WarnOpenInterval, nil, "the bracket of %s is cut off by the start of the test", name)
		}
	}
	return out
}
