package lactate

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// WarningKind says what kind of doubt a [Warning] raises.
type WarningKind string

// The doubts that [Analyze] raises.
const (
	FewStages    WarningKind = "few stages"          // fewer than five with a lactate sample
	LostSamples  WarningKind = "lost samples"        // stages without a lactate sample
	NotMaximal   WarningKind = "not maximal"         // the last stage does not look like an all-out effort
	LactateFell  WarningKind = "lactate fell"        // a fall of lactate after it had begun to rise
	CurveDips    WarningKind = "curve dips"          // the fitted curve falls inside the tested range
	CurveUnbent  WarningKind = "curve does not bend" // the fitted curve does not bend upward
	CurveMisses  WarningKind = "curve misses"        // the samples lie farther from the curve than the stated noise explains
	InLastGap    WarningKind = "in last gap"         // a threshold between the last two stages
	OpenInterval WarningKind = "open interval"       // an interval that the tested range cuts off
	WrongOrder   WarningKind = "wrong order"         // LT1 does not lie below LT2
	NoScale      WarningKind = "no scale"            // nothing says how large the noise is, so that there is no interval
)

// Warning is one doubt about an analysis. The zero value is no warning.
type Warning struct {
	Kind WarningKind `json:"kind"`
	Text string      `json:"text"` // one sentence, lower case, no full stop
}

func (w Warning) String() string { return w.Text }

const (
	fewStages = 5
	// An all-out repeat of two to six minutes ends above this lactate in
	// nearly every swimmer: common practice, no source [mmol/L].
	maximalLactate = 6
	// A fall larger than this is not the analyser's last digit [mmol/L].
	fall = 0.2
	// Residuals as large as this have a probability of 1 % where curve and
	// stated noise are right.
	missed = 0.99
)

func (a *Analysis) warnings(t Test) []Warning {
	var out []Warning
	add := func(c WarningKind, format string, args ...any) {
		out = append(out, Warning{c, fmt.Sprintf(format, args...)})
	}
	n := len(a.stages)
	if n < fewStages {
		add(FewStages, "only %d stages have a lactate sample; five or more are needed to see where the curve bends", n)
	}
	if lost := len(t.Stages) - n; lost > 0 {
		add(LostSamples, "%d of %d stages have no lactate sample and are not part of the curve", lost, len(t.Stages))
	}
	given := t.inOrder() // places in the order in which they were given
	last, before := a.stages[n-1], a.stages[n-2]
	switch {
	case last.Lactate < before.Lactate && given[n-1] > given[n-2]:
		add(NotMaximal, "the last stage has less lactate (%.1f mmol/L) than the one before (%.1f): it was not all out, or a sample is wrong", last.Lactate, before.Lactate)
	case last.Lactate < before.Lactate:
		add(NotMaximal, "stage %d, of the highest intensity, has less lactate (%.1f mmol/L) than stage %d (%.1f): it was not all out, or a sample is wrong", given[n-1]+1, last.Lactate, given[n-2]+1, before.Lactate)
	case last.Lactate < maximalLactate:
		add(NotMaximal, "the last stage ends at %.1f mmol/L, which is low for an all-out effort; thresholds that depend on the last stage (Dmax) come out too slow if it was not", last.Lactate)
	}
	lowest := a.stages[0].Lactate
	for i := 1; i < n; i++ {
		prev, cur := a.stages[i-1], a.stages[i]
		if exceeds(prev.Lactate-cur.Lactate, fall) && exceeds(prev.Lactate-lowest, fall) {
			add(LactateFell, "lactate falls from %.1f to %.1f mmol/L between stages %d and %d, after it had begun to rise", prev.Lactate, cur.Lactate, given[i-1]+1, given[i]+1)
		}
		lowest = min(lowest, cur.Lactate)
	}
	if x, y := minimum(a.Curve, a.Lowest, a.Highest); x > a.Lowest {
		if start := a.Curve.Predict(a.Lowest); start-y > 0.05 {
			add(CurveDips, "the fitted curve falls from %.2f to %.2f mmol/L before it rises; that is the curve's doing more often than the athlete's", start, y)
		}
	}
	if mid := a.Lowest/2 + a.Highest/2; !(a.Curve.Predict(mid) < (a.Curve.Predict(a.Lowest)+a.Curve.Predict(a.Highest))/2) {
		add(CurveUnbent, "the fitted curve does not bend upward as a lactate curve does")
	}
	if sc := a.model().scale; sc.Weight > 0 && sc.DoF > 0 && sc.Sum > (distuv.ChiSquared{K: sc.DoF}).Quantile(missed) {
		add(CurveMisses, "the samples lie %.1f times as far from the curve as the stated noise explains: a sample is wrong, the noise is larger, or lactate does not rise as this curve does, and then Dmax and rises above a baseline are off by more than their intervals", math.Sqrt(sc.Sum/sc.DoF))
	}
	if a.LT1.Err == nil && a.LT2.Err == nil && !(a.LT1.Intensity.Value < a.LT2.Intensity.Value) {
		add(WrongOrder, "LT1 by %v does not lie below LT2 by %v, so that nothing lies between them", a.LT1.Method, a.LT2.Method)
	}
	for i, th := range []Threshold{a.LT1, a.LT2} {
		name := [...]string{"LT1", "LT2"}[i]
		if th.Err != nil {
			continue // which says so itself
		}
		if x := th.Intensity.Value; x > before.Intensity && before.Intensity < last.Intensity {
			add(InLastGap, "%s lies between the last two stages, where only the curve's shape speaks", name)
		}
		if iv := th.Intensity; iv.HasInterval() && !(finite(iv.Low) && finite(iv.High)) {
			add(OpenInterval, "the interval of %s is cut off by the end of the tested range", name)
		}
	}
	return out
}
