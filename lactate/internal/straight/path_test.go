package straight_test

import (
	"math"
	"testing"

	"example.com/steptest/lactate/internal/straight"
)

// D: between points the path is straight, at equal xs the mean, and beyond the ends nothing,
// or the last piece carried on.
func TestPath(t *testing.T) {
	p := straight.Through([]straight.Point{{4, 10}, {0, 0}, {2, 3}, {2, 5}})
	for _, c := range []struct{ x, at, along, slope float64 }{
		{-1, math.NaN(), -2, 2}, {0, 0, 0, 2}, {1, 2, 2, 2}, {2, 4, 4, 2}, {3, 7, 7, 3}, {4, 10, 10, 3}, {5, math.NaN(), 13, 3},
	} {
		at := p.At(c.x)
		along, slope := p.Along(c.x)
		if !(at == c.at || math.IsNaN(at) && math.IsNaN(c.at)) || along != c.along || slope != c.slope {
			t.Errorf("%v: at %v, along %v with slope %v, want %+v", c.x, at, along, slope, c)
		}
	}
	if at := (straight.Path{}).At(0); !math.IsNaN(at) {
		t.Errorf("no points: %v", at)
	}
}

// D: the worst inner point is left out, never an end, and only beyond the limit.
func TestLeaveOutWorst(t *testing.T) {
	for _, c := range []struct {
		ys   []float64
		odd  float64 // its x, −1 for none
		left int
	}{
		{[]float64{0, 1, 2, 3, 10, 5}, 4, 5},
		{[]float64{0, 7, 2, 3, 4, 5}, 1, 5},
		{[]float64{0, 1, 8, 3, 4, 5}, 2, 5},
		{[]float64{0, 1, 2, 3, 4, 9}, -1, 6},
		{[]float64{0, 6, 2, 3, 4, 5}, -1, 6}, // exactly the limit
		{[]float64{0, 9}, -1, 2},
	} {
		var points []straight.Point
		for i, y := range c.ys {
			points = append(points, straight.Point{X: float64(i), Y: y})
		}
		p := straight.Through(points)
		odd, ok := p.LeaveOutWorst(5)
		if ok != (c.odd >= 0) || ok && odd != (straight.Point{X: c.odd, Y: c.ys[int(c.odd)]}) || len(p.Xs) != c.left || len(p.Ys) != c.left {
			t.Errorf("%v: left out %v (%v), %v stay", c.ys, odd, ok, p.Xs)
		}
	}
}

// D: a rise is counted from the last of the lowest points, and only above it.
func TestRisen(t *testing.T) {
	for _, c := range []struct {
		ys []float64
		by float64
		at float64 // −1: nowhere
	}{
		{[]float64{3, 1, 2, 4}, 1.5, 2.25},
		{[]float64{1, 2, 1, 2}, 0.5, 2.5},
		{[]float64{1, 2, 4}, 1, 1}, // on a point
		{[]float64{1, 2, 4}, 3.5, -1},
		{[]float64{5, 4, 1}, 1, -1},
		{nil, 1, -1},
	} {
		var points []straight.Point
		for i, y := range c.ys {
			points = append(points, straight.Point{X: float64(i), Y: y})
		}
		if x, ok := straight.Through(points).Risen(c.by); ok != (c.at >= 0) || ok && x != c.at {
			t.Errorf("%v by %v: %v, %v", c.ys, c.by, x, ok)
		}
	}
}
