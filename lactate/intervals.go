package lactate

import (
	"math"

	"example.com/steptest/lactate/internal/crew"
	"example.com/steptest/lactate/internal/uncertain"
)

// addIntervals puts intervals on every threshold of the analysis.
func (a *Analysis) addIntervals() *draws {
	targets := []*Threshold{&a.LT1, &a.LT2}
	for i := range a.Thresholds {
		targets = append(targets, &a.Thresholds[i])
	}
	// Definitions that occur twice are read once.
	var methods []Method
	once := func(m Method) int {
		i := indexOf(methods, m)
		if i < 0 {
			i = len(methods)
			methods = append(methods, m)
		}
		return i
	}
	own, least := make([]int, len(targets)), make([]int, len(targets))
	for i, th := range targets {
		own[i], least[i] = once(th.Method), -1
		if m, ok := a.leastLevel(th); ok {
			least[i] = once(m)
		}
	}
	d := a.drawThresholds(methods)
	intervals := make([]interval, len(methods))
	buffer := func() []float64 { return make([]float64, a.opts.Resamples) }
	crew.Share(a.opts.done, len(methods), 1, buffer, func(k, _, _ int, buf []float64) {
		intervals[k] = a.summarise(d.intensity[k], d.lactate[k], buf)
	})
	for i, th := range targets {
		s := intervals[own[i]]
		th.Failed, th.Beyond = s.failed, s.beyond
		if th.Err != nil {
			continue
		}
		th.Intensity = s.intensity.about(th.Intensity.Value)
		if fixedLactate(th.Method) {
			th.Lactate = exactly(th.Lactate.Value)
		} else {
			th.Lactate = s.lactate.about(th.Lactate.Value)
		}
		a.unseenEnds(th)
		if k := least[i]; k >= 0 && th.Intensity.HasInterval() && finite(intervals[k].intensity.low) {
			// The level bounds what the unseen baseline has opened.
			th.Intensity.Low = min(intervals[k].intensity.low, th.Intensity.Value)
			th.Lactate.Low = methods[k].(Fixed).Lactate
		}
		if !math.IsNaN(th.HeartRate.Value) {
			beats := th.Intensity.map1(a.hearts.At)
			beats.Low, beats.High = min(beats.Low, beats.High), max(beats.Low, beats.High)
			th.HeartRate = beats.holding()
		}
	}
	return d
}

// interval is what the draws of one method say.
type interval struct {
	intensity, lactate ends
	failed, beyond     int // see Threshold
}

// ends are those of an interval.
type ends struct{ low, high float64 }

// about returns an estimate with these ends, or farther ones if they leave it out.
func (e ends) about(value float64) Estimate { return Estimate{value, e.low, e.high}.holding() }

// unseenEnds opens an interval to the side of a last stage, or of a baseline, that the test does
// not show and the definition rests on.
func (a *Analysis) unseenEnds(th *Threshold) {
	if !th.Intensity.HasInterval() {
		return
	}
	if a.test.endsEarly() && dependsOnLast(th.Method) {
		th.Intensity.High, th.Lactate.High = math.Inf(1), math.Inf(1)
	}
	if a.baselineUnseen() && fromBaseline(th.Method) {
		th.Intensity.Low, th.Lactate.Low = math.Inf(-1), math.Inf(-1)
	}
}

// leastLevel returns the level that a threshold above a baseline that was not seen does not lie
// below.
func (a *Analysis) leastLevel(th *Threshold) (Fixed, bool) {
	m, ok := th.Method.(AboveBaseline)
	if !ok || th.Err != nil || !fromBaseline(m) || !a.baselineUnseen() {
		return Fixed{}, false
	}
	return Fixed{Lactate: min(leastBaseline+m.rise(), th.Lactate.Value)}, true
}

// leastBaseline is how low a baseline that was not seen may lie [mmol/L]: the lowest sample of
// the real riders in testdata/reference/cycling-tests.csv, and the least that many analysers
// print (common practice). TestLowestRealSample checks the first.
const leastBaseline = 0.5

// summarise turns the draws of one method into intervals and counts; buf is as
// long as they are.
func (a *Analysis) summarise(intensity, lactate, buf []float64) interval {
	beyond, none := uncertain.Count(intensity)
	central := func(drawn []float64) (e ends) {
		copy(buf, drawn)
		e.low, e.high = uncertain.Central(buf, a.opts.Confidence)
		return e
	}
	s := interval{intensity: central(intensity), failed: beyond + none, beyond: beyond}
	if lactate != nil {
		s.lactate = central(lactate)
	}
	return s
}
