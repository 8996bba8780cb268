package between

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/curve"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
)

const (
	shiftDraws = 64 // of the shifts of all tests, together
	curveDraws = 4  // of the curve, for each of them
	nodes      = 121
	// kept is the share of the variance of the curve that its principal components hold.
	kept          = 0.998
	maxComponents = 6
)

// shape is the curve at the place of the first test, as the tests know it:
//
//	F(u) = mean(u) + Σ z[j]·component[j](u)
//
// with z[j] of mean zero and variance one.
type shape struct {
	low, high, step float64
	mean            []float64   // values and slopes by turns, at the nodes
	component       [][]float64 // the same
	shifts          []float64   // of tests 1, 2, …
	cov             *mat.SymDense
	cross           *mat.Dense // covariance of shifts and z
	scale2          float64    // mean square of the scale of the noise
	// The threshold of the curve: place, gradient in z, and the variance that is left.
	lt2     float64
	lt2by   []float64
	lt2left float64
}

// spot is a place on the tables of a shape: by the cubic of Hermite between two nodes, and
// straight beyond them.
type spot struct {
	k            int
	value, slope [4]float64 // weights of the two nodes' values and slopes
}

func (s *shape) spot(u float64) spot {
	t := (u - s.low) / s.step
	k := max(0, min(int(t), nodes-2))
	t -= float64(k)
	h := s.step
	switch {
	case t < 0:
		return spot{k, [4]float64{1, t * h, 0, 0}, [4]float64{0, 1, 0, 0}}
	case t > 1:
		return spot{k, [4]float64{0, 0, 1, (t - 1) * h}, [4]float64{0, 0, 0, 1}}
	}
	v := 1 - t
	return spot{k,
		[4]float64{v * v * (1 + 2*t), h * t * v * v, t * t * (3 - 2*t), -h * t * t * v},
		[4]float64{-6 * t * v / h, v * (1 - 3*t), 6 * t * v / h, t * (3*t - 2)}}
}

// on returns value and slope of a table.
func (p *spot) on(table []float64) (value, slope float64) {
	y := table[2*p.k : 2*p.k+4]
	return p.value[0]*y[0] + p.value[1]*y[1] + p.value[2]*y[2] + p.value[3]*y[3],
		p.slope[0]*y[0] + p.slope[1]*y[1] + p.slope[2]*y[2] + p.slope[3]*y[3]
}

// newShape draws from the joint posterior of shifts and curve.
func newShape(tests []lactate.DatedTest, o lactate.Options) (*shape, error) {
	p := gather(tests, o.Noise)
	n := len(tests) - 1
	var joint curve.ConvexShifted
	joint.Weight = o.Noise.Weight
	s := &shape{shifts: make([]float64, n)}
	if n > 0 {
		if err := joint.FitWeighted(p.xs, p.ys, p.weights, p.groups); err != nil {
			return nil, fmt.Errorf("between: %w", err)
		}
		s.cov = new(mat.SymDense)
		joint.Covariance(s.cov)
		for g := range n {
			s.shifts[g] = joint.Shift(g + 1).Mean()
		}
	}
	s.low, s.high = math.Inf(1), math.Inf(-1)
	us := make([]float64, len(p.xs))
	p.aligned(us, s.shifts)
	for _, u := range us {
		s.low, s.high = min(s.low, u), max(s.high, u)
	}
	s.step = (s.high - s.low) / (nodes - 1)

	const draws = shiftDraws * curveDraws
	rng := rand.New(rand.NewPCG(1, 20))
	shifts := mat.NewDense(draws, max(n, 1), nil)
	tables := mat.NewDense(draws, 2*nodes, nil)
	lt2 := make([]float64, draws)
	var fitted, drawn curve.Convex
	fitted.Weight = o.Noise.Weight
	at := make([]float64, n)
	order := rng.Perm(draws)
	squares := 0.0
	for i := range shiftDraws {
		if n > 0 {
			joint.Draw(at, (float64(i)+0.5)/shiftDraws)
		}
		aligned := p.aligned(us, at)
		if err := fitted.FitWeighted(us, p.ys, p.weights); err != nil {
			return nil, fmt.Errorf("between: %w", err)
		}
		for j := range curveDraws {
			row := i*curveDraws + j
			scale := fitted.Draw(&drawn, (float64(order[row])+0.5)/draws, rng)
			squares += scale * scale
			if n > 0 {
				shifts.SetRow(row, at)
			}
			s.tabulate(&drawn, tables.RawRowView(row))
			v, err := o.LT2.Locate(aligned, &drawn)
			if err != nil {
				v = math.NaN()
			}
			lt2[row] = v
		}
	}
	s.scale2 = squares / draws
	return s, s.reduce(shifts, tables, lt2)
}

