package lactate

import (
	"math"
	"slices"

	"example.com/steptest/lactate/curve"
	"example.com/steptest/lactate/internal/reading"
	"example.com/steptest/lactate/internal/words"
	"gonum.org/v1/gonum/stat/distuv"
)

const (
	fewStages = 5
	// An all-out repeat of two to six minutes ends above this lactate in
	// nearly every swimmer: common practice, no source [mmol/L].
	maximalLactate = 6
	// Half of the last digit that most analysers print: common practice [mmol/L].
	halfDigit = 0.05
	// A fall larger than this is not the analyser's last digit [mmol/L].
	leastFall = 0.2
	// Residuals as large as this have a probability of 1 % at most if curve and
	// stated noise are right.
	missed = 0.99
)

// surelyOrdered is the least share of draws in which LT1 lies below LT2.
const surelyOrdered = 0.95

// doubts are the warnings of one analysis, as they are found.
type doubts struct {
	*Analysis
	given  Test
	draws  *draws     // nil without intervals
	number []int      // of the sampled stages in the test as given, from 1
	odd    *oddSample // or nil
	found  []Warning
}

// warnings gathers the doubts; d may be nil.
func (a *Analysis) warnings(t Test, d *draws) []Warning {
	q := doubts{Analysis: a, given: t, draws: d, number: t.inOrder()}
	for i := range q.number {
		q.number[i]++
	}
	if odd, ok := a.findOdd(); ok {
		q.odd = &odd
		a.oddStage = q.number[odd.stage]
	}
	q.missing()
	q.lastStage()
	q.firstStages()
	q.falls()
	q.bend()
	q.misfit()
	q.early()
	q.order()
	q.samplesAbove()
	q.chords()
	q.oddHeartRate()
	q.brackets()
	return q.found
}

func (q *doubts) add(k WarningKind, stages []int, words string, values ...any) {
	q.found = append(q.found, Warning{Kind: k, Stages: stages, Words: words, Values: values})
}

// missing doubts tests of few samples.
func (q *doubts) missing() {
	n := len(q.stages)
	if n < fewStages {
		q.add(WarnFewStages, nil, "only %d {stages} have a lactate sample: where the curve bends, and LT1 with it, is presumed more than seen; five or more show it", n)
	}
	if lost := len(q.given.Stages) - n; lost > 0 {
		words := "%d of %d {stages} have no lactate sample and are not part of the curve"
		if lost == 1 {
			words = "%d of %d {stages} has no lactate sample and is not part of the curve"
		}
		q.add(WarnLostSamples, unsampled(q.given.Stages), words, lost, len(q.given.Stages))
	}
}

// unsampled returns the numbers, from 1, of the stages without a lactate sample.
func unsampled(stages []Stage) (out []int) {
	for i, s := range stages {
		if !s.sampled() {
			out = append(out, i+1)
		}
	}
	return out
}

// lastStage doubts that the effort was all out.
func (q *doubts) lastStage() {
	n := len(q.stages)
	last, before := q.stages[n-1], q.stages[n-2]
	hardest, other := q.number[n-1], q.number[n-2]
	switch {
	case last.Lactate < before.Lactate && hardest > other:
		q.add(WarnNotMaximal, []int{other, hardest}, "the last {stage} has less lactate (%.1f mmol/L) than the one before (%.1f): it was not all out, or a sample is wrong", last.Lactate, before.Lactate)
	case last.Lactate < before.Lactate:
		q.add(WarnNotMaximal, []int{hardest, other}, "{stage} {1}, the hardest, has less lactate (%.1f mmol/L) than {stage} {2} (%.1f): it was not all out, or a sample is wrong", last.Lactate, before.Lactate)
	case last.Lactate < maximalLactate && !q.test.endsEarly():
		q.add(WarnNotMaximal, []int{hardest}, "the last {stage} ends at %.1f mmol/L, and most all-out efforts end above %d: if it was not all out, Dmax and modified Dmax come out too low", last.Lactate, maximalLactate)
		q.found[len(q.found)-1].Source = "common practice"
	}
}

// firstStages doubts that the test shows where lactate begins to rise.
func (q *doubts) firstStages() {
	next := "start easier next time"
	if len(q.stages) < fewStages {
		next = "take the next test with five {stages} or more and an easier start"
	}
	first, second := q.stages[0].Lactate, q.stages[1].Lactate
	switch {
	case q.baselineUnseen():
		q.add(WarnNoBaseline, []int{q.number[0], q.number[1]}, "lactate rises from {stage} {1} to {stage} {2} already (%.1f to %.1f mmol/L): one {stage} alone does not confirm the baseline; if it is lower, so are LT1 and LT2; "+next, first, second)
	case q.climbs():
		q.add(WarnNoBaseline, q.number[:3:3], "lactate climbs evenly over the first three {stages} (%.1f, %.1f, %.1f mmol/L): where it begins to rise was not seen. The curve presumes a start that is nearly flat: if it is not, LT1 and its bracket lie too high, and LT2 a little; "+next, first, second, q.stages[2].Lactate)
	}
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
	return exceeds(second-first, usualRise) && (first > 2 || second-first > chance*a.opts.Noise.Lactate(first))
}

