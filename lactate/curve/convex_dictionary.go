package curve

import (
	"math"
	"sort"
	"sync"

	"gonum.org/v1/gonum/floats"
)

// A dictionary holds the convex shapes f that [Convex] averages over, each with
// f(0) = f′(0) = 0 and f(1) = 1, and their prior.
//
// With m the mean and G the distribution function of the normalised curvature
// f″ on [0, 1], f′ = G/(1 − m). The curvature is constant in each of so many
// cells, so that f′ is a polygon and f is made of parabolas, both exactly.
type dictionary struct {
	prior []float64 // of each shape; they sum to one
	// Of shape j at node k, the end of a cell: by shape, for reading one curve,
	// [j*nodes+k]; by node, for evaluating all at one u, [k*len(prior)+j].
	f, slope             []float64
	fByNode, slopeByNode []float64
}

const (
	cells = 120
	nodes = cells + 1
)

// The families of shapes and their prior; ours, tuned on real tests, see
// [Convex].
const (
	// Means m of the curvature: even in logit m, prior uniform in m.
	means               = 60
	leastLogit, mostLog = -1.1, 3.3
	// Curvature ∝ exp(αt + βt²) of mean m and standard deviation ρ·τ(m), where τ
	// is that of the exponential: ρ = 1 is the exponential curve, ρ → 0 two lines.
	widths        = 32
	widest        = 1.6
	widthSD       = 0.10
	widthOpen     = 0.10 // share of the prior that is uniform in ρ
	delayedShare  = 0.10
	delays        = 16 // curvature ∝ exp(ct) that starts at k = κ·m
	delaySteep    = 10 // prior of κ ∝ 1 + 10κ³
	narrowestTilt = 2. / cells
)

// shapes returns the dictionary; it is made on first use.
var shapes = sync.OnceValue(newDictionary)

func newDictionary() *dictionary {
	type shape struct {
		mass  []float64 // of the curvature in each cell
		prior float64
	}
	families := make([][]shape, 2)
	for i := range means {
		logit := leastLogit + (mostLog-leastLogit)*(float64(i)+0.5)/means
		m := 1 / (1 + math.Exp(-logit))
		uniform := m * (1 - m) // dm per step of logit m
		for k, mass := range tilts(m) {
			if mass == nil {
				continue
			}
			z := (width(k) - 1) / widthSD
			normal := math.Exp(-z*z/2) / (widthSD * math.Sqrt(2*math.Pi))
			families[0] = append(families[0], shape{mass, uniform * ((1-widthOpen)*normal + widthOpen/widest)})
		}
		for k := range delays {
			kappa := (float64(k) + 0.5) / delays
			families[1] = append(families[1], shape{delayed(m, kappa*m), uniform * (1 + delaySteep*kappa*kappa*kappa)})
		}
	}
	n := len(families[0]) + len(families[1])
	d := &dictionary{
		prior: make([]float64, 0, n),
		f:     make([]float64, n*nodes), slope: make([]float64, n*nodes),
		fByNode: make([]float64, n*nodes), slopeByNode: make([]float64, n*nodes),
	}
	for i, share := range []float64{1 - delayedShare, delayedShare} {
		total := 0.0
		for _, s := range families[i] {
			total += s.prior
		}
		for _, s := range families[i] {
			j := len(d.prior)
			d.prior = append(d.prior, share*s.prior/total)
			f, slope := d.row(j)
			integrate(s.mass, f, slope)
			for k := range nodes {
				d.fByNode[k*n+j], d.slopeByNode[k*n+j] = f[k], slope[k]
			}
		}
	}
	return d
}

// width returns ρ of the k-th width.
func width(k int) float64 { return widest * (float64(k) + 0.5) / widths }

// row returns f and f′ of shape j at the nodes.
func (d *dictionary) row(j int) (f, slope []float64) {
	from, to := j*nodes, (j+1)*nodes
	return d.f[from:to:to], d.slope[from:to:to]
}

// at writes f(u) of every shape, u from 0 to 1, to dst at every stride-th place.
func (d *dictionary) at(u float64, dst []float64, stride int) {
	n := len(d.prior)
	k := min(int(u*cells), cells-1)
	t := u*cells - float64(k)
	const h = 1. / cells
	a, b := h*(t-t*t/2), h*t*t/2
	f := d.fByNode[k*n : (k+1)*n]
	from := d.slopeByNode[k*n : (k+1)*n][:len(f)]
	to := d.slopeByNode[(k+1)*n : (k+2)*n][:len(f)]
	i := 0
	for j, v := range f {
		dst[i] = v + float64(a*from[j]) + float64(b*to[j])
		i += stride
	}
}

// integrate turns masses of curvature, one a cell, into f and f′ at the nodes.
func integrate(mass, f, slope []float64) {
	mean := 0.0
	for k, p := range mass {
		mean += p * middle(k)
	}
	for k, p := range mass {
		slope[k+1] = slope[k] + p/(1-mean)
		f[k+1] = f[k] + (slope[k]+slope[k+1])/(2*cells)
	}
	floats.Scale(1/f[cells], slope) // of rounding alone
	floats.Scale(1/f[cells], f)
}

// middle returns the middle of cell k.
func middle(k int) float64 { return (float64(k) + 0.5) / cells }

// tilts returns the masses ∝ exp(αt + βt²) of mean m and each of the widths;
// nil if there is none on [0, 1].
func tilts(m float64) [][]float64 {
	out := make([][]float64, widths)
	exponential, ok := tilt{}.solve(m, math.Inf(1))
	if !ok {
		return out
	}
	_, _, variance := exponential.moments(m, 1)
	tau := math.Sqrt(variance)
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
	mass := make([]float64, cells)
	h := m*cells - 0.5
	k := min(max(int(math.Floor(h)), 0), cells-2)
	mass[k+1] = h - float64(k)
	mass[k] = 1 - mass[k+1]
	return mass
}

// A tilt is a distribution over the middles of the cells ∝ exp(a·(t−m) + b·(t−m)²).
type tilt struct{ a, b float64 }

// moments returns the log of the sum of all terms, the mean of (t−m)/unit and of
// its square.
func (q tilt) moments(m, unit float64) (log, first, second float64) {
	log, sums := q.sums(m, unit)
	return log, sums[1], sums[2]
}

// sums returns the log of the sum of all terms, and the moments of (t−m)/unit up
// to the fourth.
func (q tilt) sums(m, unit float64) (log float64, mean [5]float64) {
	top := math.Inf(-1)
	for k := range cells {
		t := middle(k) - m
		top = math.Max(top, q.a*t+q.b*t*t)
	}
	for k := range cells {
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
	mass := make([]float64, cells)
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
	mass := make([]float64, cells)
	for k := range mass {
		mass[k] = below(float64(k+1)/cells) - below(float64(k)/cells)
	}
	return mass
}
