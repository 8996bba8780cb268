package forecast

import (
	"fmt"
	"math"

	"example.com/steptest/lactate"
)

// Outlook is what a test will be able to tell, before it is swum. The zero value
// says nothing.
type Outlook struct {
	LT1   Threshold `json:"lt1"`
	LT2   Threshold `json:"lt2"`
	Shift Shift     `json:"shift"`
	// Confidence of the intervals, between 0 and 1.
	Confidence float64 `json:"confidence"`
	// LeftOut holds the indices of those of Expected.Tests that are plainly of another
	// shape than the last, and say nothing here. Nil means none.
	LeftOut []int `json:"left_out,omitzero"`
}

// How many tests are simulated for a forecast, and how many draws make each interval.
const (
	forecastTests = 200
	forecastDraws = 200
)

// Of returns what a test of these stages will be able to tell of a swimmer, with the
// methods, noise, confidence and power of the options: the expected interval of each
// threshold, and the smallest shift of the curve it can detect beside the last of the
// swimmer's earlier tests, or beside a test of the same stages if there is none.
//
// A stage has its intensity, which is its mean speed (m/s), and its duration, for the
// error of the watch; whatever else it has is ignored. There must be four or more,
// each faster than the last. The error wraps [ErrNoAnswer].
//
// Tests of 200 probable curves are simulated and analysed, with random numbers that
// Options.Seed fixes: the same input gives the same answer, in about 50 ms.
func Of(stages []lactate.Stage, e Expected, o lactate.Options) (*Outlook, error) {
	o, err := options(o)
	if err != nil {
		return nil, err
	}
	if err := check(stages); err != nil {
		return nil, err
	}
	b, err := e.belief(stages, nil, o)
	if err != nil {
		return nil, err
	}
	out := &Outlook{Confidence: o.Confidence, LeftOut: b.leftOut}
	s := b.simulation(forecastTests, len(stages), forecastDraws, o)
	seen := s.run(stages)
	for k, m := range [2]lactate.Method{o.LT1, o.LT2} {
		t, err := s.threshold(stages, m, seen[k])
		if err != nil {
			return nil, err
		}
		*[2]*Threshold{&out.LT1, &out.LT2}[k] = t
	}
	out.Shift = forecastShift(stages, s.truths, e, o)
	return out, nil
}

// final is the intensity of the last stage.
func final(stages []lactate.Stage) float64 { return stages[len(stages)-1].Intensity }

// threshold puts what is seen around where the threshold is.
func (s *simulation) threshold(stages []lactate.Stage, m lactate.Method, w seen) (Threshold, error) {
	sum, square, n := 0.0, 0.0, 0.0
	err := w.err
	for _, t := range s.truths {
		x, e := t.locate(m, stages)
		if e != nil {
			err = e
			continue
		}
		sum += x
		square += x * x
		n++
	}
	if n == 0 || math.IsNaN(w.width) {
		return Threshold{}, fmt.Errorf("%w: %v is found on no probable curve: %w", ErrNoAnswer, m, err)
	}
	mean := sum / n
	return Threshold{
		Method:  m,
		Speed:   lactate.Estimate{Value: mean, Low: mean - w.width/2, High: mean + w.width/2},
		Unknown: math.Sqrt(max(square/n-mean*mean, 0)),
		Missed:  w.missed,
	}, nil
}