// climbs reports whether lactate rises over the first three stages by more than chance, and
// about evenly: nothing shows where it begins to. The limits are ours.
func (a *Analysis) climbs() bool {
	first, second, third := a.stages[0], a.stages[1], a.stages[2]
	slope := func(s, t Stage) float64 { return (t.Lactate - s.Lactate) / (t.Intensity - s.Intensity) }
	sd := math.Sqrt2 * a.opts.Noise.Lactate(first.Lactate) // of a difference
	return second.Lactate-first.Lactate > sd && third.Lactate-second.Lactate > sd && slope(first, second) > slope(second, third)/2
}

// falls doubts samples after which lactate falls, the first if the second alone is lower and
// the curve does not follow it down.
func (q *doubts) falls() {
	first, second := q.stages[0].Lactate, q.stages[1].Lactate
	if _, baseline := reading.Minimum(q.Curve, q.Lowest, q.Highest); exceeds(min(first, q.stages[2].Lactate)-second, leastFall) && exceeds(baseline-second, leastFall/2) {
		q.add(WarnFirstHigh, q.number[:2:2], "lactate falls from %.1f to %.1f mmol/L between {stages} {1} and {2}: a first sample is often high, and the baseline then nearer the second", first, second)
		q.found[len(q.found)-1].Source = "common practice"
	}
	lowest := first
	for i := 1; i < len(q.stages); i++ {
		before, now := q.stages[i-1].Lactate, q.stages[i].Lactate
		if exceeds(before-now, leastFall) && exceeds(before-lowest, leastFall) {
			q.add(WarnLactateFell, []int{q.number[i-1], q.number[i]}, "lactate falls from %.1f to %.1f mmol/L between {stages} {1} and {2}: one of the two samples may be wrong", before, now)
		}
		lowest = min(lowest, now)
	}
}

// bend doubts curves that fall, or do not bend upward.
func (q *doubts) bend() {
	start, end := q.Curve.Predict(q.Lowest), q.Curve.Predict(q.Highest)
	if x, y := reading.Minimum(q.Curve, q.Lowest, q.Highest); x > q.Lowest && start-y > 0.05 {
		q.add(WarnCurveDips, nil, "the fitted curve falls from %.2f to %.2f mmol/L before it rises; that is the curve's doing more often than the athlete's", start, y)
	}
	if mid := q.Lowest/2 + q.Highest/2; !(q.Curve.Predict(mid) < (start+end)/2) {
		q.add(WarnCurveUnbent, nil, "the fitted curve does not bend upward as a lactate curve does")
	}
}

