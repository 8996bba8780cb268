package lactate

import (
	"encoding/json"
	"slices"

	"example.com/steptest/lactate/internal/uncertain"
	"example.com/steptest/lactate/internal/words"
)

// ThresholdChange is how far one threshold moved. That is not how far the curve moved, which is
// [Change.Shift]: a threshold also changes with the stages of the two tests, and Dmax on an
// exponential with them and the rate alone.
type ThresholdChange struct {
	Method Method
	// Before and After are the two readings, Change their difference, with an interval from
	// the resamples of both tests.
	Before, After, Change Estimate
	// Unseen is the number of resamples in which one of the tests had no such threshold, or
	// both beyond the same end of the tested range; they are excluded from the interval.
	Unseen int
	// Err says why one of the tests has no such threshold.
	Err error
}

// LevelChange is what happened at one intensity.
type LevelChange struct {
	Intensity float64
	// Lactate of the fitted curves [mmol/L], with intervals from the resamples.
	LactateBefore, LactateAfter, LactateChange Estimate
	// Heart rate [1/min], read between stages along straight lines, NaN where not taken.
	HeartRateBefore, HeartRateAfter, HeartRateChange float64
}

func (c *Change) compareThresholds(drawn [2]*draws, o Options) {
	pairs := [][2]Threshold{{c.Before.LT1, c.After.LT1}, {c.Before.LT2, c.After.LT2}}
	for i := range c.Before.Thresholds {
		pairs = append(pairs, [2]Threshold{c.Before.Thresholds[i], c.After.Thresholds[i]})
	}
	for _, p := range pairs {
		tc := ThresholdChange{Method: p[0].Method, Before: p[0].Intensity, After: p[1].Intensity, Change: none()}
		switch {
		case p[0].Err != nil:
			tc.Err = p[0].Err
		case p[1].Err != nil:
			tc.Err = p[1].Err
		default:
			tc.Change = exactly(tc.After.Value - tc.Before.Value)
			// Either test may have no draws, where nothing says how large its
			// noise is.
			if drawn[0] != nil && drawn[1] != nil {
				// A method that cannot be compared has its own draws nowhere;
				// its interval stays open.
				if i, k := indexOf(drawn[0].methods, tc.Method), indexOf(drawn[1].methods, tc.Method); i >= 0 && k >= 0 {
					tc.Change.Low, tc.Change.High, tc.Unseen = uncertain.Differences(drawn[0].intensity[i], drawn[1].intensity[k], o.Confidence)
				}
			}
		}
		c.Thresholds = append(c.Thresholds, tc)
	}
}

func (c *Change) compareLevels(o Options) {
	lo, hi := max(c.Before.Lowest, c.After.Lowest), min(c.Before.Highest, c.After.Highest)
	var xs []float64
	for _, s := range c.Before.stages {
		xs = append(xs, s.Intensity)
	}
	for _, th := range []Threshold{c.Before.LT1, c.Before.LT2} {
		if th.Err == nil {
			xs = append(xs, th.Intensity.Value)
		}
	}
	xs = slices.DeleteFunc(xs, func(x float64) bool { return x < lo || x > hi })
	slices.Sort(xs)
	xs = slices.Compact(xs)
	var before, after [][]float64
	if o.Resamples > 0 {
		before, after = c.Before.drawCurve(xs), c.After.drawCurve(xs)
	}
	for i, x := range xs {
		l := LevelChange{
			Intensity:       x,
			LactateBefore:   exactly(c.Before.Curve.Predict(x)),
			LactateAfter:    exactly(c.After.Curve.Predict(x)),
			HeartRateBefore: c.Before.hearts.At(x),
			HeartRateAfter:  c.After.hearts.At(x),
		}
		l.LactateChange = exactly(l.LactateAfter.Value - l.LactateBefore.Value)
		l.HeartRateChange = l.HeartRateAfter - l.HeartRateBefore
		if before != nil {
			// First the differences, which need the draws in their order.
			l.LactateChange.Low, l.LactateChange.High, _ = uncertain.Differences(before[i], after[i], o.Confidence)
			l.LactateBefore.Low, l.LactateBefore.High = uncertain.Central(before[i], o.Confidence)
			l.LactateAfter.Low, l.LactateAfter.High = uncertain.Central(after[i], o.Confidence)
		}
		c.Levels = append(c.Levels, l)
	}
}

// MarshalJSON writes method, readings and change, or the error in words.
func (tc ThresholdChange) MarshalJSON() ([]byte, error) {
	out := struct {
		Method string    `json:"method"`
		Before *Estimate `json:"before,omitempty"`
		After  *Estimate `json:"after,omitempty"`
		Change *Estimate `json:"change,omitempty"`
		Unseen int       `json:"unseen_resamples,omitempty"`
		Err    string    `json:"error,omitempty"`
	}{Unseen: tc.Unseen}
	if tc.Method != nil {
		out.Method = tc.Method.String()
	}
	if tc.Err != nil {
		out.Err = tc.Err.Error()
	} else {
		out.Before, out.After, out.Change = &tc.Before, &tc.After, &tc.Change
	}
	return json.Marshal(out)
}

// MarshalJSON writes the changes and leaves out heart rates not taken.
func (l LevelChange) MarshalJSON() ([]byte, error) {
	out := struct {
		Intensity       float64  `json:"intensity"`
		LactateBefore   Estimate `json:"lactate_before_mmol_per_l"`
		LactateAfter    Estimate `json:"lactate_after_mmol_per_l"`
		LactateChange   Estimate `json:"lactate_change_mmol_per_l"`
		HeartRateBefore *float64 `json:"heart_rate_before_per_min,omitempty"`
		HeartRateAfter  *float64 `json:"heart_rate_after_per_min,omitempty"`
		HeartRateChange *float64 `json:"heart_rate_change_per_min,omitempty"`
	}{l.Intensity, l.LactateBefore, l.LactateAfter, l.LactateChange, words.Known(l.HeartRateBefore), words.Known(l.HeartRateAfter), words.Known(l.HeartRateChange)}
	return json.Marshal(out)
}
