package between

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"time"

	"example.com/steptest/lactate"
	"gonum.org/v1/gonum/stat/distuv"
)

// Course is where the curve was and is, by the tests and the readings. The zero value,
// and one that is not from [Model.Follow], knows no place.
type Course struct {
	// Readings has what each reading told, in order of date.
	Readings []Told `json:"readings"`
	// Kinds has the offset of each kind of repeat, and analyser.
	Kinds []Kind `json:"kinds,omitempty"`
	// Reference is the intensity of which drift, days and Options.Matters are shares: LT2 of
	// the first test, or the middle of its range.
	Reference float64 `json:"reference"`
	// Confidence of the brackets.
	Confidence float64 `json:"confidence"`
	// Warnings are doubts about the readings.
	Warnings []lactate.Warning `json:"warnings,omitempty"`

	all, alone runs
	model      *Model
	half       float64 // of a bracket, in standard deviations
}

// Kind is what one kind of training repeat adds to the lactate of a test at the same
// intensity.
type Kind struct {
	Kind     string `json:"kind"`
	Analyser string `json:"analyser,omitzero"`
	// Readings is how many of the kind are used.
	Readings int `json:"readings"`
	// Offset with its bracket [mmol/L]. NaN if there is one reading only: then it takes
	// any offset.
	Offset lactate.Estimate `json:"offset_mmol_per_l"`
}

// Place is where the curve is on an average day about a date.
type Place struct {
	Date time.Time `json:"date"`
	// Shift is how far the curve lies to the right of that of the first test, on its day.
	Shift lactate.Estimate `json:"shift"`
	// LT2 is the place of LT2 by the definition of the options. NaN if most curves have
	// none inside the tested range.
	LT2 lactate.Estimate `json:"lt2"`
}

// maxKinds bounds the state, in which each kind of two readings or more has a place.
const maxKinds = 60

// Follow finds where the curve was and is. Readings come in any order; those of a day
// share its day-to-day term. Those that cannot be used are told so in the answer. No
// reading at all is allowed.
//
// The error joins one for each value that cannot be right; it is also not nil for more than
// 60 kinds of two readings or more, and for a model that is not from [New].
func (m *Model) Follow(readings []Reading) (*Course, error) {
	if m.shape == nil {
		return nil, errors.New("between: found a model without tests, want one by New")
	}
	var errs []error
	for i, r := range readings {
		if err := r.check(i + 1); err != nil {
			errs = append(errs, err)
		}
	}
	if len(errs) > 0 {
		return nil, errors.Join(errs...)
	}
	readings = slices.Clone(readings)
	slices.SortStableFunc(readings, func(a, b Reading) int { return dayOf(a.Date) - dayOf(b.Date) })
	c := &Course{Reference: m.reference, Confidence: m.opts.Lactate.Confidence, model: m}
	c.half = distuv.UnitNormal.Quantile(0.5 + c.Confidence/2)

	alone := m.newRun(nil, nil, nil, 0)
	c.alone = alone.spread()
	for _, r := range c.alone {
		r.forward(true, nil)
		r.back(true)
	}
	used := c.judge(readings, alone)
	of, sources, counts := sourcesOf(readings, used)
	if len(sources) > maxKinds {
		return nil, fmt.Errorf("between: found %d kinds of training repeats with two readings or more, want at most %d: use one spelling for a kind", len(sources), maxKinds)
	}
	all := m.newRun(readings, used, of, len(sources))
	for i := range all.days {
		all.days[i].smooth, _ = alone.answer(shiftAnswer, all.days[i].number)
	}
	all.last = alone.last
	all.settle()
	c.all = all.spread()
	c.tell()
	c.nameKinds(sources, counts)
	c.warn()
	return c, nil
}

