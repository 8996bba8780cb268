package curve

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/floats"
)

// A design is what the search over the rate of an exponential needs to know
// of the xs alone, so that refits with the same xs (the resamples behind an
// interval) pay for it once.
//
// The xs are scaled to the distance below the largest, in units of the range:
// d = (max − x) / (max − min), so 0 ≤ d ≤ 1 and the scaled rate is
// c = C·(max − min). A grid of rates covers everything the xs can tell apart.
// At each point and rate the exponential is anchored at its steep end so that
// it lies between 0 and 1: exp(−c·d) for c > 0, exp(c·(1 − d)) for c < 0; rate
// 0 stands for the straight line −d. Rates step by √2, so that a value is the
// square of the value two rates before: the grid costs two exponentials a point.
type design struct {
	xs, ws   []float64 // copies; ws is nil when unweighted
	d        []float64
	max, rng float64
	total    float64 // sum of the weights
	rates    []float64
	zero     int // index of rate 0
	// values[i*len(rates)+j] is the exponential of rate j at point i. It is
	// empty where there are too many to keep; they are then made anew.
	values  []float64
	inverse []float64 // 1 / Σ w·(e − ē)² at each rate
	row     []float64 // of one point, where values is empty
	sum     []float64
}

// Largest number of values that a design keeps.
const keptLimit = 1 << 15

// prepare readies the design for the xs and weights. A design already made for
// the same ones is kept.
func (g *design) prepare(xs, ws []float64) error {
	if g.same(xs, ws) {
		return nil
	}
	g.xs = g.xs[:0] // not valid until the end
	if err := g.scale(xs); err != nil {
		return err
	}
	g.total = float64(len(xs))
	g.ws = nil
	if ws != nil {
		g.ws = append(g.ws[:0], ws...)
		g.total = floats.Sum(ws)
	}
	n := len(g.rates)
	g.values = g.values[:0]
	g.row = resize(g.row, n)
	if n*len(xs) <= keptLimit {
		g.values = resize(g.values, n*len(xs))
	}
	g.sum, g.inverse = resize(g.sum, n), resize(g.inverse, n)
	clear(g.sum)
	clear(g.inverse)
	for i := range g.d {
		row := g.row
		if len(g.values) > 0 {
			row = g.rowOf(i)
		}
		g.fill(row, i)
		w := 1.0
		if ws != nil {
			w = ws[i]
		}
		for j, e := range row {
			g.sum[j] += w * e
			g.inverse[j] += w * e * e
		}
	}
	for j, s := range g.sum {
		g.inverse[j] = 1 / (g.inverse[j] - s*s/g.total)
	}
	g.xs = append(g.xs, xs...)
	return nil
}

// scale fills in the scaled distances and the rates of the grid.
func (g *design) scale(xs []float64) error {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, x := range xs {
		lo, hi = min(lo, x), max(hi, x)
	}
	g.max, g.rng = hi, hi-lo
	switch {
	case !(g.rng <= math.MaxFloat64): // none, or overflow
		return fmt.Errorf("curve: found %d xs from %v to %v, expected a finite range: %w", len(xs), lo, hi, ErrInput)
	case g.rng == 0:
		return fmt.Errorf("curve: found 1 different x, an exponential needs 3: %w", ErrUndetermined)
	}
	g.d = resize(g.d, len(xs))
	// Gap from either end to the next different x, in scaled units.
	upper, lower := 1.0, 1.0
	inner := false
	for i, x := range xs {
		d := (hi - x) / g.rng
		g.d[i] = d
		if d > 0 {
			upper = min(upper, d)
		}
		if d < 1 {
			lower = min(lower, 1-d)
		}
		inner = inner || d > 0 && d < 1
	}
	if !inner {
		return fmt.Errorf("curve: found 2 different xs, an exponential needs 3: %w", ErrUndetermined)
	}
	// Beyond c·gap = 16 the next point sees 1e-7 of the last one's rise: the
	// last point stands alone and the rate is open.
	up, down := steps(upper), steps(lower)
	g.zero = down + 1
	g.rates = resize(g.rates, down+up+3)
	g.rates[g.zero] = 0
	for j := range max(up, down) + 1 {
		r := gridRate(j)
		if j <= up {
			g.rates[g.zero+1+j] = r
		}
		if j <= down {
			g.rates[g.zero-1-j] = -r
		}
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
	return len(g.xs) > 0 && (g.ws == nil) == (ws == nil) &&
		floats.Equal(g.xs, xs) && (ws == nil || floats.Equal(g.ws, ws))
}

// fill writes the exponential of every rate at point i.
func (g *design) fill(row []float64, i int) {
	d, z := g.d[i], g.zero
	one, two := math.Exp(-d), math.Exp(-math.Sqrt2*d)
	row[z] = -d
	row[z+1], row[z+2] = one, two
	for j := z + 3; j < len(row); j++ {
		row[j] = row[j-2] * row[j-2]
	}
	const (
		perOne = 1 / math.E
		perTwo = 0.243116734434214209 // exp(−√2)
	)
	row[z-1], row[z-2] = perOne/one, perTwo/two
	for j := z - 3; j >= 0; j-- {
		row[j] = row[j+2] * row[j+2]
	}
}

// rowOf returns the exponential of every rate at point i, until the next call.
func (g *design) rowOf(i int) []float64 {
	if n := len(g.rates); len(g.values) > 0 {
		return g.values[i*n : (i+1)*n]
	}
	g.fill(g.row, i)
	return g.row
}

// explained writes what each rate explains of the sum of squares, for weighted
// values wu that sum to zero: (Σ wu·e)² / Σ w·(e − ē)². It returns the index of
// the rate that explains most.
func (g *design) explained(dst, wu []float64) (best int) {
	clear(dst)
	for i, v := range wu {
		floats.AddScaled(dst, v, g.rowOf(i))
	}
	most := 0.0
	for j, v := range dst {
		v *= v * g.inverse[j]
		dst[j] = v
		if v > most {
			best, most = j, v
		}
	}
	return best
}

// at writes the anchored exponential of scaled rate c at the points.
func (g *design) at(c float64, dst []float64) {
	if c < 0 {
		for i, d := range g.d {
			dst[i] = math.Exp(c * (1 - d))
		}
		return
	}
	for i, d := range g.d {
		dst[i] = math.Exp(-c * d)
	}
}

// resize returns a slice of length n, s itself where it is large enough.
func resize[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	return s[:n]
}
