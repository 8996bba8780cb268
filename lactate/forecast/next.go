package forecast

import (
	"fmt"
	"math"
	"slices"
	"time"

	"example.com/steptest/lactate"
)

// Advice is what to swim next, in the middle of a test. The zero value advises
// nothing.
type Advice struct {
	// Stages are the test as it stands: what was swum, and the targets of the rest.
	Stages []lactate.Stage `json:"stages"`
	// Next is the index of the stage to swim now; −1 if none is left.
	Next int `json:"next"`
	// Left is how many stages are left, Next among them.
	Left int `json:"left"`
	// Reason says why the targets are what they are.
	Reason Reason `json:"reason"`
	// Enough says that enough has been learned: with the last, all-out stage as the
	// next, neither interval would be wider by more than Rules.Enough than after all
	// that are left. Next is still the next of all that are left: going all
	// out is the swimmer's choice.
	Enough bool `json:"enough,omitzero"`
	// LT1 and LT2 are the expected widths of their intervals [m/s]. Zero with Rules.Keep, if nothing was
	// swum yet, if no more than the last stage is left, and if so many samples are lost that fewer than four
	// remain, those to come among them.
	LT1 Widths `json:"lt1"`
	LT2 Widths `json:"lt2"`
	// Lactate is what the sample of Next is expected to show [mmol/L], with the interval
	// that holds it at Options.Confidence: that of [Sample].
	Lactate lactate.Estimate `json:"lactate_mmol_per_l,omitzero"`
}

// Widths are those of the expected interval of one threshold (m/s). The zero value
// says that none is expected.
type Widths struct {
	// All is after all stages that are left, AllOut with the all-out stage next; zero
	// if that leaves too few.
	All    float64 `json:"all_m_per_s,omitzero"`
	AllOut float64 `json:"all_out_m_per_s,omitzero"`
}

// Next says how to go on with a test, given the first of its stages as they were swum,
// with the lactates of today as further evidence of the curve. A stage without lactate
// counts as lost, but the latest as one whose sample is still in the analyser.
//
// Targets stay as planned if what was swum leaves room for them. After three samples or
// more they change if another spacing narrows LT1 and LT2 by a twentieth each. If the
// latest stage was so fast that the others no longer fit before the all-out stage, the
// all-out stage is next.
//
// It has the limits and the error of [Space]. A stage that was not faster than the one
// before is a [*StageError].
func Next(stages, swum []lactate.Stage, e Expected, o lactate.Options, r Rules) (*Advice, error) {
	o, r, distance, err := searching(stages, o, r)
	if err != nil {
		return nil, err
	}
	if err := checkSwum(stages, swum); err != nil {
		return nil, err
	}
	a := &Advice{Left: len(stages) - len(swum), Next: len(swum), Stages: slices.Concat(swum, stages[len(swum):])}
	if a.Left == 0 {
		a.Next = -1
		return a, nil
	}
	if a.Left == 1 {
		a.Enough = true
	} else if err := a.place(distance, swum, e, o, r); err != nil {
		return nil, err
	}
	a.Lactate, err = Sample(stages, swum, a.Stages[a.Next].Intensity, e, o)
	if err != nil {
		return nil, err
	}
	return a, nil
}

// learned is how many samples of the day it takes to change a plan for what they say.
const learned = 3

// checkSwum reports whether the stages were swum as the first of a test.
func checkSwum(stages, swum []lactate.Stage) error {
	if len(swum) > len(stages) {
		return fmt.Errorf("%w: found %d that were swum, want %d or fewer", ErrNoAnswer, len(swum), len(stages))
	}
	if err := (lactate.Test{Stages: swum}).Check(); err != nil {
		return fmt.Errorf("%w: %w", ErrNoAnswer, err)
	}
	for i, s := range swum {
		switch {
		case s.Duration == 0:
			return &StageError{Index: i, Problem: "was swum and has no duration"}
		case i > 0 && s.Duration >= swum[i-1].Duration:
			return &StageError{Index: i, Problem: "was not faster than the one before"}
		}
	}
	return nil
}

