package forecast

import (
	"fmt"
	"math"

	"example.com/steptest/lactate"
)

// tally averages one threshold over candidates.
type tally struct {
	method                 lactate.Method
	weight, missed         float64
	sum, square, deviation float64
	err                    error // the last one
}

func (t *tally) miss(weight float64, err error) {
	t.missed += weight
	t.err = err
}

func (t *tally) add(weight, x, sd float64) {
	t.weight += weight
	t.sum += weight * x
	t.square += weight * x * x
	t.deviation += weight * sd
}

func (t *tally) forecast(half float64) (Threshold, error) {
	if !(t.weight > 0) {
		return Threshold{}, fmt.Errorf("%w: %v is found on no probable curve: %w", ErrNoAnswer, t.method, t.err)
	}
	mean, sd := t.sum/t.weight, t.deviation/t.weight
	return Threshold{
		Method:        t.method,
		Speed:         lactate.Estimate{Value: mean, Low: mean - half*sd, High: mean + half*sd},
		StandardError: sd,
		Unknown:       math.Sqrt(max(t.square/t.weight-mean*mean, 0)),
		Missed:        t.missed / (t.missed + t.weight),
	}, nil
}

var errNoScale = fmt.Errorf("%w: no degrees of freedom are left, and the noise stated has no weight", ErrNoAnswer)
