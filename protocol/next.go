package protocol

import (
	"fmt"
	"slices"
	"time"

	"example.com/steptest/lactate"
)

// Advice is what to swim next, in the middle of a test. The zero value advises
// nothing.
type Advice struct {
	// Next is the repeat to swim now; its Number is zero where none is left.
	Next Target `json:"next"`
	// Left is how many repeats are left, Next among them.
	Left int `json:"left"`
	// Enough says that enough has been learned: with the last, all-out repeat
	// as the next, the interval would be wider by no more than Rules.Enough
	// than after all that are left. Next is still the next of all that are
	// left: whether to go all out is for the swimmer to say.
	Enough bool `json:"enough,omitzero"`
	// Width of the expected interval of what is aimed at [m/s]: after all
	// repeats that are left, and with the all-out repeat next. Zero where none
	// is left, and where so many samples are lost that fewer than four remain,
	// those to come among them: the targets are then even steps.
	Width       float64 `json:"width_m_per_s,omitzero"`
	AllOutWidth float64 `json:"all_out_width_m_per_s,omitzero"`
	// Plan is the test as it stands: what was swum, and new targets for the
	// rest.
	Plan Plan `json:"plan"`
}

// NextRepeat places the repeats that are left of a test, given those that were
// swum: [Plan.Better] once more, with the lactates of today as further evidence
// of the curve. Repeats are swum in order; the first that has no time in the
// record is the next. A repeat without lactate counts as lost, but the latest as
// one whose sample is still in the analyser. Where the latest was so fast that
// those left no longer fit below the last, the last, all-out repeat is the next.
//
// The search is that of Better, with its limits and its error, which also says
// where the record is not of this plan.
func (p Plan) NextRepeat(r Record, aim Aim, e Expected, o lactate.Options, rules Rules) (*Advice, error) {
	o, err := withDefaults(o)
	if err != nil {
		return nil, err
	}
	if err := p.forecastable(4); err != nil {
		return nil, err
	}
	if err := p.searchable(aim); err != nil {
		return nil, err
	}
	rules, err = rules.withDefaults(p)
	if err != nil {
		return nil, err
	}
	if _, err := p.Match(r); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrForecast, err)
	}
	swum, today, err := p.swumSoFar(r)
	if err != nil {
		return nil, err
	}
	n := len(p.Repeats)
	a := &Advice{Left: n - swum, Plan: p.asSwum(r, swum)}
	if a.Left == 0 {
		return a, nil
	}
	if a.Left == 1 {
		a.Next, a.Enough = a.Plan.Repeats[n-1], true
		return a, nil
	}
	// points are the repeats that give a sample.
	points := Plan{Pool: p.Pool}
	for i, t := range a.Plan.Repeats {
		if i >= swum-1 || slices.Contains(today, t.Number) {
			points.Repeats = append(points.Repeats, t)
		}
	}
	known, err := e.belief(p.final(), sampledStages(r, today), o)
	if err != nil {
		return nil, err
	}
	if err := a.place(p, points, swum, aim, e, known, o, rules); err != nil {
		return nil, err
	}
	return a, nil
}

// swumSoFar returns how many repeats were swum, which of them have a sample,
// and whether they were swum in order, each faster than the last.
func (p Plan) swumSoFar(r Record) (swum int, sampled []int, err error) {
	last := time.Duration(0)
	for i, t := range p.Repeats {
		k := slices.IndexFunc(r.Repeats, func(rep Repeat) bool { return rep.Number == t.Number && rep.Time > 0 })
		if k < 0 {
			continue
		}
		rep := r.Repeats[k]
		if i != swum {
			return 0, nil, fmt.Errorf("%w: repeat %d was swum before repeat %d", ErrForecast, t.Number, p.Repeats[swum].Number)
		}
		if swum > 0 && rep.Time >= last {
			return 0, nil, fmt.Errorf("%w: repeat %d was not faster than the one before", ErrForecast, t.Number)
		}
		swum, last = swum+1, rep.Time
		if rep.Lactate > 0 {
			sampled = append(sampled, t.Number)
		}
	}
	return swum, sampled, nil
}

// asSwum returns the plan with the times swum in place of targets.
func (p Plan) asSwum(r Record, swum int) Plan {
	times := p.times()
	for i := range swum {
		for _, rep := range r.Repeats {
			if rep.Number == p.Repeats[i].Number {
				times[i] = rep.Time
			}
		}
	}
	return p.with(times)
}

func sampledStages(r Record, numbers []int) []lactate.Stage {
	var out []lactate.Stage
	for _, rep := range r.Repeats {
		if v, err := rep.Speed(); err == nil && slices.Contains(numbers, rep.Number) {
			out = append(out, lactate.Stage{Intensity: v.MetresPerSecond(), Lactate: rep.Lactate, Duration: rep.Time})
		}
	}
	return out
}

// place searches for the targets that are left.
func (a *Advice) place(p, points Plan, swum int, aim Aim, e Expected, known belief, o lactate.Options, r Rules) error {
	all, err := known.candidates(searchNodes)
	if err != nil {
		return err
	}
	n := len(points.Repeats)
	fixed := n - a.Left // those that were swum
	times := points.times()
	if fixed > 0 {
		rest := evenTimes(times[fixed-1:], r.Round)
		if !feasible(rest, 1, r.Least) {
			// What was swum is too near the end for all that are left.
			a.Next = p.Repeats[len(p.Repeats)-1]
			a.Next.Leave = a.Plan.Repeats[swum].Leave
			a.Enough = true
			return nil
		}
		copy(times[fixed-1:], rest)
	} else {
		times, fixed = evenTimes(times, r.Round), 1
	}
	even := points.with(times)
	if n < 4 { // too many samples are lost for a search: even steps
		a.take(times, swum)
		return nil
	}
	s, err := newSearch(even, all, e, o, aim)
	if err != nil {
		return err
	}
	best, ok := s.run(times, fixed, r)
	if !ok {
		return fmt.Errorf("%w: %d repeats that are %s apart do not fit below what was swum", ErrForecast, a.Left, r.Least)
	}
	a.take(best, swum)
	a.Width = s.width(best, aim, o)
	// The same with the last repeat next, where that leaves a curve.
	if short := append(slices.Clone(best[:n-a.Left]), best[n-1]); len(short) >= 4 {
		a.AllOutWidth = s.width(short, aim, o)
		a.Enough = a.AllOutWidth > 0 && a.AllOutWidth <= (1+r.Enough)*a.Width
	}
	return nil
}

// take puts the last of some times into the plan, for those that are left.
func (a *Advice) take(times []time.Duration, swum int) {
	full := a.Plan.times()
	copy(full[len(full)-a.Left:], times[len(times)-a.Left:])
	a.Plan = a.Plan.with(full)
	a.Next = a.Plan.Repeats[swum]
}

// width returns the expected width of the interval of the aim, or zero where
// the times do not determine it.
func (s *search) width(times []time.Duration, aim Aim, o lactate.Options) float64 {
	sum, total := 0.0, 0.0
	for i, c := range s.all {
		sd, ok := s.errors(i, times)
		if !ok {
			return 0
		}
		sum += c.weight * sd[aim]
		total += c.weight
	}
	dof := priorWeight(o.Noise) + float64(len(times)-3)
	if aim == NarrowShift {
		dof += float64(len(s.earlier[0]) - 1)
	}
	if !(dof > 0) {
		return 0
	}
	return 2 * quantile(dof, 1-(1-o.Confidence)/2) * sum / total
}