// judge says which readings are used: those inside the tested range where the curve is
// steep enough, by the tests alone.
func (c *Course) judge(readings []Reading, alone *run) []int {
	used := make([]int, 0, len(readings))
	c.Readings = make([]Told, len(readings))
	for i, r := range readings {
		t := &c.Readings[i]
		t.Reading = r
		place, _ := alone.answer(shiftAnswer, dayOf(r.Date))
		u := r.Intensity - place
		sh := c.model.shape
		spot := sh.spot(u)
		value, slope := spot.on(sh.mean)
		switch {
		case u > sh.high:
			t.Unused = Above
		case u < sh.low:
			t.Unused = Below
		case slope*c.model.opts.Matters*c.Reference < math.Sqrt(c.model.noise(value)):
			t.Unused = Flat
		default:
			used = append(used, i)
		}
	}
	return used
}

// sourcesOf gives each kind and analyser of two readings or more a place; −1 for others.
func sourcesOf(readings []Reading, used []int) (of []int, sources []source, counts map[source]int) {
	counts = map[source]int{}
	for _, i := range used {
		if r := readings[i]; r.Kind != "" {
			counts[r.source()]++
		}
	}
	for s, n := range counts {
		if n > 1 {
			sources = append(sources, s)
		}
	}
	slices.SortFunc(sources, source.compare)
	of = make([]int, len(readings))
	for i, r := range readings {
		k, ok := slices.BinarySearchFunc(sources, r.source(), source.compare)
		if !ok || r.Kind == "" {
			k = -1
		}
		of[i] = k
	}
	return of, sources, counts
}

func (c *Course) nameKinds(sources []source, counts map[source]int) {
	weights, common := c.all.weights(), c.model.common()
	for s, n := range counts {
		k := Kind{s.kind, s.analyser, n, nothing()}
		if at, ok := slices.BinarySearchFunc(sources, s, source.compare); ok {
			var of [drifts]moments
			for i, r := range c.all {
				own, l := common+1+at, r.last
				of[i] = moments{l.mean[common] + l.mean[own], l.row(common)[common] + 2*l.row(common)[own] + l.row(own)[own]}
			}
			k.Offset = c.bracket(mixed(of, weights))
		}
		c.Kinds = append(c.Kinds, k)
	}
	slices.SortFunc(c.Kinds, func(a, b Kind) int {
		return source{a.Kind, a.Analyser}.compare(source{b.Kind, b.Analyser})
	})
}

// nothing is the estimate of what is not known.
func nothing() lactate.Estimate {
	return lactate.Estimate{Value: math.NaN(), Low: math.NaN(), High: math.NaN()}
}

// bracket is a normal one.
func (c *Course) bracket(mean, variance float64) lactate.Estimate {
	h := c.half * math.Sqrt(math.Max(variance, 0))
	return lactate.Estimate{Value: mean, Low: mean - h, High: mean + h}
}

// At returns where the curve was or will be on an average day about a date, by all tests
// and readings. Days before the first and after the last of them only add drift.
func (c *Course) At(date time.Time) Place { return c.place(c.all, date) }

// ByTests is At by the tests alone.
func (c *Course) ByTests(date time.Time) Place { return c.place(c.alone, date) }

func (c *Course) place(r runs, date time.Time) Place {
	p := Place{Date: date}
	if c.model == nil {
		p.Shift, p.LT2 = nothing(), nothing()
		return p
	}
	n := dayOf(date)
	mean, variance := r.answer(shiftAnswer, n)
	p.Shift = c.bracket(mean, variance)
	mean, variance = r.answer(lt2Answer, n)
	sh := c.model.shape
	p.LT2 = c.bracket(mean+sh.lt2, variance+sh.lt2left)
	return p
}

// Tests returns where each test alone puts the curve of an average day, beside the first
// test: its shift, with measurement error and its day.
func (c *Course) Tests() []Place {
	m := c.model
	if m == nil {
		return nil
	}
	out := make([]Place, len(m.tests))
	for i, t := range m.tests {
		mean, variance := 0.0, m.days
		if i > 0 {
			mean, variance = m.shape.shifts[i-1], m.shape.cov.At(i-1, i-1)+m.days
		}
		out[i] = Place{Date: t.Date, Shift: c.bracket(mean, variance)}
		out[i].LT2 = c.bracket(mean+m.shape.lt2, variance)
	}
	return out
}
