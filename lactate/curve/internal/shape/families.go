package shape

import (
	"math"
	"sort"
)

// width returns ρ of the k-th width.
func width(k int) float64 { return widest * (float64(k) + 0.5) / widths }

// middle returns the middle of cell k.
func middle(k int) float64 { return (float64(k) + 0.5) / Cells }

// tilts returns the masses ∝ exp(αt + βt²) of mean m and each of the widths;
// nil if there is none on [0, 1].
func tilts(m float64) [][]float64 {
	out := make([][]float64, widths)
	exponential, ok := tilt{}.solve(m, math.Inf(1))
	if !ok {
		return out
	}
	_, mean := exponential.sums(m, 1)
	tau := math.Sqrt(mean[2])
	first := sort.Search(widths, func(k int) bool { return width(k) >= 1 })
	for _, step := range []int{1, -1} {
		from := exponential
		k := first
		if step < 0 {
			k = first - 1
		}
		for ; k >= 0 && k < widths; k += step {
			sd := width(k) * tau
			if sd < narrowestTilt {
				out[k] = corner(m)
				continue
			}
			next, ok := from.solve(m, sd)
			if !ok {
				break // wider ones do not exist either
			}
			out[k] = next.masses(m)
			from = next
		}
	}
	return out
}

// corner returns the masses of two lines that meet at m.
func corner(m float64) []float64 {
	mass := make([]float64, Cells)
	h := m*Cells - 0.5
	k := min(max(int(math.Floor(h)), 0), Cells-2)
	mass[k+1] = h - float64(k)
	mass[k] = 1 - mass[k+1]
	return mass
}

// A tilt is a distribution over the middles of the cells ∝ exp(a·(t−m) + b·(t−m)²).
type tilt struct{ a, b float64 }

// sums returns the log of the sum of all terms, and the moments of (t−m)/unit up
// to the fourth.
func (q tilt) sums(m, unit float64) (log float64, mean [5]float64) {
	top := math.Inf(-1)
	for k := range Cells {
		t := middle(k) - m
		top = math.Max(top, q.a*t+q.b*t*t)
	}
	for k := range Cells {
		t := middle(k) - m
		p := math.Exp(q.a*t + q.b*t*t - top)
		t /= unit
		mean[0] += p
		mean[1] += p * t
		mean[2] += p * t * t
		mean[3] += p * t * t * t
		mean[4] += p * t * t * t * t
	}
	for i := 1; i < len(mean); i++ {
		mean[i] /= mean[0]
	}
	return top + math.Log(mean[0]), mean
}

// solve returns the tilt of mean m and standard deviation sd, from a tilt nearby:
// the minimum of a convex function by Newton's method. An infinite sd leaves b as
// it is. ok is false if there is none.
func (q tilt) solve(m, sd float64) (tilt, bool) {
	unit, free := sd, true
	if math.IsInf(sd, 1) {
		unit, free = 1, false
	}
	value := func(q tilt) (float64, [5]float64) {
		log, mean := q.sums(m, unit)
		if free {
			log -= q.b * unit * unit
		}
		return log, mean
	}
	at, mean := value(q)
	for range 100 {
		g1, g2 := mean[1], mean[2]-1
		v11, v12, v22 := mean[2]-g1*g1, mean[3]-g1*mean[2], mean[4]-mean[2]*mean[2]
		if !free {
			g2, v12, v22 = 0, 0, 1
		}
		if math.Abs(g1) < 1e-10 && math.Abs(g2) < 1e-10 {
			return q, true
		}
		det := v11*v22 - v12*v12
		if !(det > 1e-14*v11*v22) {
			return q, false
		}
		da, db := (v22*g1-v12*g2)/det, (v11*g2-v12*g1)/det
		decrease := g1*da + g2*db
		step := 1.0
		for ; ; step /= 2 {
			if step < 1e-6 {
				return q, false
			}
			next := tilt{q.a - step*da/unit, q.b - step*db/(unit*unit)}
			if v, mm := value(next); v <= at-1e-4*step*decrease+1e-13 {
				q, at, mean = next, v, mm
				break
			}
		}
		if !(math.Abs(q.a) < 1e6 && math.Abs(q.b) < 1e6) {
			return q, false
		}
	}
	return q, false
}

// masses returns the distribution.
func (q tilt) masses(m float64) []float64 {
	log, _ := q.sums(m, 1)
	mass := make([]float64, Cells)
	for k := range mass {
		t := middle(k) - m
		mass[k] = math.Exp(q.a*t + q.b*t*t - log)
	}
	return mass
}

// delayed returns the masses ∝ exp(ct) on [start, 1] of mean m > start.
func delayed(m, start float64) []float64 {
	want := (m - start) / (1 - start)
	// The mean of a density ∝ exp(x·t) on [0, 1] rises with x.
	mean := func(x float64) float64 {
		if math.Abs(x) < 1e-4 {
			return 0.5 + x/12
		}
		return 1 - 1/x + 1/math.Expm1(x)
	}
	lo, hi := -700., 700.
	for range 80 {
		if x := lo/2 + hi/2; mean(x) < want {
			lo = x
		} else {
			hi = x
		}
	}
	c := lo / (1 - start)
	// Share of the distribution below t, anchored where the density is largest.
	below := func(t float64) float64 {
		t = math.Max(t, start)
		switch {
		case math.Abs(lo) < 1e-9:
			return (t - start) / (1 - start)
		case c > 0:
			return (math.Exp(c*(t-1)) - math.Exp(c*(start-1))) / -math.Expm1(c*(start-1))
		}
		return math.Expm1(c*(t-start)) / math.Expm1(c*(1-start))
	}
	mass := make([]float64, Cells)
	for k := range mass {
		mass[k] = below(float64(k+1)/Cells) - below(float64(k)/Cells)
	}
	return mass
}
