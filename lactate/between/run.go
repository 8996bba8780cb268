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

// run is the filter and smoother over some readings, with one drift.
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
	c.days, c.tests, c.samples = slices.Clone(r.days), slices.Clone(r.tests), slices.Clone(r.samples)
	c.provide()
	return &c
}

// provide gives a run work space of its own.
func (r *run) provide() {
	dim := r.common() + 1 + r.offsets
	space := make([]float64, dim*(len(r.tests)+len(r.samples)+(1+answers)*len(r.days)))
	take := func() []float64 {
		part := space[:dim:dim]
		space = space[dim:]
		return part
	}
	for i := range r.tests {
		r.tests[i].gain = take()
	}
	for i := range r.samples {
		r.samples[i].gain = take()
	}
	for i := range r.days {
		d := &r.days[i]
		d.with = take()
		for k := range d.end {
			d.end[k].with = take()
		}
	}
}

func (m *Model) newRun(readings []Reading, used []bool, of []int, offsets int) *run {
	r := &run{Model: m, factor: 1, readings: readings, of: of, offsets: offsets}
	at := map[int]int{}
	on := func(n int) *day {
		i, ok := at[n]
		if !ok {
			i = len(r.days)
			at[n] = i
			r.days = append(r.days, day{number: n})
		}
		return &r.days[i]
	}
	for i, t := range m.tests {
		d := on(dayOf(t.Date))
		d.tests = append(d.tests, i)
	}
	for i := range readings {
		if used[i] {
			d := on(dayOf(readings[i].Date))
			d.readings = append(d.readings, i)
		}
	}
	slices.SortFunc(r.days, func(a, b day) int { return a.number - b.number })
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
	terms := make([]term, most*len(r.samples))
	for i := range r.samples {
		ts := terms[i*most : i*most : (i+1)*most]
		ts = append(ts, term{at: average}, term{at: ofDay})
		for j := range m.shape.component {
			ts = append(ts, term{at: constants + n + j})
		}
		ts = append(ts, term{m.common(), 1})
		if of[i] >= 0 {
			ts = append(ts, term{m.common() + 1 + of[i], 1})
		}
		r.samples[i].terms = ts
	}
	r.provide()
	return r
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
