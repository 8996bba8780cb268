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
	var unique draws
	once := func(m Method) int {
		i := unique.index(m)
		if i < 0 {
			i = len(unique.methods)
			unique.methods = append(unique.methods, m)
		}
		return i
	}
	index, floor := make([]int, len(targets)), make([]int, len(targets))
	for i, th := range targets {
		index[i], floor[i] = once(th.Method), -1
		if m, ok := a.floor(th); ok {
			floor[i] = once(m)
		}
	}
	d := a.drawThresholds(unique.methods)
	intervals := make([]Threshold, len(d.methods))
	buffer := func() []float64 { return make([]float64, a.opts.Resamples) }
	crew.Share(a.opts.done, len(d.methods), 1, buffer, func(k, _, _ int, buf []float64) {
		intervals[k] = a.summarise(d.intensity[k], d.lactate[k], buf)
	})
	for i, th := range targets {
		s := intervals[index[i]]
		th.Failed, th.Beyond = s.Failed, s.Beyond
		if th.Err != nil {
			continue
		}
		s.Intensity.Value, s.Lactate.Value = th.Intensity.Value, th.Lactate.Value
		th.Intensity, th.Lactate = s.Intensity.holding(), s.Lactate.holding()
		if fixedLactate(th.Method) {
			th.Lactate = exactly(th.Lactate.Value)
		}
		a.unseenEnds(th)
		if k := floor[i]; k >= 0 && th.Intensity.HasInterval() && finite(intervals[k].Intensity.Low) {
			th.Intensity.Low = min(intervals[k].Intensity.Low, th.Intensity.Value)
			th.Lactate.Low = unique.methods[k].(Fixed).Lactate
		}
		if !math.IsNaN(th.HeartRate.Value) {
			beats := th.Intensity.map1(a.hearts.At)
			beats.Low, beats.High = min(beats.Low, beats.High), max(beats.Low, beats.High)
			th.HeartRate = beats.holding()
		}
	}
	return d
}

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

// floor returns the level that a threshold above a baseline that was not seen does not lie below.
func (a *Analysis) floor(th *Threshold) (Fixed, bool) {
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
func (a *Analysis) summarise(intensity, lactate, buf []float64) Threshold {
	var s Threshold
	var none int
	s.Beyond, none = uncertain.Count(intensity)
	s.Failed = s.Beyond + none
	copy(buf, intensity)
	s.Intensity.Low, s.Intensity.High = uncertain.Central(buf, a.opts.Confidence)
	if lactate != nil {
		copy(buf, lactate)
		s.Lactate.Low, s.Lactate.High = uncertain.Central(buf, a.opts.Confidence)
	}
	return s
}
