// Package shape knows the dictionary of convex shapes that curve.Convex and
// curve.ConvexShifted average over, with their prior, and how to read one curve. The family
// of shapes and the prior are ours.
package shape

import (
	"math"
	"sync"

	"example.com/steptest/lactate/curve/internal/points"
	"gonum.org/v1/gonum/floats"
)

// A Dictionary holds convex shapes f, each with f(0) = f′(0) = 0 and f(1) = 1, and their
// prior.
//
// With m the mean and G the distribution function of the normalised curvature
// f″ on [0, 1], f′ = G/(1 − m). The curvature is constant in each of so many
// cells, so that f′ is a polygon and f is made of parabolas, both exactly.
type Dictionary struct {
	Prior []float64 // of each shape; they sum to one
	// Of shape j at node k, the end of a cell: by shape, for reading one curve,
	// [j*Nodes+k]; by node, for evaluating all at one u, [k*len(Prior)+j].
	f, slope             []float64
	fByNode, slopeByNode []float64
}

// Even cells from u = 0 to 1, and their ends.
const (
	Cells = 120
	Nodes = Cells + 1
)

// The families of shapes and their prior; ours, tuned on real tests, see
// curve.Convex.
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
	narrowestTilt = 2. / Cells
)

// All returns the whole dictionary; it is made on first use.
var All = sync.OnceValue(newDictionary)

func newDictionary() *Dictionary {
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
	d := &Dictionary{
		Prior: make([]float64, 0, n),
		f:     make([]float64, n*Nodes), slope: make([]float64, n*Nodes),
		fByNode: make([]float64, n*Nodes), slopeByNode: make([]float64, n*Nodes),
	}
	for i, share := range []float64{1 - delayedShare, delayedShare} {
		total := 0.0
		for _, s := range families[i] {
			total += s.prior
		}
		for _, s := range families[i] {
			j := len(d.Prior)
			d.Prior = append(d.Prior, share*s.prior/total)
			f, slope := d.Row(j)
			integrate(s.mass, f, slope)
			for k := range Nodes {
				d.fByNode[k*n+j], d.slopeByNode[k*n+j] = f[k], slope[k]
			}
		}
	}
	return d
}

// Row returns f and f′ of shape j at the nodes.
func (d *Dictionary) Row(j int) (f, slope []float64) {
	from, to := j*Nodes, (j+1)*Nodes
	return d.f[from:to:to], d.slope[from:to:to]
}

// At writes f(u) of the shapes from one to before another, u from 0 to 1, to dst at every
// stride-th place.
func (d *Dictionary) At(u float64, from, to int, dst []float64, stride int) {
	if u == 0 { // where nearly every set of points starts
		for i := range to - from {
			dst[i*stride] = 0
		}
		return
	}
	n := len(d.Prior)
	k, t := Cell(u)
	const h = 1. / Cells
	a, b := h*(t-t*t/2), h*t*t/2
	f := d.fByNode[k*n:][from:to]
	start := d.slopeByNode[k*n:][from:to][:len(f)]
	end := d.slopeByNode[(k+1)*n:][from:to][:len(f)]
	i := 0
	for j, v := range f {
		dst[i] = v + float64(a*start[j]) + float64(b*end[j])
		i += stride
	}
}

// Subset returns the shapes at the given places of a dictionary, for evaluating
// them by node alone; its prior is not normalised. It reuses s where it is large enough.
func (d *Dictionary) Subset(s *Dictionary, at []int) *Dictionary {
	n, from := len(at), len(d.Prior)
	if s == nil {
		s = new(Dictionary)
	}
	s.Prior = points.Resize(s.Prior, n)
	s.fByNode, s.slopeByNode = points.Resize(s.fByNode, n*Nodes), points.Resize(s.slopeByNode, n*Nodes)
	for i, j := range at {
		s.Prior[i] = d.Prior[j]
	}
	for k := range Nodes {
		f, slope := d.fByNode[k*from:(k+1)*from], d.slopeByNode[k*from:(k+1)*from]
		toF, toSlope := s.fByNode[k*n:(k+1)*n], s.slopeByNode[k*n:(k+1)*n]
		for i, j := range at {
			toF[i], toSlope[i] = f[j], slope[j]
		}
	}
	return s
}

// integrate turns masses of curvature, one a cell, into f and f′ at the nodes.
func integrate(mass, f, slope []float64) {
	mean := 0.0
	for k, p := range mass {
		mean += p * middle(k)
	}
	for k, p := range mass {
		slope[k+1] = slope[k] + p/(1-mean)
		f[k+1] = f[k] + (slope[k]+slope[k+1])/(2*Cells)
	}
	floats.Scale(1/f[Cells], slope) // of rounding alone
	floats.Scale(1/f[Cells], f)
}
