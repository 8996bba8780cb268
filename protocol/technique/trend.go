package technique

import (
	"gonum.org/v1/gonum/stat"

	"example.com/steptest/lactate"
)

// Trend is how a quantity changed from the slowest to the fastest repeat, along
// the straight line by least squares against mean speed. The zero value is no
// change.
type Trend struct {
	Change  lactate.Estimate `json:"change"`            // in the unit of the quantity
	Percent lactate.Estimate `json:"change_in_percent"` // of the line at the slowest repeat [%]
}

// trend draws the line through a quantity, and through it in each draw.
func (t *Profile) trend(q quantity, m strokes, draws []strokes) Trend {
	n := len(t.Repeats)
	xs, ys := make([]float64, n), make([]float64, n)
	for i, r := range t.Repeats {
		xs[i] = float64(r.Speed - t.Slowest)
	}
	span := float64(t.Fastest - t.Slowest)
	line := func(s strokes) (change, percent float64) {
		for i := range ys {
			ys[i] = q(t.Segment.Metres(), s.cycles[i], s.seconds[i])
		}
		start, slope := stat.LinearRegression(xs, ys, nil, false)
		return slope * span, 100 * slope * span / start
	}
	changes, percents := make([]float64, len(draws)), make([]float64, len(draws))
	for k, d := range draws {
		changes[k], percents[k] = line(d)
	}
	change, percent := line(m)
	return Trend{around(change, changes, t.opts.Confidence), around(percent, percents, t.opts.Confidence)}
}
