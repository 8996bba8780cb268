package lactate

import (
	"errors"
	"fmt"

	"example.com/steptest/lactate/internal/uncertain"
)

// BandPoint is the curve at one intensity, with its pointwise interval.
type BandPoint struct {
	Intensity float64  `json:"intensity"`
	Lactate   Estimate `json:"lactate_mmol_per_l"` // [mmol/L]
}

// Bounds of time and memory.
const (
	maxBand     = 10_000
	maxReadings = 50_000_000
)

// Band returns the curve at n intensities, evenly spaced from end to end of the tested range,
// each with its interval from the thresholds' resamples. It is pointwise: the stated
// confidence is that of any one intensity, not of all at once. It needs n from 2 to 10,000,
// at most 50 million readings of the curve in all, and an analysis with Options.Resamples.
func (a *Analysis) Band(n int) ([]BandPoint, error) {
	if err := a.check(); err != nil {
		return nil, err
	}
	if n < 2 || n > maxBand {
		return nil, fmt.Errorf("lactate: band: found %d points, want 2 to %d", n, maxBand)
	}
	if a.opts.Resamples == 0 {
		return nil, errors.New("lactate: band: found an analysis without resamples, want Options.Resamples above zero")
	}
	if n*a.opts.Resamples > maxReadings {
		return nil, fmt.Errorf("lactate: band: found %d points of %d resamples, want at most %d readings", n, a.opts.Resamples, maxReadings)
	}
	xs := make([]float64, n)
	for i := range xs {
		xs[i] = a.Lowest + (a.Highest-a.Lowest)*(float64(i)/float64(n-1))
	}
	xs[n-1] = a.Highest
	band := make([]BandPoint, n)
	for i, d := range a.drawCurve(xs) {
		if err := predictable(a.Curve, xs[i]); err != nil {
			return nil, err
		}
		e := exactly(a.Curve.Predict(xs[i]))
		e.Low, e.High = uncertain.Central(d, a.opts.Confidence)
		band[i] = BandPoint{xs[i], e.holding()}
	}
	return band, nil
}
