package rate

import (
	"fmt"
	"math"

	"example.com/steptest/lactate/curve/internal/points"
	"gonum.org/v1/gonum/floats"
)

// A design is what the search over the rate of an exponential needs to know
// of the xs alone: refits with the same xs (the resamples behind an interval)
// pay for it once.
//
// The xs are measured from either end in units of the range, below the largest
// and above the smallest; the scaled rate is c = C·(max − min). A grid
// of rates covers everything the xs can tell apart. At each point and rate the
// exponential is anchored at its steep end and lies between 0 and 1:
// exp(c·below) for c > 0, exp(c·above) for c < 0; rate 0 stands for the
// straight line below. Rates double every other step: 1, 1.5, 2, 3, 4, 6, …. A
// value is the square of the value two rates before, and the whole grid costs one
// exponential a point.
type design struct {
	xs, ws   []float64 // copies; the weights of unweighted points are 1
	weighted bool
	// (x − max)/range, between −1 and 0, and (x − min)/range, between 0 and 1.
	below, above []float64
	half         []float64 // exp(below/2)
	max, rng     float64
	total        float64 // sum of the weights
	// The grid; two more rates at either end, beyond those that are searched,
	// are there for their sums only.
	rates []float64
	zero  int // index of rate 0
	// values[i*len(rates)+j] is the exponential of rate j at point i. It is
	// empty if there are too many to keep; they are then made anew.
	values  []float64
	inverse []float64 // 1 / Σ w·(e − ē)² at each rate that is searched, else 0
	row     []float64 // of one point, if values is empty
	sum     []float64
}

const (
	keptLimit = 1 << 15 // most values that a design keeps
	wing      = 2       // rates at either end of the grid that are not searched
)

// prepare readies the design for the xs and weights. A design already made for
// the same ones is kept.
func (g *design) prepare(xs, ws []float64) error {
	if g.same(xs, ws) {
		return nil
	}
	if err := g.lay(xs, ws); err != nil {
		return err
	}
	n := len(g.rates)
	points.Share(n, &g.sum, &g.inverse)
	clear(g.sum)
	square := 0.0 // Σ w·below²
	for i, w := range g.ws {
		row, from := g.rowOf(i)
		floats.AddScaled(g.sum[from:from+len(row)], w, row)
		square += w * g.below[i] * g.below[i]
	}
	// Σ w·e² is Σ w·e at twice the rate, two steps on.
	clear(g.inverse)
	per := 1 / g.total
	z := g.zero
	g.inverse[z] = 1 / (square - g.sum[z]*g.sum[z]*per)
	for j := z + 1; j < n-wing; j++ {
		g.inverse[j] = 1 / (g.sum[j+wing] - g.sum[j]*g.sum[j]*per)
	}
	for j := wing; j < z; j++ {
		g.inverse[j] = 1 / (g.sum[j-wing] - g.sum[j]*g.sum[j]*per)
	}
	return nil
}

// lay makes the grid, with the exponentials of each point.
func (g *design) lay(xs, ws []float64) error {
	g.xs = g.xs[:0] // not valid until the end
	if err := g.scale(xs); err != nil {
		return err
	}
	for i, v := range g.below {
		g.half[i] = math.Exp(v / 2)
	}
	g.weighted = ws != nil
	if g.weighted {
		copy(g.ws, ws)
		g.total = floats.Sum(ws)
	} else {
		for i := range g.ws {
			g.ws[i] = 1
		}
		g.total = float64(len(xs))
	}
	n := len(g.rates)
	if n*len(xs) <= keptLimit {
		g.values = points.Resize(g.values, n*len(xs))
		for i := range xs {
			g.fill(g.values[i*n:(i+1)*n], i)
		}
	} else {
		g.values, g.row = g.values[:0], points.Resize(g.row, n)
	}
	g.xs = append(g.xs, xs...)
	return nil
}