// tabulate writes the values and slopes of a curve at the nodes.
func (s *shape) tabulate(c *curve.Convex, table []float64) {
	for k := range nodes {
		u := s.low + float64(k)*s.step
		table[2*k], table[2*k+1] = c.Predict(u), c.PredictDerivative(u)
	}
}

// reduce finds the principal components of the draws, by the values at the nodes, and what
// they have to do with the shifts and the threshold.
func (s *shape) reduce(shifts, tables *mat.Dense, lt2 []float64) error {
	draws, _ := tables.Dims()
	s.mean = make([]float64, 2*nodes)
	for i := range draws {
		for k, v := range tables.RawRowView(i) {
			s.mean[k] += v / float64(draws)
		}
	}
	values := mat.NewDense(draws, nodes, nil)
	for i := range draws {
		for k := range nodes {
			values.Set(i, k, tables.At(i, 2*k)-s.mean[2*k])
		}
	}
	var svd mat.SVD
	if !svd.Factorize(values, mat.SVDThin) {
		return errors.New("between: the draws of the curve have no principal components")
	}
	singular := svd.Values(nil)
	total := 0.0
	for _, v := range singular {
		total += v * v
	}
	var left mat.Dense
	svd.UTo(&left)
	scores := make([][]float64, 0, maxComponents)
	sum := 0.0
	for j, v := range singular {
		if j == maxComponents || sum > kept*total || !(v > 0) {
			break
		}
		sum += v * v
		z := make([]float64, draws)
		for i := range z {
			z[i] = left.At(i, j) * math.Sqrt(float64(draws))
		}
		component := make([]float64, 2*nodes)
		for i := range draws {
			for k, t := range tables.RawRowView(i) {
				component[k] += z[i] * (t - s.mean[k]) / float64(draws)
			}
		}
		scores, s.component = append(scores, z), append(s.component, component)
	}
	s.tie(shifts, scores)
	s.threshold(lt2, scores)
	return nil
}

// tie finds the covariance of shifts and scores. Their correlation is that of the draws, the
// standard deviations and correlations of the shifts are those of the posterior, of which
// the draws are but a sample.
func (s *shape) tie(shifts *mat.Dense, scores [][]float64) {
	n := len(s.shifts)
	if n == 0 {
		return
	}
	var own mat.SymDense
	stat.CovarianceMatrix(&own, shifts, nil)
	cross := mat.NewDense(n, len(scores), nil)
	for g := range n {
		column := mat.Col(nil, g, shifts)
		for j, z := range scores {
			cross.Set(g, j, stat.Covariance(column, z, nil))
		}
	}
	var inner, outer mat.Cholesky
	s.cross = mat.NewDense(n, len(scores), nil)
	if !inner.Factorize(&own) || !outer.Factorize(s.cov) {
		return // shifts that the draws do not tell apart from one another
	}
	var l, posterior mat.TriDense
	inner.LTo(&l)
	outer.LTo(&posterior)
	var whitened mat.Dense
	if err := whitened.Solve(&l, cross); err != nil {
		return
	}
	s.cross.Mul(&posterior, &whitened)
}

// threshold finds how the place of LT2 follows the scores.
func (s *shape) threshold(lt2 []float64, scores [][]float64) {
	var ok []int
	for i, v := range lt2 {
		if !math.IsNaN(v) {
			ok = append(ok, i)
		}
	}
	s.lt2by = make([]float64, len(scores))
	if 2*len(ok) < len(lt2) {
		s.lt2 = math.NaN()
		return
	}
	for _, i := range ok {
		s.lt2 += lt2[i] / float64(len(ok))
	}
	for j, z := range scores {
		for _, i := range ok {
			s.lt2by[j] += (lt2[i] - s.lt2) * z[i] / float64(len(ok))
		}
	}
	for _, i := range ok {
		d := lt2[i] - s.lt2
		for j, z := range scores {
			d -= s.lt2by[j] * z[i]
		}
		s.lt2left += d * d / float64(len(ok))
	}
}
