package between

import (
	"math"
	"slices"
)

// day is one calendar day with tests or readings.
type day struct {
	number   int
	tests    []int
	readings []int // of those that are used
	// What the filter knows at the begin of the day: the place of an average day, and its
	// covariance with all unknowns.
	place float64
	with  []float64
	end   [answers]answer // at its end
	// Smoothed place of an average day, about which readings are linearised.
	smooth float64
}

// run is the filter and smoother over some readings, with one drift. Runs of the same
// readings share their observations and their work space: one goes forward and back before
// the next does.
type run struct {
	*Model
	factor   float64 // of the variance of the stated drift
	readings []Reading
	of       []int // offset of each reading in the state; −1 for one of its own
	offsets  int
	days     []day
	tests    []observed
	samples  []observed // of readings
	last     *state     // after all
	log      float64    // likelihood
	// After the last test.
	atLast    moments
	logAtLast float64
}

// moments are mean and variance of the place of an average day.
type moments struct{ mean, variance float64 }

func (s *state) place() moments { return moments{s.mean[average], s.row(average)[average]} }

// drift returns the variance of the move over some days.
func (r *run) drift(days int) float64 { return r.factor * r.week * float64(days) / 7 }

// again is a run with another drift, with the readings linearised as in r.
func (r *run) again(factor float64) *run {
	c := *r
	c.factor = factor
	c.days = slices.Clone(r.days)
	return &c
}

// newRun makes a run over the used ones of the readings, which are in order of date.
func (m *Model) newRun(readings []Reading, used, of []int, offsets int) *run {
	r := &run{Model: m, factor: 1, readings: readings, of: of, offsets: offsets}
	r.days = m.daysOf(readings, used)
	r.tests, r.samples = make([]observed, len(m.tests)), make([]observed, len(readings))
	n := len(m.shape.shifts)
	for i := range r.tests {
		r.tests[i].terms = []term{{average, 1}, {ofDay, 1}}
		if i > 0 {
			r.tests[i].value = m.shape.shifts[i-1]
			r.tests[i].terms = append(r.tests[i].terms, term{constants + i - 1, -1})
		}
	}
	most := 4 + len(m.shape.component)
	terms := make([]term, most*len(used))
	for i, k := range used {
		ts := terms[i*most : i*most : (i+1)*most]
		ts = append(ts, term{at: average}, term{at: ofDay})
		for j := range m.shape.component {
			ts = append(ts, term{at: constants + n + j})
		}
		ts = append(ts, term{m.common(), 1})
		if of[k] >= 0 {
			ts = append(ts, term{m.common() + 1 + of[k], 1})
		}
		r.samples[k].terms = ts
	}
	r.provide(used)
	return r
}

// daysOf returns the days with tests or used readings, both in order of date.
func (m *Model) daysOf(readings []Reading, used []int) []day {
	days := make([]day, 0, len(m.tests)+len(used))
	tests := make([]int, len(m.tests))
	for i := range tests {
		tests[i] = i
	}
	for len(tests)+len(used) > 0 {
		number := math.MaxInt
		if len(tests) > 0 {
			number = dayOf(m.tests[tests[0]].Date)
		}
		if len(used) > 0 {
			number = min(number, dayOf(readings[used[0]].Date))
		}
		d := day{number: number}
		d.tests, tests = split(tests, func(i int) bool { return dayOf(m.tests[i].Date) > number })
		d.readings, used = split(used, func(i int) bool { return dayOf(readings[i].Date) > number })
		days = append(days, d)
	}
	return days
}

// split cuts a list before the first that is later.
func split(list []int, later func(int) bool) (begin, rest []int) {
	n := slices.IndexFunc(list, later)
	if n < 0 {
		n = len(list)
	}
	return list[:n], list[n:]
}

// provide gives a run its work space.
func (r *run) provide(used []int) {
	dim := r.common() + 1 + r.offsets
	space := make([]float64, dim*(len(r.tests)+len(used)+(1+answers)*len(r.days)))
	take := func() []float64 {
		part := space[:dim:dim]
		space = space[dim:]
		return part
	}
	for i := range r.tests {
		r.tests[i].gain = take()
	}
	for _, k := range used {
		r.samples[k].gain = take()
	}
	for i := range r.days {
		d := &r.days[i]
		d.with = take()
		for k := range d.end {
			d.end[k].with = take()
		}
	}
}

// forward runs the filter; answered asks for what the smoother needs for the answers. each,
// if not nil, is called before and after each reading.
func (r *run) forward(answered bool, each func(reading int, s *state, before bool)) {
	s := r.begin(r.offsets)
	r.log = 0
	learn := func(o *observed) {
		s.update(o)
		r.log -= (math.Log(o.spread) + o.innovation*o.innovation/o.spread) / 2
	}
	fs := [answers][]term{r.functional(shiftAnswer), r.functional(lt2Answer)}
	for i := range r.days {
		d := &r.days[i]
		gap := 0
		if i > 0 {
			gap = d.number - r.days[i-1].number
		}
		s.next(r.drift(gap), r.Model.days)
		d.place = s.mean[average]
		copy(d.with, s.row(average))
		for _, k := range d.tests {
			learn(&r.tests[k])
			if k == len(r.tests)-1 {
				r.atLast, r.logAtLast = s.place(), r.log
			}
		}
		for _, k := range d.readings {
			if each != nil {
				each(k, s, true)
			}
			learn(&r.samples[k])
			if each != nil {
				each(k, s, false)
			}
		}
		for k, f := range fs {
			if !answered {
				break
			}
			a := &d.end[k]
			clear(a.with)
			a.mean, a.variance = 0, 0
			for _, t := range f {
				a.mean += t.times * s.mean[t.at]
				for j, v := range s.row(t.at) {
					a.with[j] += t.times * v
				}
			}
			for _, t := range f {
				a.variance += t.times * a.with[t.at]
			}
		}
	}
	r.last = s
}

// back runs the smoother. It returns how far the places have moved, at most.
func (r *run) back(second bool) (moved float64) {
	b := newBackward(r.last.dim)
	for i := len(r.days) - 1; i >= 0; i-- {
		d := &r.days[i]
		if second {
			for k := range d.end {
				d.end[k].keep(b)
			}
		}
		for k := len(d.readings) - 1; k >= 0; k-- {
			b.past(&r.samples[d.readings[k]], second)
		}
		for k := len(d.tests) - 1; k >= 0; k-- {
			b.past(&r.tests[d.tests[k]], second)
		}
		place := d.place
		for j, v := range d.with {
			place += v * b.r[j]
		}
		moved = math.Max(moved, math.Abs(place-d.smooth))
		d.smooth = place
		b.before()
	}
	return moved
}

// scores returns the scores of the curve after all.
func (r *run) scores() []float64 {
	from := constants + len(r.shape.shifts)
	return r.last.mean[from : from+len(r.shape.component)]
}

// settle linearises and smooths until the places stay.
func (r *run) settle() {
	const (
		most   = 15
		enough = 1e-4
	)
	for range most {
		r.linearise(r.scores())
		r.forward(false, nil)
		if r.back(false) <= enough*r.reference {
			break
		}
	}
}
