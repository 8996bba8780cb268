package curve

import (
	"fmt"
	"math"
)

// A design is what the search over the rate of an exponential needs to know
// of the xs alone, so that refits with the same xs (the resamples behind an
// interval) pay for it once.
//
// The xs are scaled to the distance below the largest, in units of the range:
// d = (max − x) / (max − min), so 0 ≤ d ≤ 1 and the scaled rate is
// c = C·(max − min). For every rate of a grid there is a row of values of the
// exponential at the points, anchored at its steep end so that it lies between
// 0 and 1: exp(−c·d) for c > 0, exp(c·(1 − d)) for c < 0. Rates step by √2, so
// a row is the square of the row two before it: the whole grid costs two
// exponentials per point and side.
type design struct {
	xs, ws   []float64 // copies; ws is nil when unweighted
	d        []float64
	max, rng float64
	total    float64 // sum of the weights
	distinct int     // number of different xs
	rates    []float64
	// contrast[j*n+i] holds w·(g − ḡ)/‖g − ḡ‖ of row j: its product with the
	// ys, squared, is what that rate explains of their sum of squares.
	contrast []float64
}

// Largest number of values that a design stores (rates × points). Above it,
// rows are made when they are asked for.
const storedLimit = 1 << 16

// prepare readies the design for the xs and weights. A design already made for
// the same ones is kept.
func (g *design) prepare(xs, ws []float64) error {
	if g.same(xs, ws) {
		return nil
	}
	g.xs = g.xs[:0] // not valid until the end
	if err := g.scale(xs, ws); err != nil {
		return err
	}
	g.contrast = g.contrast[:0]
	if n := len(xs) * len(g.rates); n <= storedLimit {
		g.contrast = resize(g.contrast, n)
		g.fill(ws)
	}
	g.ws = nil
	if ws != nil {
		g.ws = append(g.ws[:0], ws...)
	}
	g.xs = append(g.xs[:0], xs...)
	return nil
}

// scale fills in the scaled distances and the rates of the grid.
func (g *design) scale(xs, ws []float64) error {
	n := len(xs)
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, x := range xs {
		lo, hi = min(lo, x), max(hi, x)
	}
	g.max, g.rng = hi, hi-lo
	if !(g.rng <= math.MaxFloat64) { // overflow
		return fmt.Errorf("curve: xs from %v to %v: range too large: %w", lo, hi, ErrInput)
	}
	if g.rng == 0 {
		return fmt.Errorf("curve: found 1 different x, an exponential needs 3: %w", ErrUndetermined)
	}
	g.d = resize(g.d, n)
	// Gap from either end to the next different x, in scaled units, and the
	// number of different xs as far as three.
	upper, lower := 1.0, 1.0
	inner := math.NaN()
	g.distinct = 2
	for i, x := range xs {
		d := (hi - x) / g.rng
		g.d[i] = d
		if d > 0 {
			upper = min(upper, d)
		}
		if d < 1 {
			lower = min(lower, 1-d)
		}
		if d > 0 && d < 1 {
			if math.IsNaN(inner) {
				inner, g.distinct = d, 3
			} else if d != inner {
				g.distinct = 4 // or more
			}
		}
	}
	if g.distinct < 3 {
		return fmt.Errorf("curve: found 2 different xs, an exponential needs 3: %w", ErrUndetermined)
	}
	g.total = float64(n)
	if ws != nil {
		g.total = 0
		for _, w := range ws {
			g.total += w
		}
	}
	// Beyond c·gap = 16 the next point sees 1e-7 of the last one's rise: the
	// last point stands alone and the rate is open.
	up, down := steps(upper), steps(lower)
	g.rates = g.rates[:0]
	for j := down; j >= 0; j-- {
		g.rates = append(g.rates, -gridRate(j))
	}
	g.rates = append(g.rates, 0)
	for j := 0; j <= up; j++ {
		g.rates = append(g.rates, gridRate(j))
	}
	return nil
}

// steps returns the number of √2-steps from 1 to a rate at which a point at
// the given gap from the steep end has lost sight of it.
func steps(gap float64) int {
	return max(2, int(math.Ceil(2*math.Log2(16/gap))))
}

// gridRate returns 2^(j/2).
func gridRate(j int) float64 {
	r := math.Ldexp(1, j/2)
	if j%2 == 1 {
		r *= math.Sqrt2
	}
	return r
}

func (g *design) same(xs, ws []float64) bool {
	if len(g.xs) == 0 || len(g.xs) != len(xs) || (g.ws == nil) != (ws == nil) {
		return false
	}
	for i, x := range xs {
		if x != g.xs[i] {
			return false
		}
	}
	for i, w := range ws {
		if w != g.ws[i] {
			return false
		}
	}
	return true
}

// fill computes all contrasts by squaring: row j+2 is row j squared.
func (g *design) fill(ws []float64) {
	n := len(g.d)
	zero := 0 // index of rate 0; at least three rates lie on either side
	for g.rates[zero] < 0 {
		zero++
	}
	down, up := zero-1, len(g.rates)-zero-2
	row := func(j int) []float64 { return g.contrast[j*n : (j+1)*n] }
	for i, d := range g.d {
		row(zero)[i] = -d
		row(zero + 1)[i] = math.Exp(-d)
		row(zero + 2)[i] = math.Exp(-math.Sqrt2 * d)
		row(zero - 1)[i] = math.Exp(d - 1)
		row(zero - 2)[i] = math.Exp(math.Sqrt2 * (d - 1))
	}
	square := func(dst, src []float64) {
		for i, v := range src {
			dst[i] = v * v
		}
	}
	for j := 3; j <= up+1; j++ {
		square(row(zero+j), row(zero+j-2))
	}
	for j := 3; j <= down+1; j++ {
		square(row(zero-j), row(zero-j+2))
	}
	for j := range g.rates {
		g.toContrast(row(j), ws)
	}
}

func (g *design) toContrast(row, ws []float64) {
	var mean float64
	if ws == nil {
		for _, v := range row {
			mean += v
		}
	} else {
		for i, v := range row {
			mean += ws[i] * v
		}
	}
	mean /= g.total
	var norm float64
	for i, v := range row {
		v -= mean
		w := v
		if ws != nil {
			w *= ws[i]
		}
		norm += v * w
		row[i] = w
	}
	scale := 1 / math.Sqrt(norm)
	for i := range row {
		row[i] *= scale
	}
}

// contrastRow returns the contrast of grid rate j, using scratch where rows
// are not stored.
func (g *design) contrastRow(j int, scratch []float64) []float64 {
	n := len(g.d)
	if len(g.contrast) > 0 {
		return g.contrast[j*n : (j+1)*n]
	}
	scratch = scratch[:n]
	g.values(g.rates[j], scratch)
	g.toContrast(scratch, g.ws)
	return scratch
}

// values writes the anchored exponential of scaled rate c at the points.
func (g *design) values(c float64, dst []float64) {
	switch {
	case c > 0:
		for i, d := range g.d {
			dst[i] = math.Exp(-c * d)
		}
	case c < 0:
		for i, d := range g.d {
			dst[i] = math.Exp(c * (1 - d))
		}
	default:
		for i, d := range g.d {
			dst[i] = -d
		}
	}
}

// resize returns a slice of length n, s itself where it is large enough.
func resize[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	return s[:n]
}
