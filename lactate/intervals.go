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
	own, unseen := make([]int, len(targets)), make([]int, len(targets))
	for i, th := range targets {
		own[i], unseen[i] = once(th.Method), -1
		if m, ok := th.Method.(AboveBaseline); ok && fromBaseline(m) && a.baselineUnseen() {
			unseen[i] = once(aboveUnseen{m.rise()})
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
		th.Intensity = Estimate{th.Intensity.Value, s.intensity.Low, s.intensity.High}.holding()
		if fixedLactate(th.Method) {
			th.Lactate = exactly(th.Lactate.Value)
		} else {
			th.Lactate = Estimate{th.Lactate.Value, s.lactate.Low, s.lactate.High}.holding()
		}
		a.unseenEnds(th)
		if k := unseen[i]; k >= 0 && th.Intensity.HasInterval() && finite(intervals[k].intensity.Low) {
			th.Intensity.Low = min(intervals[k].intensity.Low, th.Intensity.Value)
			th.Lactate.Low = min(intervals[k].lactate.Low, th.Lactate.Value)
		}
		if !math.IsNaN(th.HeartRate.Value) {
			beats := th.Intensity.map1(a.hearts.At)
			beats.Low, beats.High = min(beats.Low, beats.High), max(beats.Low, beats.High)
			th.HeartRate = beats.holding()
		}
	}
	return d
}

// interval is what the draws of one method say; the values are not set.
type interval struct {
	intensity, lactate Estimate
	failed, beyond     int // see Threshold
}

// unseenEnds opens an interval to the side of a last stage, or of a baseline, that the test does
// not show and the definition rests on; aboveUnseen may close the second.
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

// aboveUnseen stands among methods to draw for a rise above a baseline that the test does not show:
// anywhere from [leastBaseline] to where the curve starts, all alike likely: our
// assumption.
type aboveUnseen struct{ rise float64 }

// at is the level of one draw, in which the curve starts at a lactate; u is from 0 to 1.
func (m aboveUnseen) at(start, u float64) Fixed {
	return Fixed{Lactate: start - u*max(start-leastBaseline, 0) + m.rise}
}

// Locate is not called: it takes a random number, too.
func (m aboveUnseen) Locate(Test, Curve) (float64, error) { return 0, ErrMissing }

func (m aboveUnseen) String() string { return "above a baseline not seen" }

// leastBaseline is how low a baseline that was not seen may lie [mmol/L]: the lowest sample of
// the real riders in testdata/reference/cycling-tests.csv, and the least that many analysers
// print (common practice). TestLowestRealSample checks the first.
const leastBaseline = 0.5

// summarise turns the draws of one method into intervals and counts; buf is as
// long as they are.
func (a *Analysis) summarise(intensity, lactate, buf []float64) interval {
	beyond, none := uncertain.Count(intensity)
	central := func(drawn []float64) (e Estimate) {
		copy(buf, drawn)
		e.Low, e.High = uncertain.Central(buf, a.opts.Confidence)
		return e
	}
	s := interval{intensity: central(intensity), failed: beyond + none, beyond: beyond}
	if lactate != nil {
		s.lactate = central(lactate)
	}
	return s
}
