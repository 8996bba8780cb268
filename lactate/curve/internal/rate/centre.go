package rate

import (
	"fmt"
	"math"

	"example.com/steptest/lactate/curve/internal/points"
)

// centre writes the ys about their weighted mean to u, divided by unit, a power
// of two that keeps their squares within the range of numbers. The unit is 1
// unless the ys are extreme. The mean is that of the ys themselves.
func centre(u []float64, g *design, ys []float64) (unit, mean float64, err error) {
	large := 0.0
	for _, y := range ys {
		if a := math.Abs(y); a > large {
			large = a
		}
	}
	unit = 1
	if !(large > 0x1p-100 && large < 0x1p100) {
		unit = points.PowerOfTwo(large)
	}
	inv := 1 / unit
	for i, y := range ys {
		v := y * inv
		u[i] = v
		mean += v * g.ws[i]
	}
	mean /= g.total
	spread := 0.0
	for i, v := range u {
		v -= mean
		u[i] = v
		if a := math.Abs(v); a > spread {
			spread = a
		}
	}
	if !(spread > 1e-14*large*inv) {
		return 0, 0, fmt.Errorf("curve: all ys are %g, which leaves the rate open: %w", ys[0], points.ErrUndetermined)
	}
	return unit, mean * unit, nil
}
