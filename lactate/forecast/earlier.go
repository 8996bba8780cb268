package forecast

import (
	"math"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
	"gonum.org/v1/gonum/stat/distuv"
)

// earlier is a test before the last one, which says how the curve bends.
type earlier struct {
	index  int // in Expected.Tests
	stages []lactate.Stage
	shift  float64 // of the curve from this test to the last, about [m/s]
	own    float64 // weighted sum of squares about a curve of its own
	scale  float64 // variance of its samples beside the stated one
}

// mostEarlier tests are used; older ones say nothing.
const mostEarlier = 5

// beside returns the latest of the tests before the last, each beside the last.
func beside(last []lactate.Stage, tests [][]lactate.Stage, b *belief) (out []earlier) {
	for i := max(len(tests)-mostEarlier, 0); i < len(tests); i++ {
		if t, ok := newEarlier(tests[i], last, b); ok {
			t.index = i
			out = append(out, t)
		}
	}
	return out
}

// otherShapes returns the indices of the tests that are plainly of another shape: the
// best of the probable curves, wherever it is put, is improbable beside a curve of the
// test's own.
func (b *belief) otherShapes() (others []int) {
	for _, t := range b.earlier {
		// The two directions in which a convex shape varies most, as in an F test.
		dof := b.noise.PriorWeight() + float64(len(t.stages)-2)
		of := distuv.F{D1: 2, D2: min(dof, 1e6)}
		if dof > 0 && t.closest(b) > 2*of.Quantile(1-otherShape) {
			others = append(others, t.index)
		}
	}
	return others
}

// otherShape is the probability with which a test of the same shape is left out,
// about. Ours.
const otherShape = 0.005

// newEarlier puts a test beside the last.
func newEarlier(stages, last []lactate.Stage, b *belief) (t earlier, ok bool) {
	t = earlier{stages: stages, scale: 1}
	var c curve.Convex
	if fit(&c, stages, b) != nil {
		return t, false
	}
	t.own = c.RSS()
	if w := b.noise.PriorWeight(); !math.IsInf(w, 1) {
		t.scale = max((w+t.own)/(w+float64(max(len(stages)-3, 1))), 1)
	}
	var xs, ys []float64
	groups := make([]int, 0, len(stages)+len(last))
	for g, of := range [2][]lactate.Stage{stages, last} {
		for _, s := range of {
			xs, ys, groups = append(xs, s.Intensity), append(ys, s.Lactate), append(groups, g)
		}
	}
	var joint curve.Shifted
	if joint.Fit(xs, ys, groups) == nil {
		t.shift = joint.Shifts[1]
	}
	return t, true
}

// fit fits convex shapes to a test.
func fit(c *curve.Convex, stages []lactate.Stage, b *belief) error {
	xs, ys, weights := make([]float64, len(stages)), make([]float64, len(stages)), make([]float64, len(stages))
	for i, s := range stages {
		sd := b.sd(s)
		xs[i], ys[i], weights[i] = s.Intensity, s.Lactate, 1/(sd*sd)
	}
	c.Weight = b.noise.Weight
	return c.FitWeighted(xs, ys, weights)
}

// worse returns by how much a curve fits the test worse than its own, at the place
// where it fits best: not the average over places counts. How far a place is known
// depends on the curve, which would add up over the tests (Neyman & Scott 1948, from
// memory).
func (t earlier) worse(c *curve.Convex, b *belief) float64 {
	shift := t.shift
	const steps = 5
	sum := 0.0
	for i := 0; ; i++ {
		var gradient, hessian float64
		sum = 0
		for _, s := range t.stages {
			sd := b.sd(s)
			r := (s.Lactate - c.Predict(s.Intensity+shift)) / sd
			d := c.PredictDerivative(s.Intensity+shift) / sd
			sum += r * r
			gradient += r * d
			hessian += d * d
		}
		if i == steps || !(hessian > 0) {
			return max(sum-t.own, 0) / t.scale
		}
		most := 0.05 * (b.hi - b.lo)
		shift += min(max(gradient/hessian, -most), most)
	}
}

// closest returns the least of worse over probable curves.
func (t earlier) closest(b *belief) float64 {
	least := t.worse(&b.curve, b)
	draw := new(curve.Convex)
	rng := b.stream()
	const tries = 300
	for i := range tries {
		b.curve.Draw(draw, (float64(i)+0.5)/tries, rng)
		least = min(least, t.worse(draw, b))
	}
	return least
}
