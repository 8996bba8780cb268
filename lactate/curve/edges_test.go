package curve_test

import (
	"errors"
	"math"
	"testing"

	"example.com/steptest/lactate/curve"
)

// D: as many different xs as a curve needs are enough. That one fewer is not, TestRegressionErrors says.
func TestJustEnoughPoints(t *testing.T) {
	// Two lines that meet at 1.5, three that meet at 1.5 and 3.5: as many
	// points as parameters, which the fit passes through.
	xs := []float64{0, 1, 2, 3, 4, 5}
	twoYs := []float64{0, 1, 4.5, 8.5, 12.5, 16.5} // slope 1, then 4 through (2, 4.5)
	threeYs := []float64{0, 1, 3, 6, 13, 22}
	var two curve.BrokenLine
	if err := two.Fit(xs[:4], twoYs[:4]); err != nil || !(two.RSS() <= 1e-20) {
		t.Errorf("two lines through four points: %v, RSS %v", err, two.RSS())
	}
	var three curve.ThreeLine
	if err := three.Fit(xs, threeYs); err != nil || !(three.RSS() <= 1e-20) {
		t.Errorf("three lines through six points: %v, RSS %v", err, three.RSS())
	}
}

// D: the highest degree is allowed.
func TestHighestDegree(t *testing.T) {
	var xs, ys []float64
	for i := range 40 {
		x := -1 + float64(i)/19.5
		xs, ys = append(xs, x), append(ys, math.Exp(x))
	}
	p := curve.Polynomial{Degree: 30}
	if err := p.Fit(xs, ys); err != nil || !(math.Abs(p.Predict(0.1)-math.Exp(0.1)) <= 1e-13) {
		t.Errorf("degree 30: %v, predicts %v", err, p.Predict(0.1))
	}
}

// D: tests that bend in opposite directions have no shift, and none is left.
func TestOppositeBends(t *testing.T) {
	var xs, ys []float64
	var groups []int
	for i := range 6 {
		x := 1.1 + 0.05*float64(i)
		e := math.Exp(14 * (x - 1.35))
		xs, ys, groups = append(xs, x, x), append(ys, 1+5*e, 1-3*e), append(groups, 0, 1)
	}
	s := curve.Shifted{Shifts: []float64{0, 1}}
	if err := s.Fit(xs, ys, groups); !errors.Is(err, curve.ErrUndetermined) || len(s.Shifts) != 0 {
		t.Errorf("%v, shifts %v", err, s.Shifts)
	}
}

// D: C·x of more than 700 at the steep end is more than exp can say, though the
// curve is within the range of numbers: an error, not an infinite prediction. So it
// is for a curve that falls, and for one of a rate below 1.
func TestExponentialBeyondExp(t *testing.T) {
	for _, c := range []struct {
		rate, steep float64
		want        error
	}{
		{6, 1, nil}, {6, 116.6, nil}, {6, 116.75, curve.ErrInput}, {6, 117, curve.ErrInput},
		{-6, -1, nil}, {-6, -116.6, nil}, {-6, -116.75, curve.ErrInput}, {-6, -117, curve.ErrInput},
		{0.5, 1399, nil}, {0.5, 1401, curve.ErrInput},
	} {
		var xs, ys []float64
		var groups []int
		for i := range 7 {
			u := float64(i) - 6 // exp(u) at the steep end is 1
			xs, ys, groups = append(xs, c.steep+u/c.rate), append(ys, 1e150*(1+7*math.Exp(u))), append(groups, 0)
		}
		var e curve.Exponential
		if err := e.Fit(xs, ys); !errors.Is(err, c.want) || err == nil && !(math.Abs(e.C-c.rate) <= 1e-6*math.Abs(c.rate)) {
			t.Errorf("%+v: %v, %v", c, err, &e)
		}
		var s curve.Shifted
		if err := s.Fit(xs, ys, groups); !errors.Is(err, c.want) {
			t.Errorf("%+v: %v, %v", c, err, &s)
		}
	}
}