// scale fills in the scaled distances and the rates of the grid.
func (g *design) scale(xs []float64) error {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, x := range xs {
		if x < lo {
			lo = x
		}
		if x > hi {
			hi = x
		}
	}
	g.max, g.rng = hi, hi-lo
	switch {
	case !(g.rng >= 0 && g.rng <= math.MaxFloat64): // none, or overflow
		return fmt.Errorf("curve: found %d xs from %v to %v, want a finite range: %w", len(xs), lo, hi, points.ErrInput)
	case g.rng == 0:
		return fmt.Errorf("curve: found 1 different x, an exponential needs 3: %w", points.ErrUndetermined)
	}
	points.Share(len(xs), &g.xs, &g.ws, &g.below, &g.above, &g.half)
	g.xs = g.xs[:0]
	// Gap from either end to the next different x, in scaled units.
	upper, lower := 1.0, 1.0
	for i, x := range xs {
		d := (hi - x) / g.rng
		a := 1 - d
		g.below[i], g.above[i] = -d, a
		if d > 0 && d < upper {
			upper = d
		}
		if a > 0 && a < lower {
			lower = a
		}
	}
	if upper == 1 {
		return fmt.Errorf("curve: found 2 different xs, an exponential needs 3: %w", points.ErrUndetermined)
	}
	// Beyond c·gap = 16 the next point sees 1e-7 of the last one's rise: the
	// last point stands alone and the rate is open.
	up, down := steps(16/upper)+wing, steps(16/lower)+wing
	g.zero = down + 1
	g.rates = points.Resize(g.rates, down+up+3)
	g.rates[g.zero] = 0
	whole, half := 1.0, 1.5
	for j := 0; j <= max(up, down); j++ {
		if j <= up {
			g.rates[g.zero+1+j] = whole
		}
		if j <= down {
			g.rates[g.zero-1-j] = -whole
		}
		whole, half = half, 2*whole
	}
	return nil
}

// steps returns the number of steps of the grid from rate 1 to one that is not
// below r: odd, since the rates on either side of zero come in pairs.
func steps(r float64) int {
	f, exp := math.Frexp(r)
	n := 2 * exp // rate 2^exp, above r
	if f <= 0.75 {
		n--
	}
	return max(3, n|1)
}

func (g *design) same(xs, ws []float64) bool {
	return len(g.xs) > 0 && g.weighted == (ws != nil) &&
		floats.Equal(g.xs, xs) && (ws == nil || floats.Equal(g.ws, ws))
}

// fill writes the exponential of every rate at point i, and returns the range
// that is not zero.
func (g *design) fill(row []float64, i int) (from, to int) {
	const (
		root   = 0.606530659712633424 // exp(−1/2)
		vanish = 0x1p-500             // squares of less are zero, near enough
	)
	row[g.zero] = g.below[i]
	h := g.half[i]
	up, down := row[g.zero+1:], row[:g.zero]
	a := h * h
	b := a * h
	for to = 1; to < len(up) && a >= vanish; to += 2 {
		up[to-1], up[to] = a, b
		a, b = a*a, b*b
	}
	to--
	clear(up[to:])
	h = root / h
	a = h * h
	b = a * h
	for from = len(down) - 1; from > 0 && a >= vanish; from -= 2 {
		down[from], down[from-1] = a, b
		a, b = a*a, b*b
	}
	from++
	clear(down[:from])
	return from, g.zero + 1 + to
}

// rowOf returns the exponentials of point i, until the next call, and the index
// of the rate of the first: those of other rates are zero.
func (g *design) rowOf(i int) (row []float64, from int) {
	if n := len(g.rates); len(g.values) > 0 {
		return g.values[i*n : (i+1)*n], 0
	}
	from, to := g.fill(g.row, i)
	return g.row[from:to], from
}

// explained writes what each rate explains of the sum of squares, for weighted
// values wu that sum to zero: (Σ wu·e)² / Σ w·(e − ē)². It returns the index of
// the rate that explains most.
func (g *design) explained(dst, wu []float64) (best int) {
	clear(dst)
	if n := len(dst); len(g.values) > 0 {
		for i, v := range wu {
			floats.AddScaled(dst, v, g.values[i*n:(i+1)*n])
		}
	} else {
		for i, v := range wu {
			row, from := g.rowOf(i)
			floats.AddScaled(dst[from:from+len(row)], v, row)
		}
	}
	most := 0.0
	for j, inv := range g.inverse[:len(dst)] {
		v := dst[j]
		v *= v * inv
		dst[j] = v
		if v > most {
			best, most = j, v
		}
	}
	return best
}

// reach returns the scaled distances from the steep end of an exponential of
// rate c, which is exp(c·reach).
func (g *design) reach(c float64) []float64 {
	if c < 0 {
		return g.above
	}
	return g.below
}
