package forecast

import (
	"fmt"
	"slices"
	"time"

	"example.com/steptest/lactate"
)

// Advice is what to swim next, in the middle of a test. The zero value advises
// nothing.
type Advice struct {
	// Stages are the test as it stands: what was swum, and new targets for the rest.
	Stages []lactate.Stage `json:"stages"`
	// Next is the index of the stage to swim now; −1 if none is left.
	Next int `json:"next"`
	// Left is how many stages are left, Next among them.
	Left int `json:"left"`
	// Enough says that enough has been learned: with the last, all-out stage as the
	// next, the interval would be wider by no more than Rules.Enough than after all
	// that are left. Next is still the next of all that are left: going all
	// out is the swimmer's choice.
	Enough bool `json:"enough,omitzero"`
	// Width of the expected interval of what is aimed at [m/s]: after all stages
	// that are left, and with the all-out stage next. Zero if none is left, and if
	// so many samples are lost that fewer than four remain, those to come among
	// them: the targets are then even steps.
	Width       float64 `json:"width_m_per_s,omitzero"`
	AllOutWidth float64 `json:"all_out_width_m_per_s,omitzero"`
}

// Next places the stages that are left of a test, given the first of them as they
// were swum: [Better] once more, with the lactates of today as further evidence of
// the curve. A stage without lactate counts as lost, but the latest as one whose
// sample is still in the analyser. If the latest was so fast that those left no
// longer fit below the last, the last, all-out stage is the next.
//
// The search is that of Better, with its limits and its error. A stage that was not
// faster than the one before is a [*StageError].
func Next(stages, swum []lactate.Stage, aim Aim, e Expected, o lactate.Options, r Rules) (*Advice, error) {
	o, err := options(o)
	if err != nil {
		return nil, err
	}
	if err := check(stages); err != nil {
		return nil, err
	}
	distance, err := searchable(stages, aim)
	if err != nil {
		return nil, err
	}
	r, err = r.withDefaults(distance)
	if err != nil {
		return nil, err
	}
	if err := checkSwum(stages, swum); err != nil {
		return nil, err
	}
	n := len(stages)
	a := &Advice{Left: n - len(swum), Next: len(swum), Stages: slices.Concat(swum, stages[len(swum):])}
	if a.Left == 0 {
		a.Next = -1
		return a, nil
	}
	if a.Left == 1 {
		a.Enough = true
		return a, nil
	}
	p, err := e.posterior(final(stages), lactate.Test{Stages: swum}.Sampled(), o)
	if err != nil {
		return nil, err
	}
	if err := a.place(distance, len(swum), aim, e, p, o, r); err != nil {
		return nil, err
	}
	return a, nil
}

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

// place searches for the targets that are left.
func (a *Advice) place(distance float64, swum int, aim Aim, e Expected, p posterior, o lactate.Options, r Rules) error {
	all, err := p.candidates(searchNodes)
	if err != nil {
		return err
	}
	var times []time.Duration // of the stages that give a sample
	for i, s := range a.Stages {
		if i >= swum-1 || s.Lactate > 0 {
			times = append(times, s.Duration)
		}
	}
	n := len(times)
	fixed := n - a.Left // those that were swum
	if fixed > 0 {
		rest := evenly(times[fixed-1:], r.Round)
		if !feasible(rest, 1, r.Least) {
			// What was swum is too near the end for all that are left.
			a.Next, a.Enough = len(a.Stages)-1, true
			return nil
		}
		copy(times[fixed-1:], rest)
	} else {
		times, fixed = evenly(times, r.Round), 1
	}
	if n < leastStages { // too many samples are lost for a search: even steps
		a.take(distance, times)
		return nil
	}
	s, err := newSearch(distance, times, all, e, o, aim)
	if err != nil {
		return err
	}
	best, ok := s.run(times, fixed, r)
	if !ok {
		return fmt.Errorf("%w: the targets of %d that are left, %s apart, do not fit below what was swum", ErrNoAnswer, a.Left, r.Least)
	}
	a.take(distance, best)
	a.Width = s.width(best, o)
	// The same with the last stage next, if that leaves a curve.
	if short := append(slices.Clone(best[:n-a.Left]), best[n-1]); len(short) >= leastStages {
		a.AllOutWidth = s.width(short, o)
		a.Enough = a.AllOutWidth > 0 && a.AllOutWidth <= (1+r.Enough)*a.Width
	}
	return nil
}

// take puts the last of some times into the stages that are left.
func (a *Advice) take(distance float64, times []time.Duration) {
	copy(a.Stages[len(a.Stages)-a.Left:], over(distance, times[len(times)-a.Left:]))
}
