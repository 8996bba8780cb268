package between_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/between"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// dense conditions the joint normal distribution of all unknowns on all observations: the
// average place of each of the days, first to last, then its day term, then the constants.
// Nothing is known of the first place.
func dense(t *testing.T, m *between.Model, tests []time.Time, dates []time.Time, offsets int, readings []between.Reading, obs []between.Observation) (mean *mat.VecDense, cov *mat.SymDense) {
	t.Helper()
	week, day, off := m.Variances()
	shifts, own, cross, components := m.Shape()
	n, g := len(dates), len(shifts)
	constants := 2 * n
	dim := constants + g + components + 1 + offsets
	prior := mat.NewSymDense(dim, nil)
	for i, a := range dates {
		for j, b := range dates[:i+1] {
			first := min(a.Sub(dates[0]), b.Sub(dates[0])).Hours() / 24 / 7
			prior.SetSym(i, j, 100+week*first)
		}
		prior.SetSym(n+i, n+i, day)
	}
	for i := range g {
		for j := range i + 1 {
			prior.SetSym(constants+i, constants+j, own.At(i, j))
		}
		for j := range components {
			prior.SetSym(constants+g+j, constants+i, cross.At(i, j))
		}
	}
	for j := range components {
		prior.SetSym(constants+g+j, constants+g+j, 1)
	}
	for k := range 1 + offsets { // half is common to all kinds
		prior.SetSym(constants+g+components+k, constants+g+components+k, off/2)
	}
	on := func(d time.Time) int {
		return slices.IndexFunc(dates, func(e time.Time) bool { return e.Equal(d) })
	}
	total := len(tests) + len(obs)
	h, y, noise := mat.NewDense(total, dim, nil), mat.NewVecDense(total, nil), make([]float64, total)
	for i, d := range tests {
		h.Set(i, on(d), 1)
		h.Set(i, n+on(d), 1)
		if i > 0 {
			h.Set(i, constants+i-1, -1)
			y.SetVec(i, shifts[i-1])
		}
	}
	for i, o := range obs {
		row := len(tests) + i
		for k, at := range o.At {
			switch at {
			case 0:
				at = on(readings[i].Date)
			case 1:
				at = n + on(readings[i].Date)
			default:
				at += constants - 2
			}
			h.Set(row, at, o.Times[k])
		}
		y.SetVec(row, o.Value)
		noise[row] = o.Noise
	}
	var hp, s mat.Dense
	hp.Mul(h, prior)
	s.Mul(&hp, h.T())
	sym := mat.NewSymDense(total, nil)
	for i := range total {
		for j := range i + 1 {
			sym.SetSym(i, j, s.At(i, j))
		}
		sym.SetSym(i, i, s.At(i, i)+noise[i])
	}
	var chol mat.Cholesky
	if !chol.Factorize(sym) {
		t.Fatal("the observations do not have a covariance")
	}
	var w mat.VecDense
	if err := chol.SolveVecTo(&w, y); err != nil {
		t.Fatal(err)
	}
	mean = new(mat.VecDense)
	mean.MulVec(hp.T(), &w)
	var solved, less mat.Dense
	if err := chol.SolveTo(&solved, &hp); err != nil {
		t.Fatal(err)
	}
	less.Mul(hp.T(), &solved)
	cov = mat.NewSymDense(dim, nil)
	for i := range dim {
		for j := range i + 1 {
			cov.SetSym(i, j, prior.At(i, j)-less.At(i, j))
		}
	}
	return mean, cov
}

