package between

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
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

// The answers that are followed from day to day: the place of an average day, and LT2.
const (
	shiftAnswer = iota
	lt2Answer
	answers
)

// answer is one linear function of the state at the end of a day, by the filter, and what
// the smoother needs to go on from there.
type answer struct {
	mean, variance float64
	with           []float64 // covariance with all unknowns
	// With r and N of the begin of the next day: with·r, r[0], withᵀN with, (N with)[0], N[0,0].
	r, r0, n, n1, n0 float64
}

// later returns mean and variance some drift later, before the next day.
func (a *answer) later(drift float64) (mean, variance float64) {
	return a.mean + a.r + drift*a.r0, a.variance + drift - (a.n + 2*drift*a.n1 + drift*drift*a.n0)
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

// linearise makes observations of the readings: linear in how far the place of the day is
// from the smoothed one of an average day. Value and slope are means over the day-to-day
// term, and what it bends is noise. To linearise about the smoothed day itself would
// bias place and offsets: there are as many days as readings (Neyman & Scott (1948),
// Econometrica 16:1–32, from memory).
func (r *run) linearise(scores []float64) {
	sh := r.shape
	tau := math.Sqrt(r.Model.days)
	at, weight := [3]float64{-math.Sqrt(3), 0, math.Sqrt(3)}, [3]float64{1. / 6, 2. / 3, 1. / 6}
	for i := range r.days {
		d := &r.days[i]
		for _, k := range d.readings {
			o := &r.samples[k]
			for j := range sh.component {
				o.terms[2+j].times = 0
			}
			var value, slope, square float64
			for n, z := range at {
				spot := sh.spot(r.readings[k].Intensity - d.smooth - z*tau)
				v, s := spot.on(sh.mean)
				for j, c := range sh.component {
					cv, cs := spot.on(c)
					v += scores[j] * cv
					s += scores[j] * cs
					o.terms[2+j].times += weight[n] * cv
				}
				value += weight[n] * v
				slope += weight[n] * s
				square += weight[n] * v * v
			}
			slope = math.Max(slope, 0) // no curve falls because its mean does
			o.terms[0].times, o.terms[1].times = -slope, -slope
			o.value = r.readings[k].Lactate - value - slope*d.smooth
			for j, z := range scores {
				o.value += o.terms[2+j].times * z
			}
			o.noise = r.noise(value) + math.Max(square-value*value-slope*slope*r.Model.days, 0)
			if r.of[k] < 0 {
				o.noise += (1 - shared) * r.off
			}
			if len(r.last.mean) == r.common()+1+r.offsets {
				r.doubt(o, d.smooth)
			}
		}
	}
}

// doubt gives a reading that lies far from the curve so much more noise that the farther it
// lies the less it moves the curve (a redescending weight, as of Hampel and others (1986),
// Robust Statistics, from memory).
func (r *run) doubt(o *observed, place float64) {
	off := o.value
	for _, t := range o.terms[2:] {
		off -= t.times * r.last.mean[t.at]
	}
	slope := o.terms[0].times
	off -= slope * place
	all := o.noise + slope*slope*r.Model.days
	if ratio := off * off / (r.far * r.far * all); ratio > 1 {
		o.noise += all * (ratio - 1)
	}
}

// functional returns the weights of an answer.
func (r *run) functional(k int) []term {
	f := []term{{average, 1}}
	if k == lt2Answer {
		for j, c := range r.shape.lt2by {
			f = append(f, term{constants + len(r.shape.shifts) + j, c})
		}
	}
	return f
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

// keep notes what the smoother says at the end of a day.
func (a *answer) keep(b *backward) {
	a.r, a.r0, a.n, a.n1, a.n0 = 0, b.r[average], 0, 0, b.n[average*b.dim+average]
	for i, v := range a.with {
		a.r += v * b.r[i]
		sum := floats.Dot(b.n[i*b.dim:(i+1)*b.dim], a.with)
		a.n += v * sum
		if i == average {
			a.n1 = sum
		}
	}
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