// place finds the targets that are left.
func (a *Advice) place(distance float64, swum []lactate.Stage, e Expected, o lactate.Options, r Rules) error {
	times := durations(a.Stages)
	n, fixed := len(times), max(len(swum), 1)
	if len(swum) > 0 && !feasible(times, fixed, r.Least) {
		copy(times[fixed-1:], evenly(times[fixed-1:], r.Round))
		if !feasible(times, fixed, r.Least) {
			// What was swum is too near the end for all that are left.
			a.Next, a.Enough, a.Reason = n-1, true, NoRoom
			return nil
		}
		a.Reason = SpreadAnew
	}
	a.take(distance, times)
	if len(swum) == 0 || r.Keep { // nothing is learned yet, or asked for
		return nil
	}
	b, err := e.belief(a.Stages, lactate.Test{Stages: swum}.Sampled(), o)
	if err != nil {
		return err
	}
	sampled := a.Left
	for i, s := range swum {
		if s.Lactate > 0 || i == len(swum)-1 {
			sampled++
		}
	}
	if sampled < leastStages { // too many samples are lost to say how wide
		return nil
	}
	s := b.search(distance, n, swum, o, r)
	if err := s.found(times); err != nil {
		return err
	}
	now := s.full.run(over(distance, times))
	best, ok := times, sampled-a.Left >= learned
	if ok {
		best, ok = s.run(times, fixed)
	}
	if ok && !slices.Equal(best, times) {
		spaced := s.full.run(over(distance, best))
		if max(spaced[0].cost/now[0].cost, spaced[1].cost/now[1].cost) <= worthwhile {
			now = spaced
			a.Reason = Narrower
			a.take(distance, best)
		}
	}
	a.LT1.All, a.LT2.All = now[0].cost, now[1].cost
	// The same with the last stage next, if that leaves a curve.
	if sampled-a.Left+1 < leastStages {
		return nil
	}
	short := slices.Concat(a.Stages[:len(swum)], a.Stages[n-1:])
	soon := s.full.run(short)
	a.LT1.AllOut, a.LT2.AllOut = soon[0].cost, soon[1].cost
	a.Enough = soon[0].cost <= (1+r.Enough)*now[0].cost && soon[1].cost <= (1+r.Enough)*now[1].cost
	return nil
}

// take puts the last of some times into the stages that are left.
func (a *Advice) take(distance float64, times []time.Duration) {
	copy(a.Stages[len(a.Stages)-a.Left:], over(distance, times[len(times)-a.Left:]))
}

// Sample returns the lactate that the next stage is expected to show at an intensity
// (mmol/L), with the interval that holds it at Options.Confidence, given the stages
// that were swum before it. The error is that of [Next].
func Sample(stages, swum []lactate.Stage, intensity float64, e Expected, o lactate.Options) (lactate.Estimate, error) {
	var none lactate.Estimate
	o, err := options(o)
	if err != nil {
		return none, err
	}
	if err := check(stages); err != nil {
		return none, err
	}
	if !(intensity >= slowest && intensity <= fastest) {
		return none, fmt.Errorf("%w: found a speed of %.4g m/s, want one of %g to %g m/s", ErrNoAnswer, intensity, slowest, fastest)
	}
	b, err := e.belief(stages, lactate.Test{Stages: swum}.Sampled(), o)
	if err != nil {
		return none, err
	}
	const draws = 2000
	at := lactate.Stage{Intensity: intensity}
	rng := b.stream()
	values := make([]float64, draws)
	mean := 0.0
	for i, t := range b.truths(draws) {
		values[i] = t.sample(at, o.Noise, rng.NormFloat64())
		mean += t.lactate(intensity) / draws
	}
	slices.Sort(values)
	at5 := func(p float64) float64 { return values[int(math.Round(p*(draws-1)))] }
	tail := (1 - o.Confidence) / 2
	return lactate.Estimate{Value: mean, Low: at5(tail), High: at5(1 - tail)}, nil
}