// compare holds every day and every kind against the dense answer.
func compare(t *testing.T, m *between.Model, tests []time.Time, readings []between.Reading, idle []time.Time, tol float64) {
	t.Helper()
	c, err := m.Known().Follow(readings)
	if err != nil {
		t.Fatal(err)
	}
	dates := append(slices.Clone(tests), idle...)
	offsets := 0
	for _, r := range readings {
		dates = append(dates, r.Date)
	}
	for _, k := range c.Kinds {
		if k.Readings > 1 {
			offsets++
		}
	}
	slices.SortFunc(dates, time.Time.Compare)
	dates = slices.CompactFunc(dates, time.Time.Equal)
	var ordered []between.Reading
	for _, r := range c.Readings {
		ordered = append(ordered, r.Reading)
	}
	mean, cov := dense(t, m, tests, dates, offsets, ordered, c.Linearised())
	half := distuv.UnitNormal.Quantile(0.5 + c.Confidence/2)
	for i, d := range dates {
		p := c.At(d).Shift
		near(t, fmt.Sprint("place ", d), p.Value, mean.AtVec(i), tol)
		near(t, fmt.Sprint("standard deviation ", d), (p.High-p.Low)/2/half, math.Sqrt(cov.At(i, i)), tol)
	}
	at := cov.SymmetricDim() - offsets
	for _, k := range c.Kinds {
		if k.Readings < 2 {
			continue
		}
		common := cov.SymmetricDim() - offsets - 1
		near(t, k.Kind, k.Offset.Value, mean.AtVec(common)+mean.AtVec(at), 20*tol)
		sd := math.Sqrt(cov.At(common, common) + 2*cov.At(common, at) + cov.At(at, at))
		near(t, k.Kind+" standard deviation", (k.Offset.High-k.Offset.Low)/2/half, sd, 20*tol)
		at++
	}
}

var monday = time.Date(2025, 1, 6, 0, 0, 0, 0, time.UTC)

func on(day int) time.Time { return monday.AddDate(0, 0, day) }

// Kind D: if the curve is straight, the answer is that of the normal distribution of all
// unknowns: days with several readings, days of a test and readings, kinds, a kind of
// one, an unknown kind, readings before the first test, days without any.
func TestDenseStraight(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 20))
	for round := range 20 {
		tests := []time.Time{on(10), on(60), on(110)}
		shifts := []float64{0.02 * rng.NormFloat64(), 0.02 * rng.NormFloat64()}
		a, b, r := 0.004+0.006*rng.Float64(), 0.004+0.006*rng.Float64(), rng.Float64()-0.5
		cov := mat.NewSymDense(2, []float64{a * a, r * a * b, r * a * b, b * b})
		m := between.Straight(tests, shifts, cov, 4, 10+20*rng.Float64(), 0.005, 0.01, 0.5, lactate.Noise{Absolute: 0.25})
		m.Bend([][2]float64{{0.1, 0}, {0.05, 0}}, mat.NewDense(2, 2, []float64{0.3 * a, 0.1 * a, -0.2 * b, 0.4 * b}))
		var readings []between.Reading
		for range 25 {
			kind := []string{"a", "b", "c", ""}[rng.IntN(4)]
			readings = append(readings, between.Reading{Date: on(rng.IntN(140)), Intensity: 0.05 * rng.NormFloat64(), Lactate: 4 + rng.NormFloat64(), Kind: kind})
		}
		for i := range readings {
			readings[i].Intensity = math.Abs(readings[i].Intensity) + 1e-3
			readings[i].Lactate = math.Abs(readings[i].Lactate) + 0.1
		}
		readings = append(readings, between.Reading{Date: on(60), Intensity: 0.02, Lactate: 4.4, Kind: "once"})
		compare(t, m, tests, readings, []time.Time{on(33), on(150)}, 1e-7)
		if t.Failed() {
			t.Fatalf("round %d", round)
		}
	}
}

// Kind D: on a curve that bends, the answer is that of the same distribution with the
// readings linearised about it; one more round of it changes nothing.
func TestDenseBent(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 20))
	s := swimmer{exponential, 0.005, normalOffsets(0.4), 3, 0}
	tests, readings, eve, _ := s.simulate(rng)
	m, err := between.New(tests, between.Options{})
	if err != nil {
		t.Fatal(err)
	}
	var dates []time.Time
	for _, d := range tests {
		dates = append(dates, d.Date)
	}
	compare(t, m, dates, readings, []time.Time{eve.AddDate(0, 0, -70), eve.AddDate(0, 0, 20)}, 1e-6)
}
