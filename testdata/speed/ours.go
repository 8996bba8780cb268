package main

import (
	"fmt"
	"math"
	"time"

	"example.com/steptest/lactate/curve"
	"gonum.org/v1/gonum/mat"
)

// A fit fits one set and returns the residual sum of squares.
type fit struct {
	program, work string
	of            func(k int) (rss float64, err error)
}

// ours adds the rows of this library and of gonum to the table.
func ours(t *table, all []set) error {
	for _, f := range fits(all) {
		for k := range all {
			rss, err := f.of(k)
			if err != nil {
				return fmt.Errorf("%s, %s, set %d: %w", f.program, f.work, k, err)
			}
			t.found(f.program, f.work, k, rss)
		}
		t.took(f.program, f.work, nanoseconds(f, len(all)))
	}
	return nil
}

func fits(all []set) []fit {
	const (
		again = "here; same intensities"
		anew  = "here; new intensities"
	)
	var e curve.Exponential
	var p curve.Polynomial
	var s curve.Shifted
	// The same points a little further along for every set, so that nothing
	// that was worked out for the last set serves the next.
	moved := make([][]float64, len(all))
	for k, set := range all {
		for _, x := range set.xs {
			moved[k] = append(moved[k], x+1e-6*float64(k))
		}
	}
	return []fit{
		{again, "exponential", func(k int) (float64, error) {
			err := e.Fit(all[k].first())
			return e.RSS(), err
		}},
		{anew, "exponential", func(k int) (float64, error) {
			err := e.Fit(moved[k][:stages], all[k].ys[:stages])
			return e.RSS(), err
		}},
		{again, "cubic", func(k int) (float64, error) {
			err := p.Fit(all[k].first())
			return p.RSS(), err
		}},
		{anew, "cubic", func(k int) (float64, error) {
			err := p.Fit(moved[k][:stages], all[k].ys[:stages])
			return p.RSS(), err
		}},
		{"gonum mat.QR", "cubic", gonumCubic(all)},
		{again, "shift", func(k int) (float64, error) {
			err := s.Fit(all[k].xs, all[k].ys, all[k].after)
			return s.RSS(), err
		}},
		{anew, "shift", func(k int) (float64, error) {
			err := s.Fit(moved[k], all[k].ys, all[k].after)
			return s.RSS(), err
		}},
	}
}

// gonumCubic solves the least-squares problem in powers of x by Householder
// reflections, with its memory made once.
func gonumCubic(all []set) func(k int) (float64, error) {
	const terms = 4
	x := mat.NewDense(stages, terms, nil)
	coef := mat.NewVecDense(terms, nil)
	var qr mat.QR
	return func(k int) (float64, error) {
		xs, ys := all[k].first()
		for i, v := range xs {
			x.SetRow(i, []float64{1, v, v * v, v * v * v})
		}
		qr.Factorize(x)
		y := mat.NewVecDense(stages, ys)
		if err := qr.SolveVecTo(coef, false, y); err != nil {
			return 0, err
		}
		rss := 0.0
		for i := range xs {
			r := ys[i] - mat.Dot(coef, x.RowView(i))
			rss += r * r
		}
		return rss, nil
	}
}

// nanoseconds returns the processor time that a fit takes: the best of many
// batches, as the other programs measure themselves.
func nanoseconds(f fit, sets int) float64 {
	const batches, enough = 15, 20 * time.Millisecond
	best := math.Inf(1)
	for range batches {
		begin, fits, took := clock(), 0, time.Duration(0)
		for took < enough {
			for k := range sets {
				f.of(k)
			}
			fits += sets
			took = clock() - begin
		}
		best = min(best, float64(took)/float64(fits))
	}
	return best
}