// misfit doubts curves that pass far from the samples, and samples far from the curve.
func (q *doubts) misfit() {
	if q.uncounted() {
		q.add(WarnUncounted, nil, "the curve does not pass through the samples, but says nothing of its degrees of freedom: intervals are wider than they need be, and nothing tells whether the curve misses")
	}
	if sc := q.model().scale; sc.Prior > 0 && sc.DoF > 0 && sc.Sum > (distuv.ChiSquared{K: sc.DoF}).Quantile(missed) {
		shape := "lactate does not rise as this curve does, and then Dmax and rises above a baseline are off by more than their intervals"
		if _, ok := q.Curve.(*curve.Convex); ok {
			shape = "lactate follows no curve of the kinds that are tried"
		}
		const hopeless = 5 // times; ours
		far, trust := math.Sqrt(sc.Sum/sc.DoF), ""
		if far > hopeless {
			trust = "trust no threshold of this test; "
		}
		q.add(WarnCurveMisses, nil, "the samples lie %.1f times as far from the curve as their error explains: %sa sample may be wrong, the error may be larger than stated, or %s", far, trust, shape)
	}
	if q.odd != nil {
		q.found = append(q.found, q.odd.warning(q.Analysis, q.number[q.odd.stage]))
	}
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

// early doubts what depends on a last stage that was not swum, or not sampled.
func (q *doubts) early() {
	if q.test.endsEarly() {
		q.add(WarnEndsEarly, []int{q.number[len(q.number)-1]}, "the samples end at {stage} {1} before the effort was all out: Dmax, and whatever else depends on the last {stage}, lies where it is reported or higher")
	}
}

// order doubts that LT1 lies below LT2.
func (q *doubts) order() {
	if q.LT1.Err != nil || q.LT2.Err != nil {
		return
	}
	sure := q.draws.shareBelow(q.LT1.Method, q.LT2.Method)
	switch {
	case !(q.LT1.Intensity.Value < q.LT2.Intensity.Value):
		q.add(WarnOutOfOrder, nil, "LT1 by %v does not lie below LT2 by %v: nothing lies between them", q.LT1.Method, q.LT2.Method)
	case sure < surelyOrdered:
		q.add(WarnOutOfOrder, nil, "LT1 by %v and LT2 by %v lie closer than their brackets can tell apart: in %.0f of 100 draws LT1 does not lie below LT2", q.LT1.Method, q.LT2.Method, 100*(1-sure))
	case q.baselineUnseen() && q.LT1.Intensity.HasInterval() && q.LT2.Intensity.HasInterval():
		// If LT1 lies inside the test, a bracket of LT2 beyond it will do; if perhaps not, one beyond its own.
		if lt1, low := q.LT1.Intensity, q.LT2.Intensity.Low; low <= lt1.Value || !finite(lt1.Low) && low <= lt1.High {
			q.add(WarnPairUnseen, nil, "the brackets of LT1 and LT2 overlap, and the baseline is not confirmed: this test places neither")
		}
	}
}

// samplesAbove doubts a threshold if a stage below it has more lactate already.
func (q *doubts) samplesAbove() {
	for i, th := range []Threshold{q.LT1, q.LT2} {
		if th.Err != nil {
			continue
		}
		k := slices.IndexFunc(q.stages, func(s Stage) bool { return s.Lactate > th.Lactate.Value+halfDigit })
		if k < 0 || q.stages[k].Intensity >= th.Intensity.Value || q.odd != nil && q.odd.stage == k {
			continue
		}
		sample, level := words.Apart(q.stages[k].Lactate, th.Lactate.Value)
		q.add(WarnSampleAbove, []int{q.number[k]}, "{stage} {1} lies below %[1]s, but its sample, %[2]s mmol/L, is above the lactate at %[1]s already, %[3]s: the sample is high, or %[1]s lies lower than it is reported",
			[...]string{"LT1", "LT2"}[i], sample, level)
	}
}

// chords doubts a Dmax, modified or not, that lies where LT1 does.
func (q *doubts) chords() {
	if q.LT1.Err != nil {
		return
	}
	for _, th := range q.Thresholds {
		if !isDmax(th.Method) || th.Err != nil || th.Method == q.LT1.Method || th.Method == q.LT2.Method {
			continue
		}
		if th.Intensity.Value <= q.LT1.Intensity.Value {
			q.notCounted = append(q.notCounted, th.Method)
			q.add(WarnDmaxLow, nil, "%v does not lie above LT1: it is not counted for LT2", th.Method)
		} else if sure := q.draws.shareBelow(q.LT1.Method, th.Method); sure < surelyOrdered {
			q.notCounted = append(q.notCounted, th.Method)
			q.add(WarnDmaxLow, nil, "%v may lie at or below LT1 (%.0f chances in 100): it is not counted for LT2", th.Method, 100*(1-sure))
		}
	}
}

// oddHeartRate doubts a heart rate that was left out.
func (q *doubts) oddHeartRate() {
	if odd := q.hearts.odd; odd.X > 0 {
		i := slices.IndexFunc(q.given.Stages, func(s Stage) bool { return s.Intensity == odd.X && s.HeartRate > 0 })
		q.add(WarnOddHeartRate, []int{i + 1}, "the heart rate of {stage} {1}, %.0f /min, lies far off those beside it, which lead to %.0f: it is left out", odd.Y, q.hearts.expected)
	}
}

// brackets doubts thresholds at the end of the test, and brackets that it cuts off.
func (q *doubts) brackets() {
	n := len(q.stages)
	last, before := q.stages[n-1].Intensity, q.stages[n-2].Intensity
	for i, th := range []Threshold{q.LT1, q.LT2} {
		name := [...]string{"LT1", "LT2"}[i]
		if th.Err != nil {
			continue // which says so itself
		}
		if th.Intensity.Value > before && before < last {
			q.add(WarnInLastGap, []int{q.number[n-2], q.number[n-1]}, "%s lies between the last two {stages}: a single sample lies above it", name)
		}
		if iv := th.Intensity; iv.HasInterval() && !finite(iv.High) {
			q.add(WarnOpenInterval, nil, "the bracket of %s is cut off by the end of the test", name)
		} else if iv.HasInterval() && !finite(iv.Low) && !q.baselineUnseen() { // which says so
			q.add(WarnOpenInterval, nil, "the bracket of %s is cut off by the start of the test", name)
		}
	}
}
